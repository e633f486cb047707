"""Receive bars into the stock room, each with its heat."""

from datetime import datetime

from cutlists.models import StockBar, StockEvent
from cutlists.stockroom import next_tags, sub_key
from cutlists.units import to_units_down
from geometry.tables import UnknownPipe, pipe
from spools.errors import invalid, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Heat, Person
from spools.transactions import all_or_nothing

WHO = frozenset({Role.CUTTER, Role.FOREMAN})
MOST = 500


@all_or_nothing
def receive_bars(
    *,
    nps: str,
    schedule: str,
    material: str,
    lengths_mm: list[float],
    nominal_mm: float,
    heat: str,
    person: Person,
    key: str,
    at: datetime,
    rack: str = "",
) -> list[StockBar]:
    """Book bars in, one row each; the same key again gives the same bars.

    ``nominal_mm`` is what each was bought as (a single, a double); 0 marks drops from elsewhere.
    Raises ``ShopError``: not_your_role, invalid.
    """
    if not person.may(WHO):
        raise not_your_role("Receive bars", say_roles(WHO))
    _complain(nps, schedule, material, lengths_mm, nominal_mm)
    tags = next_tags(person.the_shop_id, len(lengths_mm), drop=nominal_mm == 0)  # locks the shop: a repeat waits here
    first = StockEvent.objects.filter(key=sub_key(key, 1), bar__shop_id=person.the_shop_id).first()
    if first:
        return _bars_of(key, first)
    melt = heat_of(heat, material, person)
    bars = StockBar.objects.bulk_create(
        StockBar(
            shop_id=person.the_shop_id,
            tag=tag,
            nps=nps,
            schedule=schedule,
            material=material.strip(),
            heat=melt,
            is_drop=nominal_mm == 0,
            nominal_u=to_units_down(nominal_mm),
            received_u=to_units_down(length_mm),
            length_u=to_units_down(length_mm),
            last_number=1,
            rack=rack.strip()[:12],
        )
        for tag, length_mm in zip(tags, lengths_mm, strict=True)
    )
    StockEvent.objects.bulk_create(
        StockEvent(
            bar=bar,
            number=1,
            kind=StockEvent.Kind.RECEIVED,
            length_u=bar.length_u,
            person=person,
            at=at,
            key=sub_key(key, number),
            details={"of": len(bars)},
        )
        for number, bar in enumerate(bars, start=1)
    )
    return bars


def _complain(nps: str, schedule: str, material: str, lengths_mm: list[float], nominal_mm: float) -> None:
    try:
        pipe(nps, schedule)
    except UnknownPipe as refusal:
        raise invalid({"nps": str(refusal)}) from refusal
    if not material.strip():
        raise invalid({"material": "Write what it is, such as A53 B."})
    if not lengths_mm or min(lengths_mm) <= 0:
        raise invalid({"lengths": "Write each bar's length, such as 21' 0-1/2\"."})
    if len(lengths_mm) > MOST:
        raise invalid({"lengths": f"Receive at most {MOST} bars at once; send the rest after."})
    if nominal_mm < 0:
        raise invalid({"nominal": "Write what each was bought as, such as 21', or nothing for drops."})


def _bars_of(key: str, first: StockEvent) -> list[StockBar]:
    """Return the bars that this key has received already, in their order."""
    keys = [sub_key(key, number) for number in range(1, first.details["of"] + 1)]
    found = {event.key: event.bar for event in StockEvent.objects.filter(key__in=keys).select_related("bar")}
    return [found[one] for one in keys]


def heat_of(number: str, material: str, person: Person) -> Heat | None:
    """Return the heat of a number read off a stencil, new if need be; None for nothing. Raises ``ShopError``."""
    number = number.strip().upper()
    if not number:
        return None
    if len(number) > 30:
        raise invalid({"heat": "A heat number has at most 30 signs."})
    found, _ = Heat.objects.get_or_create(
        shop_id=person.the_shop_id, number=number, defaults={"material": material.strip()}
    )
    other = found.bars.exclude(material=material.strip()).first()
    if other:
        raise invalid({"heat": f"Heat {number} came as {other.material} before (bar {other}): look at the stencil."})
    return found
