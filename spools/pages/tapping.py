"""What a tap at a bench says: whose it is, when it was tapped, and the step or the undo it stands for."""

from datetime import datetime, timedelta

from spools.actions.record_step import Tap
from spools.actions.record_with_tag import record_with_tag
from spools.actions.undo_event import undo_event
from spools.errors import ShopError, not_found
from spools.flow.steps import BY_CODE
from spools.models import Bench, Person, Spool
from spools.pages.asking import ShopRequest, posted_key, posted_number
from spools.pages.typed_checks import typed_check_mm, typed_included_deg
from spools.sign_on import vouched
from spools.ticket_codes import read_ticket

LONG_AGO = timedelta(days=14)


def tapped(request: ShopRequest, bench: Bench, at: datetime) -> tuple[str, str]:
    """Record one tap and return what became of it: ``kept`` or ``first``, and the words."""
    posted = request.POST
    done_at = when_tapped(posted.get("done_at", ""), posted.get("sent_at", ""), at)
    person = whose(request, at, done_at)
    spool = _spool(posted.get("spool", ""), person)
    if posted.get("undo"):
        undone = undo_event(
            spool_id=spool.id,
            number=posted_number(posted["undo"]),
            person=person,
            key=posted_key(request),
            at=at,
            reason=posted.get("reason", "").strip()[:300],
            also=posted.get("also") == "yes",
        )
        return "kept", f"{spool.label}: {_word(undone.event.details['undoes_code'])} undone"
    recorded = record_with_tag(
        spool_id=spool.id,
        step=posted.get("step", ""),
        person=person,
        key=posted_key(request),
        at=at,
        tap=Tap(
            targets=tuple(posted.getlist("target")),
            bench_id=bench.id,
            check_mm=typed_check_mm(posted.get("check", "").strip()[:40], spool.tie_in.job.units),
            included_deg=typed_included_deg(posted.get("included", "")),
            procedure=posted.get("procedure", "")[:30],
            already=posted.get("already") == "yes",
            done_at=done_at,
            reason=posted.get("reason", "").strip()[:300],
        ),
        tag=posted.get("tag", ""),
    )
    if recorded.words:
        return "first", f"{spool.label}: {recorded.words}"
    return "kept", f"{spool.label}: {_word(recorded.event.code)}"


def _word(code: str) -> str:
    return BY_CODE[code].word if code in BY_CODE else code


def whose(request: ShopRequest, at: datetime, done_at: datetime) -> Person:
    """Return whose tap it is: the name that was pressed when it was tapped, else who is signed in."""
    text = request.POST.get("who", "")
    if not text or text == str(request.user.id):
        return request.user
    number = posted_number(text)
    account: Person = getattr(request, "account", request.user)
    if number == account.id:
        return account
    found = Person.objects.filter(id=number, shop_id=request.user.the_shop_id, is_active=True).first()
    if found is None:
        raise not_found("person of that name")
    if not vouched(request, number, at=at, done_at=done_at):
        raise ShopError(
            "sign_on",
            f"{found} is not signed on at this tablet any more.",
            f"Let {found} sign on with the four digits; then it goes by itself.",
            status=403,
        )
    return found


def when_tapped(done_text: str, sent_text: str, at: datetime) -> datetime:
    """Return when it was tapped, with the tablet's clock put right by how far it was off as it sent."""
    done, sent = _moment(done_text), _moment(sent_text)
    if done is None or sent is None:
        return at
    return max(min(done + (at - sent), at), at - LONG_AGO)


def _moment(text: str) -> datetime | None:
    try:
        found = datetime.fromisoformat(text[:40])
    except ValueError:
        return None
    return found if found.tzinfo else None


def _spool(text: str, person: Person) -> Spool:
    """Return the spool of a number, or of the code on its paper."""
    paper = read_ticket(text)
    number = paper.spool_id if paper else posted_number(text)
    found = Spool.objects.for_person(person).select_related("tie_in__job").filter(id=number).first()
    if found is None or (paper and paper.letter != found.letter):
        raise not_found("spool of that number")
    return found
