"""Made-up cut plans, benches, loads and deliveries."""

from random import Random

from cutlists.sheets.bench_list import BenchLine, BenchSheet, Setup
from cutlists.sheets.claim import ClaimLine, ClaimSheet
from cutlists.sheets.cut_plan import CutPlanSheet, PlanBar, PlanCut
from cutlists.sheets.delivery import DeliveryLine, DeliverySheet
from cutlists.sheets.load_list import LoadLine, LoadSheet, Rack
from cutlists.sheets.signatures import Signed
from tests.cutlists.sheets.samples.parts import CAUTIONS, ENDS, NOTES, ODD_MARKS, code, heading


def plan_bar(rng: Random, number: int) -> PlanBar:
    """Return a bar whose pieces, kerfs, trim and drop add up to its usable length."""
    usable, trim, kerf = rng.choice((6096.0, 6400.8, 3050.0)), rng.choice((0.0, 25.4)), 3.2
    cuts: list[PlanCut] = []
    at = trim
    for position in range(1, rng.randint(2, 28)):
        length = rng.choice((rng.uniform(70, 200), rng.uniform(300, 1500)))
        if at + length + kerf > usable:
            break
        mark = f"{rng.randint(1, 999)}-{rng.choice('AB')}" if rng.random() < 0.9 else f"{rng.choice(ODD_MARKS)}-A"
        cuts.append(
            PlanCut(
                position=position,
                mark=mark,
                length_mm=length,
                tape_mm=at + length,
                end_1=rng.choice(ENDS).words,
                end_2=rng.choice(ENDS).words,
            )
        )
        at += length + kerf
    return PlanBar(
        number=str(number),
        nps="6",
        schedule="Sch 40",
        stock="21 ft bar, rack 2",
        usable_mm=usable,
        end_trim_mm=trim,
        kerf_mm=kerf,
        heat=rng.choice(("", "K88213")),
        cuts=tuple(cuts),
        drop_mm=usable - at,
        drop_words="keep, tag D-0031" if usable - at > 305 else "scrap",
    )


def cut_plan(seed: int, *, units: str = "us") -> CutPlanSheet:
    """Return a plan of a few bars."""
    rng = Random(seed)
    bars = tuple(plan_bar(rng, number) for number in range(1, rng.randint(2, 9)))
    return CutPlanSheet(
        heading=heading(rng, units=units), plan=f"P-{seed}", verdict="Proven: no plan uses less new stock.", bars=bars
    )


def load(seed: int, *, units: str = "us", spools: int | None = None) -> LoadSheet:
    """Return a load of a few racks."""
    rng = Random(seed)
    count = rng.randint(1, 60) if spools is None else spools
    lines = tuple(
        LoadLine(
            tag=f"{rng.randint(0, 99999):05d}",
            nps=rng.choice(("4", "6", "8", "1-1/4")),
            longer_leg_mm=rng.uniform(300, 2500),
            check_mm=rng.uniform(300, 2800),
            length_mm=rng.uniform(300, 2900),
            width_mm=rng.uniform(200, 1500),
            height_mm=rng.uniform(60, 300),
            black_kg=rng.uniform(5, 160),
            notes=rng.choice(NOTES),
        )
        for _ in range(count)
    )
    half = (count + 1) // 2
    racks = (Rack("1, front", lines[:half]), Rack("2, rear", lines[half:])) if count > 1 else (Rack("1", lines),)
    return LoadSheet(
        heading=heading(rng, units=units),
        load=f"L-{seed % 100}",
        galvanizer="Dunmere Galvanizing",
        zinc="ASTM A123, black pipe pickled",
        back_by="Tue Dec 1, 2026 15:00",
        truck="truck 3, D. Alvarez",
        racks=racks,
        cautions=tuple(rng.sample(CAUTIONS, rng.randint(0, 3))),
        code=code(seed),
        code_until="count here, no account, until 18 Dec",
        signed=signed(rng),
    )


