"""Keep the mill's certificate with its heat; an older one is replaced by name, never overwritten."""

from datetime import datetime

from django.core.files import File

from cutlists.queries.stock import one_heat
from spools.errors import not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Heat, Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.CUTTER, Role.FOREMAN, Role.MANAGER})


@all_or_nothing
def keep_certificate(*, heat_id: int, file: "File[bytes]", person: Person, at: datetime) -> Heat:
    """Attach a certificate to a heat. Raises ``ShopError``: not_your_role, not_found."""
    if not person.may(WHO):
        raise not_your_role("Keep a certificate", say_roles(WHO))
    heat = one_heat(heat_id, person)
    ending = (file.name or "").rpartition(".")[2]
    heat.certificate.save(f"heat-{heat.id}-{at:%Y%m%d%H%M%S}.{ending}", file, save=False)
    heat.save(update_fields=["certificate"])
    return heat
