"""Write down what the truck scale said: of the load as it went out, or of what the count says came back."""

from datetime import datetime

from geometry.weights import KG_PER_LB
from spools.actions.load_lines import open_load
from spools.errors import invalid
from spools.models import Load, Person, Weighing
from spools.transactions import all_or_nothing

MOST_KG = 60_000.0


@all_or_nothing
def weigh_load(
    *, load_id: int, way: str, net_kg: float, person: Person, key: str, at: datetime, scale_kg: float | None = None
) -> Weighing:
    """Keep one net weight with the spools it is of; a weight back is of those counted back and not weighed before.

    Raises ``ShopError``: not_your_role, not_found, invalid.
    """
    load = open_load(load_id, person, Load.Kind.COATING)
    earlier = Weighing.objects.filter(key=key, load=load).first()
    if earlier:
        return earlier
    if way not in Weighing.Way.values:
        raise invalid({"way": "Say whether it is the weight out or the weight back."})
    spools = _spools(load, way)
    if not spools:
        raise invalid({"net": "Count first: nothing is counted back since the last weight."}, "Nothing to weigh.")
    if not 0 < net_kg < MOST_KG:
        raise invalid({"net": "Type the net weight: loaded truck less empty truck."}, "That can't be the net weight.")
    scale = load.shop.scale_lb * KG_PER_LB if scale_kg is None else scale_kg
    return Weighing.objects.create(
        load=load, way=way, net_kg=net_kg, scale_kg=scale, spools=spools, person=person, at=at, key=key
    )


def _spools(load: Load, way: str) -> list[int]:
    before = {spool for row in load.weighings.filter(way=way) for spool in row.spools}
    lines = load.lines.exclude(left_at=None)
    if way == Weighing.Way.BACK:
        lines = lines.filter(settled="back")
    found = list(lines.order_by("spool_id").values_list("spool_id", flat=True))
    return [spool for spool in found if spool not in before] if way == Weighing.Way.BACK else found
