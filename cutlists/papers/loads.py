"""The sheets of a load: the galvanizer's list by tag, and the delivery sheet in walking order."""

from typing import BinaryIO

from cutlists.papers.heading import Printing, heading_for, shop_clock
from cutlists.sheets.claim import ClaimLine, ClaimSheet, write_claim
from cutlists.sheets.delivery import DeliveryLine, DeliverySheet, write_delivery
from cutlists.sheets.frame import Paper
from cutlists.sheets.load_list import LoadLine, LoadSheet, Rack, write_load_list
from cutlists.sheets.qr import Code, encode
from cutlists.sheets.signatures import Signed
from spools.load_links import link_code, printed_address
from spools.models import Load, Signature, Spool
from spools.models import LoadLine as Line
from spools.queries.load_proposal import size_of
from spools.queries.loads import lines_of
from spools.say_lengths import say_station

CAUTIONS = (
    "Both ends open: no cap, plug or tape. A sealed cavity can burst in the zinc bath.",
    "Lift by the pipe, never by a grooved or beveled end. Two people or a hoist above 50 lb (23 kg).",
)


def write_load(out: BinaryIO, load: Load, printing: Printing, *, paper: Paper) -> int:
    """Write the sheet that goes with a load; returns the pages."""
    lines = list(lines_of(load))
    if load.kind == Load.Kind.SITE:
        return write_delivery(out, delivery_of(load, lines, printing), paper=paper)
    return write_load_list(out, load_sheet_of(load, lines, printing), paper=paper)


def load_sheet_of(load: Load, lines: list[Line], printing: Printing) -> LoadSheet:
    """Return the galvanizer's list; a spool without a tag gets a line to write on and its mark in the notes."""
    racks: dict[str, list[LoadLine]] = {}
    for line in lines:
        racks.setdefault(line.rack or "truck", []).append(_line(line))
    job = lines[0].spool.tie_in.job if lines else None
    return LoadSheet(
        heading=heading_for(printing, shop=load.shop, job=job),
        load=str(load.number),
        galvanizer=load.going_to,
        zinc="ASTM A123",
        back_by=f"{load.due_back_on:%a %-d %b %Y}" if load.due_back_on else "",
        truck="",
        racks=tuple(Rack(name, tuple(found)) for name, found in racks.items()),
        cautions=CAUTIONS,
        code=link_of(load),
        code_until=link_words(load),
        signed=signed_on(load),
    )


def link_of(load: Load) -> Code | None:
    """Return the code of the counter's page, or nothing where the load never had a link."""
    if load.link_until is None:
        return None
    address = printed_address(load)
    return Code(address=address, typed=link_code(load), matrix=encode(address))


def link_words(load: Load) -> str:
    """Return what stands beside the code."""
    return (
        f"count here, no account, until {load.link_until.astimezone(load.shop.zone):%-d %b}" if load.link_until else ""
    )


def signed_on(load: Load) -> tuple[Signed, ...]:
    """Return the signatures that a load has so far."""
    return tuple(signed_of(one) for one in load.signatures.select_related("load__shop"))


def signed_of(one: Signature) -> Signed:
    """Return a signature as sheets draw it."""
    return Signed(
        signed_for=one.signed_for,
        words=f"{one.name}, {one.count} of {one.of}, {shop_clock(one.signed_at, one.load.shop)}",
        strokes=tuple(tuple((x, y) for x, y in stroke) for stroke in one.strokes),
    )


def _line(line: Line) -> LoadLine:
    spool = line.spool
    length_mm, width_mm, height_mm = size_of(spool)
    notes = [] if spool.tag else [f"no tag: {spool.label}"]
    if spool.tie_in.end_b == "grooved" or spool.tie_in.end_a == "grooved":
        notes.append("grooved: smooth seat")
    return LoadLine(
        tag=spool.tag,
        nps=spool.nps,
        longer_leg_mm=max(spool.leg_a_mm, spool.leg_b_mm),
        check_mm=spool.check_mm,
        length_mm=length_mm,
        width_mm=width_mm,
        height_mm=height_mm,
        black_kg=spool.black_kg,
        notes=", ".join(notes),
    )


def delivery_of(load: Load, lines: list[Line], printing: Printing) -> DeliverySheet:
    """Return the delivery sheet in walking order."""
    job = lines[0].spool.tie_in.job if lines else None
    units = job.units if job else "us"
    mains = sorted({line.spool.tie_in.main.name for line in lines})
    return DeliverySheet(
        heading=heading_for(printing, shop=load.shop, job=job),
        delivery=str(load.number),
        reach=", ".join(mains) or load.going_to,
        lines=tuple(
            DeliveryLine(
                mark=line.spool.label,
                station=say_station(line.spool.tie_in.station_mm, units),
                side=line.spool.tie_in.side,
                end_to_main=f"A, {line.spool.tie_in.end_a}",
                tag=line.spool.tag,
                mass_kg=line.spool.black_kg + line.spool.zinc_kg,
            )
            for line in lines
        ),
        code=link_of(load),
        code_until=link_words(load),
        signed=signed_on(load),
    )


def write_claim_of(out: BinaryIO, load: Load, printing: Printing, *, paper: Paper) -> int:
    """Write the claim of what is missing of a load; returns the pages."""
    return write_claim(out, claim_of(load, printing), paper=paper)


def claim_of(load: Load, printing: Printing) -> ClaimSheet:
    """Return the claim sheet of a load."""
    lines = list(lines_of(load))
    missing = [line for line in lines if line.settled == "missing"]
    newer = {
        spool.replaces_id: spool.label
        for spool in Spool.objects.filter(replaces_id__in=[line.spool_id for line in missing]).select_related("tie_in")
    }
    job = lines[0].spool.tie_in.job if lines else None
    signed = [one for one in signed_on(load) if one.signed_for == "handed over"]
    return ClaimSheet(
        heading=heading_for(printing, shop=load.shop, job=job),
        load=str(load.number),
        galvanizer=load.going_to,
        left=shop_clock(load.left_at, load.shop),
        due=f"{load.due_back_on:%a %-d %b %Y}" if load.due_back_on else "",
        sent=sum(line.left_at is not None for line in lines),
        handed_over=signed[-1] if signed else None,
        lines=tuple(
            ClaimLine(
                tag=line.spool.tag,
                mark=line.spool.label,
                nps=line.spool.nps,
                longer_leg_mm=max(line.spool.leg_a_mm, line.spool.leg_b_mm),
                check_mm=line.spool.check_mm,
                turn_deg=line.spool.turn_deg,
                black_kg=line.spool.black_kg,
                said=line.note,
                replaced_by=newer.get(line.spool_id, ""),
            )
            for line in missing
        ),
    )
