"""One JSON object to a tie-in or a whole spool to build."""

from dataclasses import dataclass
from typing import Any

from geometry.bends import BendChoice
from geometry.cautions import line_not_isolated
from geometry.centerline import CenterlineError, CenterlineRequest
from geometry.findings import Finding, caution, has_errors, warning
from geometry.jig import Jig, JigError, JigLegs, SideReading, legs_of
from geometry.lengths import GRADUATIONS, SIXTEENTH, Graduation, graduation
from geometry.request.choices import asked_bend, asked_end, asked_pipe
from geometry.request.fields import MM_PER_UNIT, Fields, RequestError
from geometry.spool import KERF_MM, BuildRequest, ChainRequest, SpoolRequest
from geometry.tables import ROOT_GAP_MM

LABELS = ("mark", "job", "station", "hand", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReadings:
    """The check measures D and E, where they were taken, in mm."""

    d_mm: float | None = None
    e_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TieIn:
    """A tie-in as asked: both sides of the jig, the legs they make, the check measures, and what to build."""

    a: SideReading
    b: SideReading
    legs: JigLegs
    checks: CheckReadings
    spool: SpoolRequest
    findings: tuple[Finding, ...]

    @property
    def readable(self) -> bool:
        """Whether legs and included angle are inside what the jig can read."""
        return not has_errors(self.legs.findings)


def open_request(values: dict[str, Any]) -> Fields:
    """Return the fields of a whole request, with its units settled.

    Raises:
        RequestError: the units are none of in, ft, mm, m.

    """
    fields = Fields(values)
    fields.units = fields.one_of("units", tuple(MM_PER_UNIT), "in")
    for label in LABELS:
        fields.has(label)
    return fields


def tie_in(fields: Fields) -> TieIn:
    """Return the tie-in of a request with jig readings.

    Raises:
        RequestError: a field is missing, of another type, or names what doesn't exist.

    """
    readings = fields.part("readings")
    a, b = _side(readings, "a"), _side(readings, "b")
    legs = legs_of(a, b, included_deg=readings.degrees("included_angle"), jig=_jig(fields))
    spool, findings = spool_on_legs(
        fields,
        leg_a_mm=legs.leg_a_mm,
        leg_b_mm=legs.leg_b_mm,
        included_deg=legs.included_deg,
        closing_mm=readings.length_or_none("closing"),
    )
    return TieIn(
        a=a,
        b=b,
        legs=legs,
        checks=CheckReadings(d_mm=readings.length_or_none("d"), e_mm=readings.length_or_none("e")),
        spool=spool,
        findings=findings,
    )


def spool_on_legs(
    fields: Fields, *, leg_a_mm: float, leg_b_mm: float, included_deg: float, closing_mm: float | None = None
) -> tuple[SpoolRequest, tuple[Finding, ...]]:
    """Return what to build on given legs and included angle, with what must be said of the request.

    Raises:
        RequestError: a field is missing or wrong.

    """
    common, found = _common(fields, closing_mm=closing_mm)
    spool = SpoolRequest(
        **common.shared(),
        leg_a_mm=leg_a_mm,
        leg_b_mm=leg_b_mm,
        included_deg=included_deg,
        bend=asked_bend(fields.part("bend")),
    )
    return spool, found


def chain(fields: Fields) -> tuple[ChainRequest, tuple[Finding, ...]]:
    """Return the whole spool of a request with a center line: ``legs``, ``turns``, ``twists`` and ``bends``.

    Raises:
        RequestError: a field is missing or wrong, or the counts don't make a center line.

    """
    line = fields.part("line")
    try:
        center_line = CenterlineRequest(
            line.lengths_mm("legs"), line.degrees_list("turns"), _twists(line, len(line.items("legs")))
        )
    except CenterlineError as refused:
        raise RequestError(f"line: {refused}") from refused
    return chain_on(fields, center_line, closing_mm=line.length_or_none("closing"))


def asked_bends(fields: Fields, count: int) -> tuple[BendChoice, ...]:
    """Return the make-up of every turn: ``bends`` name each, one ``bend`` serves them all.

    Raises:
        RequestError: a field is wrong.

    """
    if fields.has("bends"):
        return tuple(asked_bend(one) for one in fields.parts("bends"))
    return (asked_bend(fields.part("bend")),) * count


def chain_on(
    fields: Fields,
    line: CenterlineRequest,
    *,
    closing_mm: float | None = None,
    bends: tuple[BendChoice, ...] | None = None,
) -> tuple[ChainRequest, tuple[Finding, ...]]:
    """Return the whole spool on a given center line, with the request's own make-ups unless ``bends`` are given.

    Raises:
        RequestError: a field is missing or wrong.

    """
    common, found = _common(fields, closing_mm=closing_mm)
    request = ChainRequest(
        **common.shared(), line=line, bends=asked_bends(fields, len(line.turns_deg)) if bends is None else bends
    )
    return request, found


def unread_keys(fields: Fields) -> tuple[Finding, ...]:
    """Warn of keys that nothing asked for: a misspelled key is a reading that nobody uses."""
    return tuple(
        caution("key_not_read", f'"{key}" is no key of this request and was not read: check its spelling.')
        for key in fields.unread()
    )


def _common(fields: Fields, *, closing_mm: float | None) -> tuple[BuildRequest, tuple[Finding, ...]]:
    ends = fields.part("ends")
    gap_mm = fields.length_or_none("root_gap")
    found = []
    if gap_mm is None:
        found.append(warning("root_gap_default", 'No root gap was given, 3/32" is taken: the WPS governs.'))
    if fields.has("line_live"):
        found += line_not_isolated(line_live=fields.flag("line_live"))
    kerf_mm = fields.length_or_none("kerf")
    common = BuildRequest(
        pipe=asked_pipe(fields),
        end_a=asked_end(ends.part("a")),
        end_b=asked_end(ends.part("b")),
        root_gap_mm=ROOT_GAP_MM if gap_mm is None else gap_mm,
        graduation=asked_graduation(fields),
        closing_mm=closing_mm,
        misclosure_accepted=fields.flag("misclosure_accepted"),
        material=fields.text("material", "carbon steel"),
        kerf_mm=KERF_MM if kerf_mm is None else kerf_mm,
    )
    return common, tuple(found)


def asked_graduation(fields: Fields) -> Graduation:
    """Return the graduation asked for, 1/16 where nothing is said.

    Raises:
        RequestError: none of those there are.

    """
    return graduation(fields.one_of("graduation", tuple(known.code for known in GRADUATIONS), SIXTEENTH.code))


def _side(readings: Fields, side: str) -> SideReading:
    """Return one side of the jig; its own burn and set point go before the shared ones."""
    burn_mm = _own_or_shared(readings, "burn", side)
    set_point_mm = _own_or_shared(readings, "set_point", side)
    if (burn_mm is None) != (set_point_mm is None):
        missing = "set_point" if set_point_mm is None else "burn"
        raise readings.wrong(missing, f"is missing for side {side.upper()}: give burn and set_point, or neither")
    return SideReading(
        reading_mm=readings.length_mm(f"leg_{side}"), burn_mm=burn_mm or 0.0, set_point_mm=set_point_mm or 0.0
    )


def _own_or_shared(readings: Fields, name: str, side: str) -> float | None:
    own = readings.length_or_none(f"{name}_{side}")
    shared = readings.length_or_none(name)
    return shared if own is None else own


def _jig(fields: Fields) -> Jig:
    asked = fields.part("jig")
    try:
        return Jig(
            least_included_deg=asked.number("least_included", 60.0),
            most_included_deg=asked.number("most_included", 180.0),
            least_leg_mm=asked.length_or_none("least_leg"),
            most_leg_mm=asked.length_or_none("most_leg"),
        )
    except JigError as refused:
        raise RequestError(f"jig: {refused}") from refused


def _twists(line: Fields, legs: int) -> tuple[float, ...]:
    """Return the twists; without any, every bend turns the same way."""
    if not line.has("twists"):
        return (0.0,) * max(legs - 2, 0)
    return tuple(Fields({"twist": value}, where="line.twists").number("twist", 0.0) for value in line.items("twists"))
