"""Add a jig with its set points, or follow them with a newer version; a version is never edited."""

from dataclasses import asdict, dataclass
from datetime import datetime

from django.db.models import Max

from spools.errors import invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import Jig, Person, SetPoints
from spools.transactions import all_or_nothing

WHO = frozenset({Role.FOREMAN, Role.MANAGER})
LONGEST_MM = 304.8 * 2  # a set point further from the face than this is a slip of the unit


@dataclass(frozen=True, slots=True, kw_only=True)
class JigConstants:
    """What turns a jig's readings into legs and an included angle."""

    set_point_a_mm: float
    set_point_b_mm: float
    usual_burn: str
    included_offset_deg: float
    included_min_deg: float
    included_max_deg: float
    leg_min_mm: float
    leg_max_mm: float


@all_or_nothing
def add_jig(*, by: Person, serial: str, constants: JigConstants, at: datetime) -> SetPoints:
    """Add a jig. Raises ``ShopError``: not_your_role, invalid."""
    _allowed(by)
    serial = serial.strip()
    if not serial:
        raise invalid({"serial": "Write the serial number that is stamped on it."})
    if Jig.objects.filter(shop_id=by.the_shop_id, serial__iexact=serial).exists():
        raise invalid({"serial": "There is a jig of that serial number already."})
    _sound(constants)
    jig = Jig.objects.create(shop_id=by.the_shop_id, serial=serial)
    return SetPoints.objects.create(jig=jig, version=1, valid_from=at, **asdict(constants))


@all_or_nothing
def follow_set_points(*, by: Person, jig_id: int, constants: JigConstants, at: datetime) -> SetPoints:
    """Follow a jig's set points with a new version, valid from now; readings keep the version they were taken with.

    Raises ``ShopError``: not_your_role, not_found, invalid (also where nothing would change).
    """
    _allowed(by)
    jig = Jig.objects.select_for_update(of=("self",)).filter(id=jig_id, shop_id=by.the_shop_id).first()
    if jig is None:
        raise not_found("jig of that number")
    _sound(constants)
    newest = SetPoints.objects.filter(jig=jig).order_by("-version").first()
    if newest and all(getattr(newest, name) == value for name, value in asdict(constants).items()):
        raise invalid({"set_point_a": "Nothing is different from the version before."}, "Nothing has changed.")
    number = SetPoints.objects.filter(jig=jig).aggregate(n=Max("version"))["n"] or 0
    return SetPoints.objects.create(jig=jig, version=number + 1, valid_from=at, **asdict(constants))


def _allowed(by: Person) -> None:
    if not by.may(WHO):
        raise not_your_role("Jigs", say_roles(WHO))


def _sound(constants: JigConstants) -> None:
    trouble = {}
    for name in ("set_point_a", "set_point_b"):
        if not 0 <= getattr(constants, f"{name}_mm") <= LONGEST_MM:
            trouble[name] = "From the jig's face to the pivot center: between 0 and 24 in."
    if not -5 <= constants.included_offset_deg <= 5:
        trouble["included_offset"] = "A protractor further off than 5 degrees is to be mended, not corrected."
    if not 0 < constants.included_min_deg < constants.included_max_deg <= 180:
        trouble["included_min"] = "The smallest included angle lies under the largest, both between 0 and 180 degrees."
    if not 0 < constants.leg_min_mm < constants.leg_max_mm:
        trouble["leg_min"] = "The shortest leg is shorter than the longest."
    if trouble:
        raise invalid(trouble)
