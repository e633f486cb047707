"""A random working life of one spool, lived through the shop's real deeds: refusals are part of it."""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import timedelta
from random import Random

from spools.actions.ask_foreman import WANTS, ask_foreman
from spools.actions.bind_tag import bind_tag
from spools.actions.correct_heats import correct_heats
from spools.actions.count_back import DAMAGES, count_back, report_damaged, report_missing
from spools.actions.deliver import deliver
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.load_truck import load_truck
from spools.actions.put_on_bench import put_on_bench, take_off_bench
from spools.actions.put_weld_down import put_weld_down
from spools.actions.record_step import Tap, record_step
from spools.actions.reject_coating import reject_coating
from spools.actions.reject_weld import Found, reject_weld
from spools.actions.release_spool import release_spool
from spools.actions.report_misfit import report_misfit
from spools.actions.rush_spool import rush_spool, unrush_spool
from spools.actions.scrap_spool import scrap_spool
from spools.actions.turn_up import turn_up
from spools.actions.undo_event import undo_event
from spools.actions.weld_again import weld_again
from spools.actions.wrong_cut import wrong_cut
from spools.errors import ShopError
from spools.flow.roles import Role
from spools.flow.steps import BY_CODE, needed
from spools.flow.tags import is_good_tag, tag_number
from spools.models import Bench, Heat, Load, Person, Spool
from tests.factories.people import make_person
from tests.factories.spools import CLOSES, NOON, make_key, make_spool, take

GOOD_TAGS = [tag for tag in map(tag_number, range(1, 400)) if is_good_tag(tag)]


@dataclass
class History:
    """One spool, the people and things around it, and what was tried on it so far."""

    random: Random
    spool: Spool
    people: list[Person]
    benches: list[Bench]
    heats: list[Heat]
    minutes: float = 0.0
    keys: list[str] = field(default_factory=list)
    tried: Counter[str] = field(default_factory=Counter)
    refused: Counter[str] = field(default_factory=Counter)

    def go_on(self, moves: int) -> None:
        """Live through some moves; most follow the route, the others are what goes wrong in a shop."""
        for _ in range(moves):
            self.make(self.random.choices(MOVES, WEIGHTS)[0])

    def make(self, move: Callable[["History"], None]) -> None:
        """Try one move; a build that has ended is made again instead."""
        move = move if self.spool.live else release
        self.minutes += self.random.choice([0.2, 3, 20, 90])
        self.tried[move.__name__] += 1
        try:
            move(self)
        except ShopError as refusal:
            self.refused[refusal.code] += 1
        self.spool = Spool.objects.filter(tie_in=self.spool.tie_in_id).order_by("-build")[0]

    @property
    def call(self) -> dict:
        """What every deed needs; now and then the clock of the machine steps back an hour."""
        at = NOON + timedelta(minutes=self.minutes - (60 if self.random.random() < 0.05 else 0))
        self.keys.append(make_key())
        return {"spool_id": self.spool.id, "person": self.random.choice(self.people), "key": self.keys[-1], "at": at}

    def load_call(self) -> dict:
        """As above, for a load."""
        call = self.call
        del call["spool_id"]
        return call

    def newest_load(self, kind: str) -> int:
        """The number of the newest load of that kind; 0 if there is none."""
        return Load.objects.filter(kind=kind).order_by("-id").values_list("id", flat=True).first() or 0


def begin(seed: int) -> History:
    """A released spool with three people who may do everything, so that nearly every move can happen.

    Every fourth tie-in was read again before anything was cut.
    """
    spool = make_spool()
    people = [make_person(spool.shop, *Role) for _ in range(3)]
    benches = [Bench.objects.create(shop=spool.shop, name=str(n), operations=["welded"]) for n in (1, 2)]
    heats = [Heat.objects.create(shop=spool.shop, number=f"7K{n}") for n in (1, 2)]
    life = History(Random(seed), spool, people, benches, heats)
    if seed % 4 == 3:
        remeasure(life)
        life.spool = Spool.objects.get(tie_in=spool.tie_in_id, live=True)
    return life


def next_step(life: History) -> None:
    """The step that is next, on some of what it is for; sometimes heard of late."""
    step = life.spool.next_step or "cut"
    if step in {"at_coating", "delivered"}:
        return on_a_truck(life)
    if step == "back":
        return back(life)
    return _step(life, step)


def any_step(life: History) -> None:
    """Some step of the route out of turn; what is missing may be said to be done."""
    _step(life, life.random.choice(needed(life.spool.the_route)).code)


