"""Words that several sheets share: end preparations, kinds of piece, cautions of one spool."""

from typing import Any

from cutlists.sheets.figures import weight_text
from cutlists.sheets.ticket_values import TicketEnd
from geometry.cautions import ends_after_dipping, kettle_size, may_move_in_the_bath
from geometry.ends import end_prep
from geometry.findings import Finding
from geometry.overall import overall
from spools.models import Piece, Spool
from spools.say_lengths import in_units
from spools.solving import CARBON_STEEL
from spools.stored_solutions import Solution

LB_PER_KG = 1 / 0.45359237
TWO_PERSON_LB = 50  # common practice, no source
KIND_WORDS = {"pipe": "pipe", "elbow": "trimmed elbow", "bent_pipe": "bent pipe", "flange": "flange"}
BEND_WORDS = {"trimmed_elbow": "elbow", "miter": "miter", "bent_pipe": "bend"}
# From memory: molten zinc embrittles stainless steel. Common practice, no source.
NOT_FOR_ZINC = "STOP: {} is no plain carbon steel. Ask the foreman before it goes to the galvanizer."
# What the field and the check are told, not the saw.
NOT_FOR_THE_SHOP = frozenset({"swap_not_seen", "no_check_measure", "check_missing", "material_unknown"})


def end_words(prep: str) -> str:
    """Return the words of an end preparation."""
    return end_prep(prep).word


def end_of(piece: Piece, end: dict[str, Any]) -> TicketEnd:
    """Say how one end is made: a slanted cut is a miter whatever else is done to it; an elbow may come as bought."""
    words = end_words(end["prep"])
    if end["cut_angle_deg"]:
        return TicketEnd("miter", f"miter {end['cut_angle_deg']:g}°, {words}", f"{end['at']}, degrees from square")
    if piece.kind == "elbow":
        return TicketEnd(end["prep"], f"trimmed, {words}" if end["operations"] else "as bought", end["at"])
    return TicketEnd(end["prep"], words, end["at"])


def schedule_words(schedule: str) -> str:
    """Return a schedule as the trade says it: Sch 40, but STD; the wall of a size that no table has."""
    if schedule.upper().startswith("W"):
        return f"wall {schedule[1:].strip()} in"
    return f"Sch {schedule}" if schedule[:1].isdigit() else schedule


def piece_words(piece: Piece) -> str:
    """Return what a piece is, in words; an elbow that nothing is done to stays whole."""
    if piece.kind == "elbow" and not any(end["operations"] for end in piece.ends):
        return "whole elbow"
    return KIND_WORDS.get(piece.kind, piece.kind)


def shop_cautions(spool: Spool, solution: Solution) -> tuple[str, ...]:
    """Return what must be printed on this spool's papers, each only where its trigger holds."""
    found: list[Finding] = [f for f in solution.answer.findings if f.code not in NOT_FOR_THE_SHOP]
    preps = (solution.request.end_a.prep, solution.request.end_b.prep)
    coated = bool(spool.route["coating"])
    found += ends_after_dipping(galvanized=coated, preps=preps)
    found += may_move_in_the_bath(galvanized=coated, turns_deg=solution.answer.turns_deg or (spool.turn_deg,))
    found += kettle_size(box_mm=overall(solution.answer, solution.request.pipe).box_mm) if coated else ()
    words = [f.text for f in found]
    if coated and not spool.tie_in.material.startswith(CARBON_STEEL):
        words.insert(0, NOT_FOR_ZINC.format(spool.tie_in.material))
    if coated:
        words.append("Both ends stay open for zinc: a sealed cavity can burst in the bath. Never cap or plug an end.")
        words.append("No welding, cutting or grinding after galvanizing: zinc fume. It goes back to the foreman first.")
    pounds = spool.black_kg * LB_PER_KG
    if pounds > TWO_PERSON_LB:
        words.append(f"Heavy: {_weight(spool.black_kg, spool)}. Two people or a hoist; sharp ends, wear gloves.")
    return _in_job_units(words, spool)


def piece_cautions(spool: Spool, piece: Piece, solution: Solution) -> tuple[str, ...]:
    """Return the cautions of one piece at the saw and the bench."""
    words = [f.text for f in solution.answer.findings if f.code not in NOT_FOR_THE_SHOP and f.level != "caution"]
    if piece.kind == "elbow":
        words += [f.text for f in solution.answer.findings if f.code == "check_hi_lo"]
    words.append("Saw and grinder: guard on, eyes and hands covered; the cut end is hot and sharp.")
    pounds = piece.kg * LB_PER_KG
    if pounds > TWO_PERSON_LB:
        words.append(f"Heavy: {_weight(piece.kg, spool)}. Two people or a hoist.")
    return _in_job_units(words, spool)


def _weight(kg: float, spool: Spool) -> str:
    return weight_text(kg, "metric" if spool.tie_in.job.units == "metric" else "us")


def _in_job_units(words: list[str], spool: Spool) -> tuple[str, ...]:
    """Return each caution once, its lengths in the job's own units."""
    return tuple(dict.fromkeys(in_units(text, spool.tie_in.job.units) for text in words))
