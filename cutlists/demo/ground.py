"""What is there before the month begins: the shop, its calendar and benches, the job, its tie-ins, the jigs."""

from dataclasses import dataclass
from datetime import timedelta

from cutlists.demo.as_typed import BURN_IN, JigSide
from cutlists.demo.gallery import FOOT_MM, INCH_MM, gallery
from cutlists.demo.month import END, START, Month
from cutlists.demo.people import Crew, hire
from cutlists.demo.scenario import (
    CUSTOMER,
    GALLERY_FT,
    GENERAL_CONTRACTOR,
    JOB_NAME,
    JOB_NUMBER,
    SHAFT_EVERY_FT,
    SHOP,
    ZONE,
)
from spools.actions.keep_jig import JigConstants, add_jig
from spools.marks import mark_key
from spools.models import Bench, ClosedDay, Heat, Jig, Job, Main, PipeSpec, Shift, Shop, TieIn, WorkedDay

# Bench, sizes it takes (none: any), what is done there.
BENCHES: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...] = (
    ("1", ("6",), ("welded",)),
    ("2", ("6",), ("welded",)),
    ("3", ("6", "8"), ("welded",)),
    ("4", ("8",), ("welded",)),
    ("Groover", (), ("grooved",)),
    ("Saw", (), ("cut", "beveled")),
)
# Outside diameter from and to, thickest wall, in inches; invented, as the shop is.
MACHINES = {"Groover": (2.375, 12.75, 0.5), "Saw": (0.84, 10.75, 1.0)}
JIG_1, JIG_2 = JigSide(4.0, 4.0), JigSide(4.5, 4.25)
JIG_2_MENDED = JigSide(4.5625, 4.25)
WRONG_HEAT = "typed wrong"  # two digits exchanged, once
LEAST_MM, LONGEST_MM = 4 * INCH_MM, 96 * INCH_MM  # what both jigs reach
ELBOW_HEATS = {"6": "E6-40417", "8": "E8-38820", WRONG_HEAT: "E6-40471"}
REACH = 52  # tie-ins between two deliveries to site


@dataclass(frozen=True, slots=True)
class Ground:
    """Everything that was set up, by the names that the story uses."""

    shop: Shop
    job: Job
    crew: Crew
    benches: dict[str, Bench]
    tie_ins: dict[int, TieIn]
    jigs: dict[int, Jig]
    elbow_heats: dict[str, Heat]


def lay_ground(month: Month) -> Ground:
    """Make the shop and the job as they are on the morning of day 1."""
    shop = Shop.objects.create(name=SHOP, time_zone=ZONE)
    _calendar(shop, month)
    benches = Bench.objects.bulk_create(
        Bench(
            shop=shop, name=name, sizes=list(sizes), operations=list(operations), set_up_nps=sizes[0] if sizes else ""
        )
        for name, sizes, operations in BENCHES
    )
    _limit(benches)
    job = Job.objects.create(
        shop=shop,
        number=JOB_NUMBER,
        name=JOB_NAME,
        customer=f"{CUSTOMER} for {GENERAL_CONTRACTOR}",
        weld_procedure="WP-3",
    )
    crew = hire(shop)
    first = month.moment(month.tick(1, "06:00"))
    jigs = {
        number: add_jig(by=crew.foreman, serial=str(number), constants=constants(sides), at=first).jig
        for number, sides in ((1, JIG_1), (2, JIG_2))
    }
    return Ground(
        shop=shop,
        job=job,
        crew=crew,
        benches={bench.name: bench for bench in benches},
        tie_ins=_tie_ins(job, month),
        jigs=jigs,
        elbow_heats={nps: Heat.objects.create(shop=shop, number=heat) for nps, heat in ELBOW_HEATS.items()},
    )


def _limit(benches: list[Bench]) -> None:
    """Write down what the machines take: the rolls of the groover, the throat of the saw."""
    for bench in benches:
        if bench.name in MACHINES:
            bench.od_from_mm, bench.od_to_mm, bench.wall_to_mm = (
                value_in * INCH_MM for value_in in MACHINES[bench.name]
            )
    Bench.objects.bulk_update(benches, ["od_from_mm", "od_to_mm", "wall_to_mm"])


def constants(sides: JigSide) -> JigConstants:
    """Return a jig's constants as the shop keeps them."""
    return JigConstants(
        set_point_a_mm=sides.set_point_a_in * INCH_MM,
        set_point_b_mm=sides.set_point_b_in * INCH_MM,
        usual_burn=str(BURN_IN),
        included_offset_deg=0.0,
        included_min_deg=60.0,
        included_max_deg=180.0,
        leg_min_mm=LEAST_MM,
        leg_max_mm=LONGEST_MM,
    )


def _calendar(shop: Shop, month: Month) -> None:
    Shift.objects.bulk_create(Shift(shop=shop, weekday=weekday, start=START, end=END) for weekday in range(5))
    ClosedDay.objects.create(shop=shop, day=month.holiday, reason="shop holiday")
    ClosedDay.objects.bulk_create(ClosedDay(shop=shop, day=day, reason="stock count") for day in month.closed)
    WorkedDay.objects.bulk_create(WorkedDay(shop=shop, day=day, start=START, end=END) for day in month.saturdays)


def _tie_ins(job: Job, month: Month) -> dict[int, TieIn]:
    PipeSpec.objects.bulk_create(PipeSpec(job=job, nps=nps) for nps in ("6", "8"))
    main = Main.objects.create(
        job=job,
        name="East gallery",
        nps="24",
        station_to_mm=GALLERY_FT * FOOT_MM,
        access_mm=[feet * FOOT_MM for feet in range(0, GALLERY_FT + 1, SHAFT_EVERY_FT)],
    )
    rows = TieIn.objects.bulk_create(
        TieIn(
            job=job,
            main=main,
            mark=place.mark,
            mark_key=mark_key(place.mark),
            station_mm=place.station_ft * FOOT_MM,
            side=place.side,
            nps=place.nps,
            design_included_deg=180 - round(place.turn_deg / 5) * 5,
            needed_on=month.days[-1] + timedelta(days=4 + 7 * (place.number // REACH)),
        )
        for place in gallery().values()
    )
    return dict(zip(gallery(), rows, strict=True))
