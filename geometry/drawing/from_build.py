"""From a built spool to the description of its drawing."""

from geometry.build import SpoolAnswer, SpoolRequest, chain_of
from geometry.centerline import CenterlineError
from geometry.drawing.description import DrawingError, DrawnEnd, DrawnPiece, Hand, SpoolDrawing
from geometry.ends import EndChoice, end_prep
from geometry.ends.base import REFERENCE_WORDS
from geometry.pieces import Piece
from geometry.spool import ChainRequest

_WORDS = {
    "plain": "plain, cut square",
    "beveled": "beveled",
    "grooved": "roll grooved",
    "flanged_slip_on": "slip-on flange",
    "flanged_weld_neck": "weld-neck flange",
    "threaded": "threaded",
    "saddle": "saddle",
}


def spool_drawing(
    request: SpoolRequest | ChainRequest,
    answer: SpoolAnswer,
    *,
    mark: str,
    hand: Hand = "",
    main_end: str = "A",
) -> SpoolDrawing:
    """Return what to draw of a spool that was built.

    Args:
        request: what was asked.
        answer: what was built of it; it must be buildable.
        mark: the spool's mark.
        hand: which way the first turn goes, seen from the main with the up mark on top; empty if not recorded.
        main_end: ``A`` or ``B``, the end that goes to the main; empty for neither.

    Raises:
        DrawingError: the answer holds no pieces.
    """
    if not answer.buildable:
        raise DrawingError(f"Spool {mark} can't be built as it stands: mend what its findings say, then draw it.")
    try:
        chain = chain_of(request) if isinstance(request, SpoolRequest) else request
    except CenterlineError as refused:
        raise DrawingError(str(refused)) from refused
    return SpoolDrawing(
        mark=mark,
        pipe_words=chain.pipe.name.replace("SCH ", "Sch "),
        od_mm=chain.pipe.od_mm,
        wall_mm=chain.pipe.wall_mm,
        line=chain.line,
        steps=answer.steps,
        pieces=tuple(_piece(piece) for piece in answer.pieces),
        end_a=_end(chain, chain.end_a, to_main=main_end == "A"),
        end_b=_end(chain, chain.end_b, to_main=main_end == "B"),
        check_mm=answer.check_mm,
        welds=tuple(joint.number for joint in answer.joints),
        root_gap_mm=chain.root_gap_mm,
        hand=hand,
        graduation=chain.graduation,
    )


def _piece(piece: Piece) -> DrawnPiece:
    """Say what the ticket says: a fitting has no cut length, a slanted cut is measured on the center line."""
    cut_mm = piece.rounded_cut_mm if piece.kind in {"pipe", "bent_pipe"} else 0.0
    slanted = any(end.cut_angle_deg for end in piece.ends)
    return DrawnPiece(mark=piece.mark, kind=piece.kind, cut_mm=cut_mm, on_center=slanted)


def _end(chain: ChainRequest, choice: EndChoice, *, to_main: bool) -> DrawnEnd:
    effect = end_prep(choice.prep).effect(chain.pipe, choice)
    beyond = effect.deduction_mm if choice.prep == "saddle" else effect.beyond_pipe_mm
    words = _WORDS.get(choice.prep, end_prep(choice.prep).word)
    measured = "" if choice.measured_to == "pipe_end" else f"leg to {REFERENCE_WORDS[choice.measured_to]}"
    return DrawnEnd(
        prep=choice.prep,
        words=words,
        reference=measured,
        takes_mm=effect.deduction_mm,
        beyond_mm=beyond,
        to_main=to_main,
    )
