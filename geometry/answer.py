"""Answers as plain values for JSON: the command line's way out."""

from dataclasses import asdict, is_dataclass
from typing import Any

from geometry.findings import Finding
from geometry.lengths import Graduation, format_length
from geometry.overall import Overall
from geometry.piece_wraps import PieceWrap
from geometry.pieces import Joint, Mark, Piece, PieceEnd
from geometry.proposals import Proposals
from geometry.spool import SpoolAnswer


def spool_values(answer: SpoolAnswer, *, graduation: Graduation) -> dict[str, Any]:
    """Return an answer's values. ``legs_mm`` names two legs ``a`` and ``b``; of more legs it is a list."""
    legs = answer.legs_mm
    return {
        "buildable": answer.buildable,
        "legs_mm": {"a": legs[0], "b": legs[1]} if len(legs) == 2 else list(legs),
        "turn_deg": answer.turn_deg,
        "turns_deg": list(answer.turns_deg),
        "twists_deg": list(answer.twists_deg),
        "take_off_mm": answer.take_off_mm,
        "take_offs_mm": list(answer.take_offs_mm),
        "pieces": [piece_values(piece, graduation=graduation) for piece in answer.pieces],
        "joints": [_joint(joint) for joint in answer.joints],
        "marks": [_mark(mark, graduation) for mark in answer.marks],
        "check_mm": answer.check_mm or None,
        "check": format_length(answer.check_mm, graduation=graduation) if answer.check_mm else None,
        "rounded_check_mm": answer.rounded_check_mm or None,
        "closing_computed_mm": answer.closing_mm or None,
        "mass_black_kg": answer.mass_black_kg or None,
    }


def piece_values(piece: Piece, *, graduation: Graduation) -> dict[str, Any]:
    """Return one piece's values; ``cut_length`` is what the ticket says."""
    return {
        "mark": piece.mark,
        "kind": piece.kind,
        "nps": piece.nps,
        "schedule": piece.schedule,
        "cut_length_mm": piece.cut_length_mm,
        "cut_length": format_length(piece.rounded_cut_mm, graduation=graduation),
        "rounded_cut_mm": piece.rounded_cut_mm,
        "stock_length_mm": piece.stock_length_mm,
        "made_from": piece.made_from,
        "turn_deg": piece.turn_deg,
        "bend_radius_mm": piece.bend_radius_mm,
        "ends": [_end(end) for end in piece.ends],
        "marks": [_mark(mark, graduation) for mark in piece.marks],
        "mass_kg": piece.mass_kg,
    }


def finding_values(finding: Finding) -> dict[str, Any]:
    """Return one finding's values."""
    return {
        "level": finding.level,
        "code": finding.code,
        "text": finding.text,
        "figures": [asdict(figure) for figure in finding.figures],
    }


def overall_values(size: Overall) -> dict[str, Any]:
    """Return the size of a finished spool."""
    return {
        "points_mm": {point.name: list(point.point) for point in size.points},
        "box_mm": list(size.box_mm),
        "longest_piece_mm": size.longest_piece_mm,
        "center_of_gravity_mm": list(size.center_of_gravity),
    }


def proposal_values(proposals: Proposals, *, graduation: Graduation) -> dict[str, Any]:
    """Return the ranked and the refused make-ups."""
    return {
        "ranked": [
            {
                "rank": one.rank,
                "bend": asdict(one.bend),
                "words": one.words,
                "reasons": list(one.reasons),
                "welds": one.welds,
                "weld_length_mm": one.weld_length_mm,
                "left_over_mm": one.left_over_mm,
                "take_off_mm": one.answer.take_off_mm,
                "cut_lengths": {
                    piece.mark: format_length(piece.rounded_cut_mm, graduation=graduation)
                    for piece in one.answer.pieces
                },
            }
            for one in proposals.ranked
        ],
        "refused": [
            {
                "bend": asdict(one.bend),
                "words": one.words,
                "reasons": [finding.text for finding in one.findings],
            }
            for one in proposals.refused
        ],
    }


def wrap_values(wraps: tuple[PieceWrap, ...]) -> list[dict[str, Any]]:
    """Return wraps, trim marks and holes: ordinates and curves in mm."""
    return [{name: value for name, value in plain_values(wrap).items() if value is not None} for wrap in wraps]


def plain_values(value: Any) -> Any:
    """Return any frozen value as plain values, its findings with their words; for reports of other modules."""
    if isinstance(value, Finding):
        return finding_values(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {name: plain_values(getattr(value, name)) for name in value.__dataclass_fields__}
    if isinstance(value, tuple | list):
        return [plain_values(item) for item in value]
    return value


def _end(end: PieceEnd) -> dict[str, Any]:
    return {
        "at": end.at,
        "prep": end.prep,
        "cut_angle_deg": end.cut_angle_deg,
        "roll_deg": end.roll_deg,
        "operations": list(end.operations),
    }


def _mark(mark: Mark, graduation: Graduation) -> dict[str, Any]:
    if mark.unit == "deg":
        return {"name": mark.name, "value_deg": mark.value_mm}
    return {
        "name": mark.name,
        "value_mm": mark.value_mm,
        "value": format_length(mark.value_mm, graduation=graduation),
    }


def _joint(joint: Joint) -> dict[str, Any]:
    return {
        "number": joint.number,
        "kind": joint.kind,
        "pieces": list(joint.pieces),
        "gap_mm": joint.gap_mm,
        "turn_deg": joint.turn_deg,
    }
