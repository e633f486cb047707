"""The one table of the shop's steps: on what, when needed, what comes first, who may do it, what it asks for."""

from collections.abc import Callable
from dataclasses import KW_ONLY, dataclass
from graphlib import TopologicalSorter
from typing import Literal

from spools.flow.roles import EVERYONE, Role
from spools.flow.routes import SPOOL, Route, piece_of

On = Literal["end", "piece", "spool"]


@dataclass(frozen=True, slots=True)
class Step:
    """One row of the table.

    ``shown`` steps are the seven words the shop speaks of; the others are facts shown beside them. ``after`` names the
    steps that physics puts first, each for the same piece or, for a spool step, for all of it. ``asks`` names what the
    tap may bring and ``requires`` what it must: ``bench``, ``heat``, ``check``, ``load``. ``other_person_than``
    names the steps whose makers may not do this one: nobody passes judgement on his own weld.
    """

    code: str
    word: str
    imperative: str
    on: On
    _: KW_ONLY
    targets: Callable[[Route], tuple[str, ...]]
    after: tuple[str, ...]
    who: frozenset[Role]
    shown: bool = True
    asks: tuple[str, ...] = ()
    requires: tuple[str, ...] = ()
    other_person_than: tuple[str, ...] = ()


def _spool(route: Route) -> tuple[str, ...]:
    return (SPOOL,)


def _welds(route: Route) -> tuple[str, ...]:
    return (SPOOL,) if route.welds else ()


def _coating(route: Route) -> tuple[str, ...]:
    return (SPOOL,) if route.coating else ()


def _ends(operation: str) -> Callable[[Route], tuple[str, ...]]:
    return lambda route: route.ends_needing(operation)


_F, _C, _W, _D = Role.FOREMAN, Role.CUTTER, Role.FITTER, Role.DRIVER

STEPS: tuple[Step, ...] = (
    Step("measured", "measured", "Measure", "spool", targets=_spool, after=(), who=frozenset({Role.FIELD, _F})),
    Step(
        "cut", "cut", "Cut", "piece", targets=Route.sawn, after=("measured",), who=frozenset({_C, _F}), asks=("heat",)
    ),
    Step("grooved", "grooved", "Groove", "end", targets=_ends("grooved"), after=("cut",), who=frozenset({_C, _W, _F})),
    Step("beveled", "beveled", "Bevel", "end", targets=_ends("beveled"), after=("cut",), who=frozenset({_C, _W, _F})),
    Step(
        "coped",
        "coped",
        "Cope",
        "end",
        shown=False,
        targets=_ends("coped"),
        after=("cut",),
        who=frozenset({_C, _W, _F}),
    ),
    Step(
        "threaded",
        "threaded",
        "Thread",
        "end",
        shown=False,
        targets=_ends("threaded"),
        after=("cut",),
        who=frozenset({_C, _W, _F}),
    ),
    Step(
        "welded",
        "welded",
        "Weld",
        "spool",
        targets=_welds,
        after=("cut", "grooved", "beveled", "coped"),
        who=frozenset({_W, _F}),
        asks=("bench",),
    ),
    Step(
        "flange welded",
        "flange welded",
        "Weld the flange on",
        "end",
        shown=False,
        targets=_ends("flange welded"),
        after=("cut", "beveled"),
        who=frozenset({_W, _F}),
    ),
    Step(
        "accepted",
        "accepted",
        "Accept",
        "spool",
        shown=False,
        targets=_spool,
        after=("cut", "grooved", "beveled", "coped", "threaded", "welded", "flange welded"),
        who=frozenset({_W, _F}),
        requires=("check",),
        other_person_than=("welded", "flange welded"),
    ),
    Step(
        "at_coating",
        "at coating",
        "Send to coating",
        "spool",
        targets=_coating,
        after=("accepted",),
        who=frozenset({_D, _F}),
        requires=("load",),
    ),
    Step(
        "back",
        "back from coating",
        "Count back",
        "spool",
        shown=False,
        targets=_coating,
        after=("at_coating",),
        who=frozenset({_D, _F}),
    ),
    Step(
        "delivered",
        "delivered",
        "Deliver",
        "spool",
        targets=_spool,
        after=("accepted", "back"),
        who=frozenset({_D, _F}),
        requires=("load",),
    ),
)
BY_CODE: dict[str, Step] = {step.code: step for step in STEPS}
SHOWN: tuple[Step, ...] = tuple(step for step in STEPS if step.shown)
ORDER: tuple[str, ...] = tuple(step.code for step in STEPS)

