"""What a bench shows: the next spools as cards, whose work it is, its queue and its last taps."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Exists, OuterRef, Q

from spools.errors import not_found
from spools.models import Bench, Event, Person, Spool
from spools.models.spools import SpoolQuerySet
from spools.queries.find import find
from spools.queries.old_paper import OldPaper, old_paper_of
from spools.queries.spool import WITH_HEATS, StepOffer, Track, offers_of, track_of

LATEST = 3
MOST = 200  # a queue longer than this is no queue
HANDS = 6  # cards kept on the page, so that the next one is there without the network
BENCH_STEPS = ("grooved", "beveled", "coped", "threaded", "welded", "flange welded", "accepted")
ODD = "OD "  # how the size of pipe begins that stands in no table
PUT_TOGETHER = frozenset({"welded", "flange welded"})


@dataclass(frozen=True, slots=True)
class Hand:
    """One spool as the bench takes it in hand: what may be tapped here, in order, and how it stands."""

    spool: Spool
    taps: tuple[StepOffer, ...]
    track: Track
    finds: str
    own_weld: bool
    sent_back: str = ""  # why it was rejected, where it comes back for a second attempt
    to_do_over: bool = False  # its own welder took it back, before anybody looked

    @property
    def print_included(self) -> float:
        """The included angle on the print."""
        return 180.0 - self.spool.turn_deg

    @property
    def version(self) -> int:
        """Changes with every event."""
        return self.spool.last_number


def benches_of(person: Person) -> list[Bench]:
    """Return the shop's benches."""
    return list(Bench.objects.filter(shop_id=person.the_shop_id, is_active=True))


def one_bench(bench_id: int, person: Person) -> Bench:
    """Return one bench. Raises ``ShopError`` not_found."""
    found = Bench.objects.filter(shop_id=person.the_shop_id, id=bench_id, is_active=True).first()
    if found is None:
        raise not_found("bench of that name")
    return found


def queue_of(bench: Bench, person: Person) -> SpoolQuerySet:
    """Return what the bench has to do, rushes first, then by due time; what is on hold comes last.

    Where spools are put together, that is what the foreman put there. A machine (groover, beveler) takes whatever is
    cut and needs it, from every bench, as long as the size fits.
    """
    in_shop = Spool.objects.for_person(person).in_shop()
    mine = Q(bench=bench)
    if bench.operations and not PUT_TOGETHER & set(bench.operations):
        mine |= Q(next_step__in=[code for code in bench.operations if code in BENCH_STEPS])
    found = in_shop.filter(mine)
    if bench.sizes:
        fits = Q(nps__in=bench.sizes)
        if bench.takes.says_diameters:
            fits |= Q(nps__startswith=ODD)
        found = found.filter(Q(bench=bench) | fits)
    return found.for_lists().order_by("hold_count", "-rush", "due_at", "id")


def in_queue(bench: Bench, person: Person) -> list[Spool]:
    """Return the queue itself; only the cards ask for their pieces and joints."""
    found = queue_of(bench, person)[:MOST]
    return [spool for spool in found if spool.bench_id == bench.id or fits(bench, spool)]


def fits(bench: Bench, spool: Spool) -> bool:
    """Tell whether a spool's pipe goes into a machine."""
    return not bench.takes.refusal(spool.nps, spool.schedule)


def hands_of(bench: Bench, queue: list[Spool], person: Person, *, chosen: int | None) -> list[Hand]:
    """Return the cards: the chosen spool first, then those that are cut, may go on, and are for this bench."""
    first = [chosen] if chosen else []
    ready = [one.id for one in queue if one.id != chosen and _can_go_on(one, person)]
    ids = [*first, *ready][:HANDS]
    full = {
        spool.id: spool
        for spool in Spool.objects.for_person(person)
        .filter(id__in=ids)
        .for_lists()
        .defer(None)
        .select_related("reading")
        .prefetch_related(WITH_HEATS, "joints")
    }
    for spool in full.values():
        spool.shop = person.the_shop  # the same one; saves asking for it
    why = _sent_back(full.values())
    return [hand_of(bench, full[number], person, why.get(number)) for number in ids if number in full]


def _sent_back(spools: Iterable[Spool]) -> dict[int, tuple[str, str]]:
    """Return the newest deed that sent each back, and why; asked for only where one comes back."""
    ids = [spool.id for spool in spools if spool.the_standing.attempts > 1 or _welded_before(spool)]
    if not ids:
        return {}
    back = Event.objects.filter(spool_id__in=ids, code__in=["rejected", "weld_again"], undone_by=None)
    return {
        spool: (code, why) for spool, code, why in back.order_by("number").values_list("spool_id", "code", "reason")
    }


def _welded_before(spool: Spool) -> bool:
    """Tell whether a weld is open that somebody had made once."""
    return spool.next_step in PUT_TOGETHER and spool.next_step in spool.the_standing.by


def _can_go_on(spool: Spool, person: Person) -> bool:
    return not spool.hold_count and spool.next_step != "cut" and not _own_weld(spool, person)


def _own_weld(spool: Spool, person: Person) -> bool:
    """Whoever welded it waits for somebody else to accept it."""
    return spool.next_step == "accepted" and spool.the_standing.by.get("welded") == str(person.id)


def hand_of(bench: Bench, spool: Spool, person: Person, back: tuple[str, str] | None = None) -> Hand:
    """Return one spool's card at a bench."""
    finds = f"{spool.label} {spool.tie_in.mark} S{spool.id}-{spool.letter} {spool.tag}".lower()
    taps, own = taps_at(bench, spool, person), _own_weld(spool, person)
    code, why = back or ("", "")
    return Hand(spool, taps, track_of(spool), finds.strip(), own, why, to_do_over=code == "weld_again")


def taps_at(bench: Bench, spool: Spool, person: Person) -> tuple[StepOffer, ...]:
    """Return the steps that can be tapped at this bench, in the order of the table."""
    offers = [offer for offer in offers_of(spool, person) if offer.code in BENCH_STEPS]
    if bench.operations:
        here = set(bench.operations) | ({"accepted"} if PUT_TOGETHER & set(bench.operations) else set())
        offers = [offer for offer in offers if offer.code in here]
    return tuple(offer for offer in offers if offer.code != "accepted" or spool.next_step == "accepted")


def spool_meant(text: str, person: Person) -> int | None:
    """Return the spool of a scanned ticket, a mark or a steel tag: the very build of paper, the newest of a mark."""
    found = find(text, person)
    return found.spools[0].id if found.spools and found.read_as in {"ticket", "mark", "tag"} else None


def old_paper_at(spool_id: int | None, person: Person) -> OldPaper | None:
    """Return what the paper of a build that no longer counts answers; None for one that does."""
    if spool_id is None:
        return None
    spool = (
        Spool.objects.for_person(person)
        .for_lists()
        .select_related("shop", "reading")
        .prefetch_related("pieces")
        .filter(id=spool_id)
        .first()
    )
    return old_paper_of(spool) if spool else None


def to_accept(person: Person) -> SpoolQuerySet:
    """Return the welded spools that wait for somebody to look and measure."""
    return Spool.objects.for_person(person).in_shop().filter(next_step="accepted").for_lists().order_by("due_at", "id")


def latest_here(bench: Bench) -> list[Event]:
    """Return the last taps at a bench, for undoing a slip."""
    return list(
        Event.objects.filter(~Exists(Event.objects.filter(undoes=OuterRef("id"))), bench=bench, code__in=BENCH_STEPS)
        .select_related("person", "spool__tie_in")
        .order_by("-received_at", "-id")[:LATEST]
    )
