"""What is done at the gate: trucks weighed out and back, and names signed with a finger."""

from collections.abc import Sequence
from datetime import datetime
from math import exp, sin

from cutlists.demo.chance import dice
from cutlists.demo.diary import Diary
from spools.actions.sign_load import sign_load
from spools.actions.weigh_load import weigh_load
from spools.flow.weigh_back import LOAD_ZINC_SCATTER, PIPE_SCATTER, USUAL_OVER_MINIMUM
from spools.models import Load, Spool

COUNTER = "Iris Vantongeren"
SCALE_STEP_KG = 20 * 0.45359237  # the truck scale shows whole 20 lb


def weigh(diary: Diary, load: Load, marks: Sequence[int], at: datetime, *, back: bool) -> None:
    """Weigh a truck as its own scatter and its scale's step would have it."""
    spools = Spool.objects.filter(id__in=[diary.spool_id(mark) for mark in marks])
    black = sum(spools.values_list("black_kg", flat=True)) * dice("pipe", load.number).gauss(1.0, PIPE_SCATTER)
    zinc = sum(spools.values_list("zinc_kg", flat=True)) * USUAL_OVER_MINIMUM
    zinc *= dice("zinc", load.number).gauss(1.0, LOAD_ZINC_SCATTER) if back else 0.0
    net_kg = round((black + zinc) / SCALE_STEP_KG) * SCALE_STEP_KG
    weigh_load(
        load_id=load.id,
        way="back" if back else "out",
        net_kg=net_kg,
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
    )


def sign(diary: Diary, load: Load, signed_for: str, name: str, at: datetime) -> None:
    """Sign with a hand that is always the same for the same name."""
    hand = dice("hand", name)
    height, pace = hand.uniform(160, 300), hand.uniform(3.0, 5.5)
    line = [[40 + 15 * step, round(500 + height * sin(step / pace) * exp(-step / 70))] for step in range(60)]
    under = [[60, 780], [round(hand.uniform(700, 940)), 740]]
    sign_load(
        load_id=load.id,
        signed_for=signed_for,
        name=name,
        strokes=[line, under],
        person=diary.ground.crew.driver,
        key=diary.key(),
        at=at,
    )
