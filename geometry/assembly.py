"""Put a whole spool together: pieces and welds in order from end A, and the walk along them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import radians, tan

from geometry.bends import Made, Part
from geometry.centerline import Step
from geometry.lengths import round_to, round_together
from geometry.pieces import Joint, Mark, Piece, PieceEnd
from geometry.stretches import Frameup, Stretch

CUT_TO_LENGTH = ("pipe", "bent_pipe")


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """Pieces and joints in order from end A, and the walk along them, exact and with the rounded cut lengths."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    steps: tuple[Step, ...]
    rounded_steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """A run of pipe or a part of a bend, with its mark and the number of its bend (that at its end, for a run)."""

    mark: str
    bend: int
    stretch: Stretch | None = None
    part: Part | None = None


@dataclass(frozen=True, slots=True)
class _Weld:
    """What lies between two laid pieces: the gap along the pipe on each side, and the turn at the weld itself."""

    bend: int
    before_mm: float
    after_mm: float
    turn_deg: float


def assemble(frame: Frameup, runs: tuple[Stretch, ...]) -> Assembly:
    """Put the spool together, from end A to end B; ``runs`` are its stretches of pipe.

    Every weld between pipe and fitting costs its gap once, every miter half on each side; fitting to fitting shares
    one gap. Pieces are rounded together, so that their sum stays within half a graduation.
    """
    laid = tuple(_laid(frame, runs))
    welds = tuple(_weld(frame, laid[index], laid[index + 1]) for index in range(len(laid) - 1))
    pieces = _rounded(tuple(_piece(frame, item, number) for number, item in enumerate(laid)), frame)
    steps = tuple(_steps(frame, laid, welds))
    return Assembly(
        pieces=pieces,
        joints=tuple(
            Joint(
                number=index + 1,
                kind="miter" if weld.turn_deg else "butt",
                pieces=(laid[index].mark, laid[index + 1].mark),
                gap_mm=frame.gap_mm,
                turn_deg=weld.turn_deg,
            )
            for index, weld in enumerate(welds)
        ),
        steps=steps,
        rounded_steps=_rounded_steps(steps, pieces),
    )


def _laid(frame: Frameup, runs: tuple[Stretch, ...]) -> Iterator[_Laid]:
    """Yield runs and parts in order, each with the mark that goes on the steel."""
    by_leg = {run.first_leg: run for run in runs}
    elbows = sum(part.kind == "elbow" for made in frame.makes for part in made.parts)
    elbow, middle = 0, 0
    for leg in range(len(frame.legs_mm)):
        if leg in by_leg:
            yield _Laid(by_leg[leg].mark, by_leg[leg].last_leg, stretch=by_leg[leg])
        for part in frame.makes[leg].parts if leg < len(frame.makes) else ():
            if part.kind == "elbow":
                elbow += 1
                yield _Laid("E" if elbows == 1 else f"E{elbow}", leg, part=part)
            else:
                middle += 1
                yield _Laid(f"M{middle}", leg, part=part)


def _weld(frame: Frameup, first: _Laid, second: _Laid) -> _Weld:
    """Return the weld between two pieces that follow each other; it belongs to the bend of the first."""
    made = frame.makes[first.bend]
    if first.part and second.part and first.bend != second.bend:
        return _Weld(first.bend, frame.gap_mm, 0.0, 0.0)  # fitting to fitting: one gap, not two
    if made.weld_turn_deg:
        return _Weld(first.bend, made.leg_gap_mm, made.leg_gap_mm, made.weld_turn_deg)
    return _Weld(first.bend, made.leg_gap_mm, 0.0, 0.0)


def _piece(frame: Frameup, item: _Laid, number: int) -> Piece:
    """Make the piece of a laid item; ``number`` counts from 0, so weld ``number`` is before it."""
    if item.part is not None:
        return _part_piece(frame, item.mark, item.part, number)
    if item.stretch is None:
        raise AssertionError("a laid piece is a run of pipe or a part of a bend")
    return _run_piece(frame, item.stretch, number)


