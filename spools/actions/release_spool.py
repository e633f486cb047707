"""Release a reading: its spool, pieces and joints are made and the clock starts."""

from dataclasses import asdict
from datetime import datetime
from typing import Any

from geometry.build import ChainRequest, SpoolAnswer
from geometry.overall import overall
from geometry.tables import PipeRow, pipe
from geometry.tables.zinc import coating
from geometry.weights import zinc_kg
from spools.actions.scrap_spool import supersede_spool
from spools.errors import ShopError, invalid, not_found, not_your_role
from spools.flow.roles import Role, say_roles
from spools.flow.routes import SPOOL, Route, RoutePiece
from spools.flow.steps import BY_CODE
from spools.ledger import News, append
from spools.models import Joint, Person, Piece, Reading, Spool
from spools.shop_calendar import calendar_of, promise_of
from spools.solving import ENGINE, Judged
from spools.stored_readings import judge_stored
from spools.stored_solutions import stored_solution
from spools.transactions import all_or_nothing, fingerprint, part_key
from spools.turnaround.promise import due_at

WHO = frozenset({Role.FOREMAN})
MADE_BY = ("bend_kind", "bend_options", "end_a", "end_b", "end_options")


@all_or_nothing
def release_spool(
    *, reading_id: int, person: Person, key: str, at: datetime, reason: str, instead: bool = False
) -> Spool:
    """Release a reading that the rules didn't: a named person says so, and why.

    ``instead`` ends the build of an older reading that is still live: measured again after cutting began.
    Raises ``ShopError``: not_your_role, invalid, not_found, not_newest, still_live, not_buildable.
    """
    if not person.may(WHO):
        raise not_your_role("Release a reading", say_roles(WHO))
    if not reason.strip():
        raise invalid({"reason": "Say why it may be built although it doesn't close."}, "A reason is missing.")
    reading = (
        Reading.objects.for_person(person)
        .select_related("tie_in__job__shop", "set_points__jig")
        .filter(id=reading_id)
        .first()
    )
    if reading is None:
        raise not_found("reading of that number")
    done = Spool.objects.filter(reading=reading, live=True).first()
    if done:
        return done
    if reading.tie_in.current_reading_id != reading.id:
        raise ShopError("not_newest", "A newer reading of this tie-in is here.", "Release the newest one.")
    live = Spool.objects.filter(tie_in=reading.tie_in, live=True).first()
    if live and not instead:
        raise ShopError(
            "still_live",
            f"{live.label} is still being built from an older reading.",
            "Say that this reading is built instead, or let the old build go on.",
        )
    judged = judge_stored(reading)
    if not judged.buildable:
        raise ShopError(
            "not_buildable", judged.trouble or "It can't be built.", "Change the make-up or measure again.", status=422
        )
    reason = reason.strip()
    if live:
        words = f"reading {reading.letter} is built instead: {reason}"[:300]
        supersede_spool(spool_id=live.id, person=person, key=part_key(key, "superseded"), at=at, reason=words)
    return release_judged(reading=reading, judged=judged, person=person, key=key, at=at, reason=reason, replaces=live)