def signed(rng: Random) -> tuple[Signed, ...]:
    """Return a signature or none, drawn by a shaking hand."""
    stroke = tuple((rng.uniform(0, 1000), rng.uniform(0, 1000)) for _ in range(rng.randint(2, 30)))
    words = f"{rng.choice(('M. Tran', 'Maximiliana Featherstonehaugh-Okonkwo'))}, 30 of 31, Fri 27 Nov 13:05"
    return tuple(
        Signed(purpose, words, (stroke,)) for purpose in ("handed over", "back", "received")[: rng.randint(0, 3)]
    )


def claim(seed: int, *, units: str = "us") -> ClaimSheet:
    """Return a claim of some missing spools."""
    rng = Random(seed)
    lines = tuple(
        ClaimLine(
            tag=rng.choice(("", f"{rng.randint(0, 99999):05d}")),
            mark=rng.choice(ODD_MARKS) if rng.random() < 0.1 else str(rng.randint(1, 999)),
            nps=rng.choice(("4", "6", "1-1/4")),
            longer_leg_mm=rng.uniform(300, 2500),
            check_mm=rng.uniform(300, 2800),
            turn_deg=rng.uniform(10, 75),
            black_kg=rng.uniform(5, 160),
            said=rng.choice(("not here, nobody has it", "the counter looks through the racks once more on Monday")),
            replaced_by=rng.choice(("", "088 B")),
        )
        for _ in range(rng.randint(1, 40))
    )
    found = signed(rng)
    return ClaimSheet(
        heading=heading(rng, units=units),
        load=f"L-{seed % 100}",
        galvanizer="Dunmere Galvanizing",
        left="Tue 24 Nov 10:40",
        due=rng.choice(("", "Tue 1 Dec 2026")),
        sent=len(lines) + rng.randint(0, 30),
        lines=lines,
        handed_over=found[0] if found else None,
    )


def bench(seed: int, *, units: str = "us") -> BenchSheet:
    """Return a bench's list of a few set-ups."""
    rng = Random(seed)
    setups = tuple(
        Setup(
            f"NPS {nps}",
            tuple(
                BenchLine(
                    mark=rng.choice(ODD_MARKS) if rng.random() < 0.1 else str(rng.randint(1, 999)),
                    revision=rng.choice("ABC"),
                    nps=nps,
                    due=rng.choice(("Thu Nov 26, 10:40", "today 15:30")),
                    here=rng.choice(("all here", "all here", "leg B missing, elbow E missing")),
                    hours=rng.uniform(0.4, 6.0),
                    note=rng.choice(("", "", "RUSH", "rework: weld 2 porosity, grind out and re-weld")),
                )
                for _ in range(rng.randint(1, 14))
            ),
        )
        for nps in ("6", "8", "4")[: rng.randint(1, 3)]
    )
    return BenchSheet(
        heading=heading(rng, units=units),
        bench="Bench 3",
        shift="Wed Nov 25, day shift",
        people="Ruiz, Osei",
        setups=setups,
    )


def delivery(seed: int, *, units: str = "us") -> DeliverySheet:
    """Return a walk of some spools."""
    rng = Random(seed)
    lines = tuple(
        DeliveryLine(
            mark=rng.choice(ODD_MARKS) if rng.random() < 0.1 else str(rng.randint(1, 999)),
            station=f"{rng.randint(0, 40)}+{rng.uniform(0, 99):05.2f}",
            side=rng.choice(("east", "west")),
            end_to_main="B, beveled",
            tag=f"{rng.randint(0, 99999):05d}",
            mass_kg=rng.uniform(5, 90),
        )
        for _ in range(rng.randint(1, 40))
    )
    return DeliverySheet(
        heading=heading(rng, units=units),
        delivery=f"D-{seed % 100}",
        reach="shaft 1 to shaft 2, station 0+00 to 20+40",
        lines=lines,
        code=code(seed) if seed % 2 else None,
        code_until="count here, no account, until 18 Dec",
        signed=signed(rng),
    )