def _run_piece(frame: Frameup, run: Stretch, number: int) -> Piece:
    pipe = frame.pipe
    length_mm = sum(run.straights_mm) + sum(_arc_mm(made) for made in run.arcs)
    slants_mm = [tan(radians(cut)) * pipe.od_mm / 2.0 for cut in run.cuts_deg]
    first = PieceEnd(f"weld {number}", frame.weld_prep, run.cuts_deg[0], frame.weld_operations)
    if run.first_leg == 0:
        first = PieceEnd("end A", frame.end_a.prep, 0.0, frame.end_a.operations)
    second = PieceEnd(f"weld {number + 1}", frame.weld_prep, run.cuts_deg[1], frame.weld_operations, run.roll_deg)
    if run.last_leg == len(frame.makes):
        second = PieceEnd("end B", frame.end_b.prep, 0.0, frame.end_b.operations)
    return Piece(
        mark=run.mark,
        kind="bent_pipe" if run.arcs else "pipe",
        nps=pipe.nps,
        schedule=pipe.schedule,
        cut_length_mm=length_mm,
        rounded_cut_mm=length_mm,
        ends=(first, second),
        mass_kg=pipe.kg_per_m * length_mm / 1000.0,
        marks=_bend_marks(frame, run) if run.arcs else _slant_marks(run, pipe.od_mm),
        stock_length_mm=length_mm + sum(slants_mm),
        turn_deg=run.arcs[0].arc.degrees if run.arcs and run.arcs[0].arc else 0.0,
        bend_radius_mm=run.arcs[0].arc.radius_mm if run.arcs and run.arcs[0].arc else 0.0,
    )


def _part_piece(frame: Frameup, mark: str, part: Part, number: int) -> Piece:
    pipe, cut = frame.pipe, part.cut_angle_deg
    is_pipe = part.kind == "pipe"
    operations = frame.weld_operations if is_pipe or part.trimmed else ()
    return Piece(
        mark=mark,
        kind=part.kind,
        nps=pipe.nps,
        schedule=pipe.schedule,
        cut_length_mm=part.length_mm,
        rounded_cut_mm=part.length_mm,
        ends=(
            PieceEnd(f"weld {number}", frame.weld_prep, cut, operations if is_pipe else ()),
            PieceEnd(f"weld {number + 1}", frame.weld_prep, cut, operations),
        ),
        mass_kg=pipe.kg_per_m * part.length_mm / 1000.0,
        marks=part.marks,
        stock_length_mm=part.length_mm + pipe.od_mm * tan(radians(cut)) if is_pipe else 0.0,
        made_from=part.made_from,
        turn_deg=part.turn_deg,
        bend_radius_mm=part.bend_radius_mm,
        center_to_end_mm=part.center_to_end_mm,
    )


def _bend_marks(frame: Frameup, run: Stretch) -> tuple[Mark, ...]:
    """Return where every bend starts and ends on bent pipe, from the cut end nearest end A, its turn and its roll."""
    at_mm, marks = run.straights_mm[0], []
    for index, (made, straight_mm) in enumerate(zip(run.arcs, run.straights_mm[1:], strict=True)):
        marks += [Mark("bend_start", at_mm), Mark("bend_end", at_mm + _arc_mm(made))]
        marks += [Mark("turn", made.arc.degrees if made.arc else 0.0, "deg")]
        if index:
            marks += [Mark("roll", frame.twists_deg[run.first_leg + index - 1], "deg")]
        at_mm += _arc_mm(made) + straight_mm
    return tuple(marks)


def _slant_marks(run: Stretch, od_mm: float) -> tuple[Mark, ...]:
    """Return throat, center and heel of a run with slanted cuts, and the cut-back of the steeper one."""
    if not any(run.cuts_deg):
        return ()
    center_mm = run.straights_mm[0]
    reach_mm = center_mm - run.run.throat_mm(od_mm)
    cut_back_mm = od_mm * tan(radians(max(run.cuts_deg)))
    return (
        Mark("throat", center_mm - reach_mm),
        Mark("center", center_mm),
        Mark("heel", center_mm + reach_mm),
        Mark("cut_back", cut_back_mm),
    )