def release_judged(
    *,
    reading: Reading,
    judged: Judged,
    person: Person,
    key: str,
    at: datetime,
    reason: str = "",
    replaces: Spool | None = None,
) -> Spool:
    """Make the spool of a judged reading, within the caller's transaction. A replacement inherits its clock start."""
    request, answer = judged.request, judged.answer
    if request is None or answer is None or not answer.buildable:
        raise ShopError("not_buildable", "It can't be built.", "Change the make-up or measure again.", status=422)
    tie_in = reading.tie_in
    before = replaces or Spool.objects.filter(tie_in=tie_in).order_by("-build").first()
    start = before.clock_start_at if before else (at if reason else reading.received_at)
    shop = tie_in.job.shop
    route = route_of(answer, coating=tie_in.job.coating)
    row = pipe(tie_in.nps, tie_in.schedule)
    spool = Spool(
        shop=shop,
        tie_in=tie_in,
        reading=reading,
        build=(before.build if before else 0) + 1,
        replaces=before,
        nps=tie_in.nps,
        schedule=tie_in.schedule,
        bend_kind=request.bends[0].kind if isinstance(request, ChainRequest) else tie_in.bend_kind,
        turn_deg=answer.turn_deg,
        leg_a_mm=answer.legs_mm[0],
        leg_b_mm=answer.legs_mm[-1],
        take_off_mm=answer.take_off_mm,
        check_mm=answer.check_mm,
        check_tolerance_mm=tie_in.job.closing_tolerance_mm,
        black_kg=answer.mass_black_kg,
        zinc_kg=zinc_on(answer, row) if route.coating else 0.0,
        box_mm=overall(answer, row).box_mm if isinstance(request, ChainRequest) else None,
        route=route.as_stored(),
        solution=stored_solution(request, answer),
        engine=ENGINE,
        inputs_hash=fingerprint(asdict_of(reading), *(getattr(tie_in, name) for name in MADE_BY)),
        clock_start_at=start,
        due_at=before.due_at if before else due_at(start, calendar=calendar_of(shop), rule=promise_of(shop)),
    )
    spool.save(force_insert=True)
    _write_pieces(spool, answer, tie_in.material)
    append(
        spool,
        News(
            code="measured",
            person=person,
            key=key,
            fingerprint=fingerprint("measured", reading.id),
            at=at,
            targets=(SPOOL,),
            reason=reason,
            details={"reading": reading.id},
        ),
    )
    return spool


def zinc_on(answer: SpoolAnswer, row: PipeRow) -> float:
    """Return the zinc that the galvanizer adds at least, in kg."""
    length_mm = sum(piece.cut_length_mm for piece in answer.pieces)
    return zinc_kg(row, length_mm=length_mm, coating_um=coating(thickness_mm=row.wall_mm).minimum_um)


def route_of(answer: SpoolAnswer, *, coating: bool) -> Route:
    """Return the steps that a solved spool needs."""
    pieces = tuple(
        RoutePiece(
            mark=piece.mark,
            sawn=piece.kind in {"pipe", "bent_pipe"} or any("cut" in end.operations for end in piece.ends),
            ends=tuple(
                (number, operation)
                for number, end in enumerate(piece.ends, start=1)
                for operation in end.operations
                if operation != "cut" and operation in BY_CODE
            ),
        )
        for piece in answer.pieces
    )
    return Route(pieces=pieces, welds=len(answer.joints), coating=coating)


def asdict_of(reading: Reading) -> dict[str, Any]:
    """Return the numbers a solution was made from."""
    names = ("leg_a_mm", "leg_b_mm", "included_deg", "measured_to_a", "measured_to_b")
    return {name: getattr(reading, name) for name in (*names, *(["line"] if reading.line else []))}


def _write_pieces(spool: Spool, answer: SpoolAnswer, material: str) -> None:
    rows = [
        Piece(
            spool=spool,
            mark=piece.mark,
            kind=piece.kind,
            nps=piece.nps,
            schedule=piece.schedule,
            material=material,
            exact_cut_mm=piece.cut_length_mm,
            cut_mm=piece.rounded_cut_mm,
            stock_mm=piece.rounded_cut_mm + piece.stock_length_mm - piece.cut_length_mm
            if piece.stock_length_mm
            else 0.0,
            ends=[asdict(end) for end in piece.ends],
            marks=[asdict(mark) for mark in piece.marks],
            kg=piece.mass_kg,
            sawn=piece.kind in {"pipe", "bent_pipe"},
        )
        for piece in answer.pieces
    ]
    by_mark = {row.mark: row for row in Piece.objects.bulk_create(rows)}
    Joint.objects.bulk_create(
        Joint(
            spool=spool,
            number=joint.number,
            kind=joint.kind,
            piece_1=by_mark[joint.pieces[0]],
            piece_2=by_mark[joint.pieces[1]],
            gap_mm=joint.gap_mm,
        )
        for joint in answer.joints
    )