# Raises CycleError at import if a row's "after" ever makes a loop.
tuple(TopologicalSorter({step.code: set(step.after) for step in STEPS}).static_order())


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that is done to a spool beside its route, and who may do it."""

    code: str
    word: str
    who: frozenset[Role]
    needs_reason: bool = False


DEEDS: tuple[Deed, ...] = (
    Deed("held", "put on hold", frozenset({_F, Role.MANAGER}), needs_reason=True),
    Deed("let_go", "hold let go", frozenset({_F, Role.MANAGER})),
    Deed("rushed", "rush", frozenset({_F}), needs_reason=True),
    Deed("unrushed", "rush taken off", frozenset({_F})),
    Deed("put_on_bench", "put on bench", frozenset({_F})),
    Deed("taken_off_bench", "taken off bench", frozenset({_F})),
    Deed("wrong_cut", "wrong cut", frozenset({_C, _F}), needs_reason=True),
    Deed("rejected", "rejected", frozenset({_W, _F}), needs_reason=True),
    Deed("weld_again", "own weld to do over", frozenset({_W, _F}), needs_reason=True),
    Deed("fits", "fits on site", frozenset({Role.FIELD, _D, _F})),
    Deed("misfit", "does not fit", frozenset({Role.FIELD, _D, _F}), needs_reason=True),
    Deed("missing", "not back from coating", frozenset({_D, _F}), needs_reason=True),
    Deed("turned_up", "turned up again", frozenset({_D, _F})),
    Deed("damaged", "damaged on the way", frozenset({_D, _F}), needs_reason=True),
    Deed("coating_bad", "coating rejected", frozenset({_D, _F, _W, Role.FIELD}), needs_reason=True),
    Deed("weld_by", "weld put down", frozenset({_W, _F})),
    Deed("heat_corrected", "heat put right", frozenset({_C, _F}), needs_reason=True),
    Deed("tagged", "steel tag bound", frozenset({_W, _F, _D})),
    Deed("asked", "asked the foreman", EVERYONE - {Role.TABLET}, needs_reason=True),
    Deed("old_paper", "old paper stopped", EVERYONE, needs_reason=True),
    Deed("paper_gone", "old paper taken away", frozenset({_F})),
    Deed("superseded", "superseded", EVERYONE),
    Deed("scrapped", "scrapped", frozenset({_F}), needs_reason=True),
    Deed("undone", "undone", EVERYONE),
)
DEED_BY_CODE: dict[str, Deed] = {deed.code: deed for deed in DEEDS}
ENDING = frozenset({"superseded", "scrapped"})


def say(code: str) -> str:
    """Return the shop's word for a step or deed."""
    row = BY_CODE.get(code) or DEED_BY_CODE[code]
    return row.word


def needed(route: Route) -> tuple[Step, ...]:
    """Return the steps that a route needs, in order."""
    return tuple(step for step in STEPS if step.targets(route))


def before(step: Step, target: str, route: Route) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return what must be done first for a target: pairs of step code and its targets that matter."""
    pairs = []
    for code in step.after:
        targets = BY_CODE[code].targets(route)
        if step.on != "spool":
            targets = tuple(t for t in targets if t == SPOOL or piece_of(t) == piece_of(target))
        if targets:
            pairs.append((code, targets))
    return tuple(pairs)


def dependents(code: str) -> tuple[str, ...]:
    """Return the steps that directly or indirectly stand on a step, in order."""
    found: set[str] = set()
    for step in STEPS:
        if code in step.after or found & set(step.after):
            found.add(step.code)
    return tuple(step.code for step in STEPS if step.code in found)
