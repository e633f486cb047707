"""Keep a reading, and release its spool at once when it closes."""

from dataclasses import asdict, dataclass
from datetime import datetime

from django.db.models import Max

from geometry.findings import Finding, warning
from geometry.tables.odd_sizes import say_pipe
from spools.actions.settle_reading import settle
from spools.errors import ShopError, key_reused, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.models import JigCheck, Person, Reading, SetPoints, Spool, TieIn
from spools.second_reading import compare
from spools.solving import Judged, Typed, Understood, judge, understand
from spools.stored_readings import legs_of_reading, legs_of_understood
from spools.stored_solutions import read_finding, stored_finding
from spools.tie_in_stamp import tie_in_stamp
from spools.transactions import all_or_nothing, fingerprint

WHO = frozenset({Role.FIELD, Role.FOREMAN})


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What whoever measured had seen of the tie-in, so that nothing they didn't know of is passed over.

    ``revision`` is the newest reading they knew (0: none; None: not said), ``stamp`` what they knew of its pipe and
    ends. ``as_second``: measured on their own to compare with the reading that is there, not to replace it.
    """

    revision: int | None = None
    stamp: str = ""
    as_second: bool = False


NOTHING_SEEN = Seen()


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """Who brought a reading, under which key, when."""

    person: Person
    key: str
    mark: str
    at: datetime
    taken_at: datetime | None
    second_of: Reading | None


@dataclass(frozen=True, slots=True)
class Taken:
    """The answer: the reading, what was found, and the spool where one was released."""

    reading: Reading
    findings: tuple[Finding, ...]
    spool: Spool | None
    repeated: bool = False


@all_or_nothing
def take_reading(
    *,
    tie_in_id: int,
    set_points_id: int,
    typed: Typed,
    person: Person,
    key: str,
    at: datetime,
    taken_at: datetime | None = None,
    keep_anyway: bool = False,
    again: bool = False,
    seen: Seen = NOTHING_SEEN,
) -> Taken:
    """Keep one reading of a tie-in.

    A reading that doesn't close or can't be built is refused with its findings; ``keep_anyway`` keeps it for the
    foreman to sort out, without a spool. ``again`` says that a tie-in read before was measured again on purpose;
    ``seen`` what the measurer knew of it. A reading with a jig that was out of check is kept as doubtful, never built.
    Raises ``ShopError``: not_found, not_your_role, invalid, measured_before, tie_in_changed, does_not_close,
    jig_locked, key_reused.
    """
    if not person.may(WHO):
        raise not_your_role("Take a reading", say_roles(WHO))
    mark = fingerprint("reading", tie_in_id, set_points_id, asdict(typed))
    tie_in = TieIn.objects.select_for_update(of=("self",)).for_person(person).filter(id=tie_in_id).first()
    if tie_in is None:
        raise not_found("tie-in of that mark")
    earlier = Reading.objects.filter(key=key).first()
    if earlier:
        return _repeat(earlier, mark, tie_in)
    _ask_if_changed(tie_in, again=again, seen=seen)
    set_points = _set_points(set_points_id, person, keep_anyway=keep_anyway)
    ends = (typed.measured_to_a or tie_in.measured_to_a, typed.measured_to_b or tie_in.measured_to_b)
    understood = understand(typed, units=tie_in.job.units, set_points=set_points)
    judged = judge(tie_in, understood, set_points=set_points, ends=ends)
    judged = judged.with_findings(*_doubts(set_points, taken_at or at))
    first = tie_in.current_reading if seen.as_second else None
    if first and not first.line:
        judged = judged.with_findings(_compared(first, understood))
    _ask_if_open(judged, keep_anyway=keep_anyway)
    arrival = Arrival(person=person, key=key, mark=mark, at=at, taken_at=taken_at, second_of=first)
    reading = _write(tie_in, set_points, typed, understood, judged, ends, arrival)
    return Taken(reading, judged.findings, settle(tie_in, reading, judged, person=person, key=key, at=at))


def _repeat(earlier: Reading, mark: str, tie_in: TieIn) -> Taken:
    if earlier.fingerprint != mark:
        raise key_reused()
    spool = Spool.objects.filter(reading=earlier, live=True).first()
    findings = tuple(read_finding(finding) for finding in earlier.findings)  # as it was answered the first time
    return Taken(earlier, findings, spool, repeated=True)


def _set_points(set_points_id: int, person: Person, *, keep_anyway: bool) -> SetPoints:
    found = SetPoints.objects.select_related("jig").filter(id=set_points_id, jig__shop_id=person.the_shop_id).first()
    if found is None:
        raise not_found("jig of that number")
    if found.jig.locked_reason and not keep_anyway:
        raise ShopError("jig_locked", f"Jig {found.jig} is locked: {found.jig.locked_reason}.", "Take another jig.")
    return found


def _doubts(set_points: SetPoints, taken_at: datetime) -> tuple[Finding, ...]:
    """Return the finding on a reading whose jig was out of check: at the check after it, or at the one before."""
    checks = JigCheck.objects.filter(jig_id=set_points.jig_id)
    after = checks.filter(at__gte=taken_at).order_by("at").first()
    check = after or checks.filter(at__lt=taken_at).order_by("-at").first()
    if check is None or check.passed:
        return ()
    text = (
        f"Doubtful: jig {set_points.jig} was out of check, {check.length_off_mm / 25.4:+.3f} in and "
        f"{check.included_off_deg:+.2f} degrees. Measure it again with a jig that is good."
    )
    return (warning("jig_out_of_check", text),)


def _compared(first: Reading, understood: Understood) -> Finding:
    return compare(
        legs_of_reading(first),
        legs_of_understood(understood),
        first_letter=first.letter,
        first_by=first.taken_by.short_name,
    )


def _ask_if_changed(tie_in: TieIn, *, again: bool, seen: Seen) -> None:
    """Ask where the tie-in or its readings are not as whoever measured knew them."""
    stamp = tie_in_stamp(tie_in, tie_in.job.units)
    if seen.stamp and seen.stamp != stamp:
        now = f"{say_pipe(tie_in.nps, tie_in.schedule)}, {tie_in.end_a} at the main, {tie_in.end_b} at the drain"
        raise ShopError(
            "tie_in_changed",
            f"{tie_in.mark} is not as it was when it was measured. It is now {now}.",
            "Is the reading still right for it? Then send it so.",
            facts={"stamp": stamp, "nps": tie_in.nps, "schedule": tie_in.schedule},
        )
    before = tie_in.current_reading
    if before is None:
        return
    newest = tie_in.readings.aggregate(newest=Max("revision"))["newest"]
    known = seen.revision is None or seen.revision == newest
    if (again or seen.as_second) and known:
        return
    local = before.received_at.astimezone(tie_in.job.shop.zone)
    raise ShopError(
        "measured_before",
        f"{tie_in.mark} was measured by {before.taken_by.short_name}, {local:%a %d %b %H:%M}.",
        "Same place measured again? Then send it as a new revision. Different place? Then choose its own mark.",
        facts={"revision": newest, "letter": before.letter, "by": before.taken_by.short_name},
    )


def _ask_if_open(judged: Judged, *, keep_anyway: bool) -> None:
    if judged.closes or keep_anyway:
        return
    facts = {"findings": [stored_finding(f) for f in judged.findings]}
    worst = judged.findings[0].text if judged.findings else "It doesn't close."
    raise ShopError(
        "does_not_close", worst, "Measure again, or keep it for the foreman to sort out.", status=422, facts=facts
    )


def _write(
    tie_in: TieIn,
    set_points: SetPoints,
    typed: Typed,
    understood: Understood,
    judged: Judged,
    ends: tuple[str, str],
    arrival: Arrival,
) -> Reading:
    usual = set_points.usual_burn
    revision = (tie_in.readings.aggregate(newest=Max("revision"))["newest"] or 0) + 1
    reading = Reading(
        tie_in=tie_in,
        revision=revision,
        key=arrival.key,
        fingerprint=arrival.mark,
        set_points=set_points,
        leg_a_text=typed.leg_a,
        leg_b_text=typed.leg_b,
        included_text=typed.included,
        burn_a_text=typed.burn_a or usual,
        burn_b_text=typed.burn_b or usual,
        closing_text=typed.closing,
        d_text=typed.d,
        e_text=typed.e,
        leg_a_mm=understood.leg_a_mm,
        leg_b_mm=understood.leg_b_mm,
        included_deg=understood.included_deg,
        closing_mm=understood.closing_mm,
        d_mm=understood.d_mm,
        e_mm=understood.e_mm,
        line=understood.line.as_stored() if understood.line else None,
        measured_to_a=ends[0],
        measured_to_b=ends[1],
        hand=typed.hand,
        up_mark=typed.up_mark,
        note=typed.note,
        closes=judged.closes,
        second_of=arrival.second_of,
        findings=[stored_finding(f) for f in judged.findings],
        taken_by=arrival.person,
        taken_at=min(arrival.taken_at or arrival.at, arrival.at),
        received_at=arrival.at,
    )
    reading.save(force_insert=True)
    return reading
