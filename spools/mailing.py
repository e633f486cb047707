"""Mail people what concerns them; the list on the page is the truth, the mail only says that there is something."""

import logging
from datetime import datetime, timedelta
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import send_mail
from django.db.models import Max

from spools.models import Event, NoticeMark, Person
from spools.queries.notices import Notice, notices_for

log = logging.getLogger(__name__)
SETTLE = timedelta(seconds=30)  # an event may show up below the newest; half a minute later it has


def mail_notices(at: datetime) -> int:
    """Mail everybody with an address what came since the last mail; return how many mails went.

    Each person's mark is moved on before the mail goes, so two workers never send the same; a mail that fails moves it
    back and is tried again.
    """
    newest = Event.objects.filter(received_at__lte=at - SETTLE).aggregate(newest=Max("id"))["newest"] or 0
    people = Person.objects.filter(is_active=True, shop__isnull=False).exclude(email="")
    return sum(_mail(person, newest, at) for person in people)


def _mail(person: Person, newest: int, at: datetime) -> int:
    mark, made = NoticeMark.objects.get_or_create(person=person, defaults={"mailed_event": newest})
    before = mark.mailed_event
    if made or before >= newest:
        return 0
    if not NoticeMark.objects.filter(person=person, mailed_event=before).update(mailed_event=newest):
        return 0
    news = [one for one in notices_for(person, at=at, after=before, seen=before) if one.event.id <= newest]
    if not news:
        return 0
    try:
        send_mail(_subject(news), _text(person, news), None, [person.email])
    except (OSError, SMTPException) as trouble:
        log.warning("The mail to %s waits: %s", person.username, trouble)
        NoticeMark.objects.filter(person=person, mailed_event=newest).update(mailed_event=before)
        return 0
    return 1


def _subject(news: list[Notice]) -> str:
    first = news[-1]
    more = f" and {len(news) - 1} more" if len(news) > 1 else ""
    return f"{first.event.spool.label}: {first.words}{more}"[:150].replace("\n", " ")


def _text(person: Person, news: list[Notice]) -> str:
    zone = person.the_shop.zone
    lines = [
        f"{one.event.received_at.astimezone(zone):%a %-d %b %H:%M}  {one.event.spool.label}: {one.words} ({one.why})"
        for one in reversed(news)
    ]
    return "\n".join([*lines, "", f"The whole list: {settings.PUBLIC_ADDRESS}/notices/"])