def _step(life: History, step: str) -> None:
    targets = BY_CODE[step].targets(life.spool.the_route)
    some = tuple(t for t in targets if life.random.random() < 0.6) if life.random.random() < 0.5 else ()
    call = life.call
    late = life.random.random() < 0.2
    tap = Tap(
        targets=some,
        bench_id=life.random.choice([None, *(bench.id for bench in life.benches)]),
        heats={t: life.random.choice(life.heats).id for t in targets} if step == "cut" else {},
        check_mm=life.spool.check_mm if step == "accepted" else None,
        already=life.random.random() < 0.5,
        done_at=call["at"] - timedelta(hours=life.random.choice([1, 9, 30])) if late else None,
    )
    record_step(step=step, tap=tap, **call)


def on_a_truck(life: History) -> None:
    """Out to the galvanizer, or to site and received; now and then on the wrong truck."""
    wrong = life.random.random() < 0.15
    kind = "coating" if (life.spool.next_step == "at_coating") != wrong else "site"
    load = load_truck(kind=kind, going_to="there", spool_ids=[life.spool.id], **life.load_call())
    if kind == "site":
        deliver(load_id=load.id, spool_ids=[life.spool.id], last=True, **life.load_call())


def back(life: History) -> None:
    """Back from the galvanizer, or missing there."""
    load = life.newest_load("coating")
    fate = life.random.random()
    if fate < 0.2:
        report_missing(load_id=load, reason="not in the rack", **life.call)
    elif fate < 0.4:
        report_damaged(load_id=load, how=life.random.choice(list(DAMAGES)), **life.call)
    else:
        count_back(load_id=load, spool_ids=[life.spool.id], **life.load_call())


def undo(life: History) -> None:
    """Any event, old or new, whether or not it can be undone."""
    last = life.spool.last_number
    number = life.random.randint(life.random.choice([1, max(1, last - 2)]), last)
    undo_event(number=number, reason=life.random.choice(["", "slip"]), **life.call)


def undo_all_on_it(life: History) -> None:
    """A tap of some time ago, and with it what stands on it."""
    steps = life.spool.events.filter(code__in=["cut", "grooved", "beveled", "welded"], undone_by=None)
    number = life.random.choice(list(steps.order_by("number").values_list("number", flat=True)) or [1])
    undo_event(number=number, reason="wrong spool", also=life.random.random() < 0.8, **life.call)


def own_weld_again(life: History) -> None:
    """Whoever welded it finds it bad before the check; now and then it was somebody else's."""
    call = life.call
    welder = life.spool.the_standing.by.get("welded")
    if welder and life.random.random() < 0.8:
        call["person"] = Person.objects.get(id=welder)
    weld_again(found=Found(joint=1, defect="porosity"), **call)


def again(life: History) -> None:
    """The same key once more, for something else: refused, or the first answer."""
    if life.keys:
        hold_spool(reason="twice", **(life.call | {"key": life.random.choice(life.keys)}))


def remeasure(life: History) -> None:
    """A new reading of the same tie-in: supersedes what isn't cut, stops what is."""
    take(life.spool.tie_in, CLOSES, again=True, at=NOON + timedelta(minutes=life.minutes))


def release(life: History) -> None:
    """A scrapped build is made again from the newest reading."""
    call = life.load_call()
    release_spool(reading_id=life.spool.tie_in.current_reading_id, reason="made again", **call)


MOVES_WITH_WEIGHTS = {
    next_step: 40,
    any_step: 10,
    undo: 12,
    undo_all_on_it: 9,
    again: 2,
    remeasure: 1,
    lambda life: hold_spool(reason="no elbow", **life.call): 4,
    lambda life: let_go(**life.call): 12,
    lambda life: rush_spool(reason="crew waits", **life.call): 2,
    lambda life: unrush_spool(**life.call): 2,
    lambda life: put_on_bench(bench_id=life.random.choice(life.benches).id, **life.call): 4,
    lambda life: take_off_bench(**life.call): 2,
    lambda life: wrong_cut(piece=life.random.choice("AB"), reason="1 in short", **life.call): 5,
    lambda life: reject_weld(
        back_to=life.random.choice(["cut", "beveled", "welded", "accepted"]), reason="undercut", **life.call
    ): 5,
    own_weld_again: 3,
    lambda life: report_misfit(how="long", reason="", **life.call): 1,
    lambda life: bind_tag(tag=life.random.choice(GOOD_TAGS), **life.call): 2,
    lambda life: scrap_spool(reason="bent", **life.call): 0.4,
    lambda life: turn_up(load_id=life.newest_load("coating"), **life.call): 3,
    lambda life: reject_coating(how=life.random.choice(["touch_up", "redip"]), defect="bare", **life.call): 6,
    lambda life: correct_heats(heats={"A": life.random.choice(life.heats)}, reason="misread", **life.call): 2,
    lambda life: put_weld_down(joint=1, welder_id=life.people[0].id, procedure="W-2", **life.call): 2,
    lambda life: ask_foreman(wants=life.random.choice(list(WANTS)), reason="look", **life.call): 1,
}
MOVES, WEIGHTS = list(MOVES_WITH_WEIGHTS), list(MOVES_WITH_WEIGHTS.values())