def _arc_mm(made: Made) -> float:
    return made.arc.radius_mm * radians(made.arc.degrees) if made.arc else 0.0


def _rounded(pieces: tuple[Piece, ...], frame: Frameup) -> tuple[Piece, ...]:
    """Round what the saw cuts all together, and each elbow's arc by itself."""
    cut = [piece.cut_length_mm for piece in pieces if piece.kind in CUT_TO_LENGTH]
    together = iter(round_together(cut, frame.graduation))
    return tuple(
        replace(
            piece,
            rounded_cut_mm=next(together)
            if piece.kind in CUT_TO_LENGTH
            else round_to(piece.cut_length_mm, frame.graduation),
        )
        for piece in pieces
    )


def _steps(frame: Frameup, laid: tuple[_Laid, ...], welds: tuple[_Weld, ...]) -> Iterator[Step]:
    """Yield the walk: from the finished end A over pieces, gaps, bends and twists to the finished end B."""
    twists = dict(enumerate(frame.twists_deg, start=1))
    if frame.end_a.beyond_mm:
        yield Step("gap", frame.end_a.beyond_mm)
    for index, item in enumerate(laid):
        yield from _run_steps(item, twists) if item.stretch else _part_steps(item, twists)
        if index < len(welds):
            yield from _weld_steps(welds[index], twists)
    if frame.end_b.beyond_mm:
        yield Step("gap", frame.end_b.beyond_mm)


def _run_steps(item: _Laid, twists: dict[int, float]) -> Iterator[Step]:
    run = item.stretch
    if run is None:
        return
    yield Step("pipe", run.straights_mm[0], piece=item.mark)
    for index, made in enumerate(run.arcs):
        yield from _twist_steps(run.first_leg + index, twists)
        if made.arc is not None:
            yield replace(made.arc, piece=item.mark)
        yield Step("pipe", run.straights_mm[index + 1], piece=item.mark)


def _part_steps(item: _Laid, twists: dict[int, float]) -> Iterator[Step]:
    part = item.part
    if part is None:
        return
    if part.kind == "pipe":
        yield Step("pipe", part.length_mm, piece=item.mark)
        return
    yield from _twist_steps(item.bend, twists)
    yield Step("arc", degrees=part.turn_deg, radius_mm=part.length_mm / radians(part.turn_deg), piece=item.mark)


def _weld_steps(weld: _Weld, twists: dict[int, float]) -> Iterator[Step]:
    if weld.before_mm or not weld.turn_deg:
        yield Step("gap", weld.before_mm)
    if weld.turn_deg:
        yield from _twist_steps(weld.bend, twists)
        yield Step("kink", degrees=weld.turn_deg)
    if weld.after_mm:
        yield Step("gap", weld.after_mm)


def _twist_steps(bend: int, twists: dict[int, float]) -> Iterator[Step]:
    """Yield the roll before a bend, once."""
    twist = twists.pop(bend, 0.0)
    if twist:
        yield Step("twist", degrees=twist)


def _rounded_steps(steps: tuple[Step, ...], pieces: tuple[Piece, ...]) -> tuple[Step, ...]:
    """Return the walk with the rounded cut lengths; what bent pipe gains or loses falls on its last straight."""
    gains = {p.mark: p.rounded_cut_mm - p.cut_length_mm for p in pieces if p.kind in CUT_TO_LENGTH}
    walked = []
    for step in reversed(steps):
        gain_mm = gains.pop(step.piece, 0.0) if step.kind == "pipe" else 0.0
        walked.append(replace(step, length_mm=step.length_mm + gain_mm) if gain_mm else step)
    return tuple(reversed(walked))
