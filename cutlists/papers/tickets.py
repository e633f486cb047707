"""Cut tickets of spools."""

from collections.abc import Iterator, Sequence

from django.db.models import Prefetch

from cutlists.models import Cut
from cutlists.papers.heading import Printing, shop_clock, spool_code, spool_heading
from cutlists.papers.kept import kept_drawing
from cutlists.papers.words import end_of, piece_cautions, piece_words, schedule_words
from cutlists.sheets.frame import A4, LABEL_4X6, LABELS, LETTER, Paper
from cutlists.sheets.ticket_label import LABEL_SKETCH_HEIGHT_MM, LABEL_SKETCH_WIDTH_MM
from cutlists.sheets.ticket_page import SKETCH_HEIGHT_MM, SKETCH_WIDTH_MM
from cutlists.sheets.ticket_values import NamedLength, Ticket
from cutlists.units import to_mm
from geometry.drawing.from_build import spool_drawing
from geometry.drawing.shapes import Drawing
from geometry.drawing.spool_view import spool_view
from geometry.tables import pipe
from spools.models import Person, Piece, Spool
from spools.stored_solutions import Solution, read_solution

_SKETCHES = {
    LETTER.code: ("ticket", SKETCH_WIDTH_MM, SKETCH_HEIGHT_MM),
    A4.code: ("ticket", SKETCH_WIDTH_MM, SKETCH_HEIGHT_MM),
    LABEL_4X6.code: ("ticket-4x6", LABEL_SKETCH_WIDTH_MM, LABEL_SKETCH_HEIGHT_MM),
}
SADDLE = "saddle"
PART = 20  # spools held in memory at a time; a part is drawn well within a lease


def spools_to_print(spool_ids: Sequence[int], person: Person) -> Iterator[Spool]:
    """Yield the person's spools in the order asked for, with what their papers show, some at a time."""
    planned = Cut.objects.exclude(state=Cut.State.WITHDRAWN).select_related("bar__heat").order_by("-id")
    cuts = Prefetch("pieces__cuts", planned)
    for start in range(0, len(spool_ids), PART):
        part = list(spool_ids[start : start + PART])
        found = {
            spool.id: spool
            for spool in Spool.objects.for_person(person)
            .filter(id__in=part)
            .select_related(
                "shop", "bench", "tie_in__job", "tie_in__main", "reading__taken_by", "reading__set_points__jig"
            )
            .prefetch_related("pieces__heat", "joints__piece_1", "joints__piece_2", cuts, "kept_drawings")
        }
        yield from (found[spool_id] for spool_id in part if spool_id in found)


def tickets_of(spool: Spool, printing: Printing, *, paper: Paper = LETTER) -> tuple[Ticket, ...]:
    """Return one ticket for each piece that the saw or the bench makes, its sketch drawn for the paper."""
    solution = read_solution(spool.solution)
    sketch = _sketch(spool, solution, paper)
    pieces = list(spool.pieces.all())
    return tuple(
        _ticket(spool, piece, number, len(pieces), solution=solution, sketch=sketch, printing=printing)
        for number, piece in enumerate(pieces, start=1)
    )


def _sketch(spool: Spool, solution: Solution, paper: Paper) -> Drawing | None:
    if paper.code not in _SKETCHES:
        return None
    kind, width_mm, height_mm = _SKETCHES[paper.code]

    def draw() -> Drawing:
        described = spool_drawing(solution.request, solution.answer, mark=spool.label, hand=spool.reading.the_hand)
        return spool_view(described, width_mm=width_mm, height_mm=height_mm, lean=paper in LABELS)

    return kept_drawing(spool, kind, size_mm=(width_mm, height_mm), draw=draw)


def _ticket(
    spool: Spool,
    piece: Piece,
    number: int,
    count: int,
    *,
    solution: Solution,
    sketch: Drawing | None,
    printing: Printing,
) -> Ticket:
    cut = next(iter(piece.cuts.all()), None)
    heat = piece.heat.number if piece.heat else (cut.bar.heat.number if cut and cut.bar.heat else "")
    return Ticket(
        heading=spool_heading(printing, spool),
        mark=spool.label,
        piece=piece.mark,
        piece_number=number,
        piece_count=count,
        kind=piece.kind,
        kind_words=piece_words(piece),
        length_mm=piece.cut_mm or 0.0,
        length_label=_length_label(piece),
        end_1=end_of(piece, piece.ends[0]),
        end_2=end_of(piece, piece.ends[-1]),
        nps=piece.nps,
        schedule=schedule_words(piece.schedule),
        wall_mm=pipe(piece.nps, piece.schedule).wall_mm,
        code=spool_code(spool, piece.mark),
        material=piece.material,
        heat=heat,
        bar=cut.bar.tag if cut else "",
        position=f"cut {cut.order}" if cut else "",
        tape_mm=to_mm(cut.position_u + cut.length_u) if cut else None,
        bench=spool.bench.name if spool.bench else "",
        due=shop_clock(spool.due_at, spool.shop),
        operations=tuple(dict.fromkeys(op for end in piece.ends for op in end["operations"])),
        marks=tuple(
            NamedLength(mark["name"].replace("_", " "), mark["value_mm"])
            for mark in piece.marks
            if mark["unit"] == "mm"
        ),
        sketch=sketch,
        cautions=piece_cautions(spool, piece, solution),
    )


def _length_label(piece: Piece) -> str:
    """Say along which line of the piece its length runs."""
    if not piece.sawn:
        return "along the center"
    if any(end["cut_angle_deg"] for end in piece.ends):
        return "cut on the center line"
    if any(end["prep"] == SADDLE for end in piece.ends):
        return "cut to the longest tip"
    return "cut length"
