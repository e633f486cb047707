"""Mail once a server is named: each person gets what came since the last mail, once, and a mail that fails waits."""

from datetime import timedelta
from smtplib import SMTPException

import pytest
from django.core import mail

from spools import mailing
from spools.actions.hold_spool import hold_spool
from spools.actions.rush_spool import rush_spool
from spools.flow.roles import Role
from spools.mailing import SETTLE, mail_notices
from tests.factories.people import make_person
from tests.factories.spools import NOON, make_key, make_spool

pytestmark = pytest.mark.django_db
LATER = NOON + SETTLE


@pytest.fixture
def spool():
    return make_spool()


@pytest.fixture
def foreman(spool):
    return make_person(spool.shop, Role.FOREMAN, name="Kellan")


@pytest.fixture
def manager(spool):
    person = make_person(spool.shop, Role.MANAGER, name="Dorn")
    person.email = "dorn@shop.example"
    person.save()
    mail_notices(NOON - timedelta(hours=1))  # the first round only marks where the mails begin
    return person


def rush(spool, foreman, at=NOON, reason="apron pour"):
    rush_spool(spool_id=spool.id, person=foreman, key=make_key(), at=at, reason=reason)


def test_one_mail_says_what_came_whose_it_is_and_where_the_whole_list_is(spool, foreman, manager, settings):
    settings.PUBLIC_ADDRESS = "https://shop.example"
    rush(spool, foreman)
    hold_spool(spool_id=spool.id, person=foreman, key=make_key(), at=NOON, reason="no elbow", owner="Dorn")
    assert mail_notices(LATER) == 1
    (sent,) = mail.outbox
    assert sent.to == ["dorn@shop.example"]
    assert sent.subject == "214: Rush by Kellan: apron pour and 1 more"
    assert "Tue 24 Nov 09:00  214: Rush by Kellan: apron pour (you answer for the date)" in sent.body
    assert "(it is your move)" in sent.body
    assert "https://shop.example/notices/" in sent.body


def test_nothing_is_mailed_twice(spool, foreman, manager):
    rush(spool, foreman)
    assert mail_notices(LATER) == 1
    assert mail_notices(LATER) == 0
    rush(spool, foreman, at=NOON + timedelta(hours=1), reason="once more")
    assert mail_notices(NOON + timedelta(hours=2)) == 1
    assert "apron pour" not in mail.outbox[-1].body


def test_an_event_is_let_settle_first(spool, foreman, manager):
    rush(spool, foreman)
    assert mail_notices(NOON + SETTLE - timedelta(seconds=1)) == 0
    assert mail_notices(LATER) == 1


def test_a_mail_that_fails_is_tried_again(spool, foreman, manager, monkeypatch):
    rush(spool, foreman)

    def broken(*_):
        raise SMTPException("greylisted")

    with monkeypatch.context() as patched:
        patched.setattr(mailing, "send_mail", broken)
        assert mail_notices(LATER) == 0
    assert mail_notices(LATER) == 1
    assert len(mail.outbox) == 1


def test_whoever_has_no_address_or_nothing_of_theirs_gets_none(spool, foreman, manager):
    make_person(spool.shop, Role.MANAGER)  # no address
    driver = make_person(spool.shop, Role.DRIVER)
    driver.email = "driver@shop.example"
    driver.save()
    mail_notices(NOON - timedelta(minutes=1))
    rush(spool, foreman)
    mail_notices(LATER)
    assert [sent.to for sent in mail.outbox] == [["dorn@shop.example"]]


def test_somebody_new_is_not_mailed_the_past(spool, foreman, manager):
    rush(spool, foreman)
    new = make_person(spool.shop, Role.MANAGER)
    new.email = "new@shop.example"
    new.save()
    mail_notices(LATER)
    assert [sent.to for sent in mail.outbox] == [["dorn@shop.example"]]
