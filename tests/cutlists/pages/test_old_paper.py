"""Paper that somebody could still work by isn't printed once its build has ended; its record is."""

import pytest
from django.urls import reverse

from cutlists.models import PaperJob
from tests.cutlists.conftest import cuts_of
from tests.factories.spools import CLOSES, take


@pytest.mark.parametrize("sheet", ["ticket", "spool_sheet", "wrap"])
def test_old_paper_is_not_printed_again(saw, sign_in, sheet):
    old = saw.spool()
    client = sign_in(saw.foreman)
    address = f"/sheets/{sheet}/{old.id}.pdf"
    newer = take(old.tie_in, CLOSES, again=True).spool
    answer = client.get(address)
    assert answer.status_code == 409
    assert "214 build A was superseded: its paper isn" in answer.content.decode()
    assert address not in client.get(f"/spools/{old.id}/").content.decode()
    assert client.get(f"/sheets/turnover/{old.id}.pdf").content.startswith(b"%PDF")
    assert client.get(f"/sheets/ticket/{newer.id}.pdf").content.startswith(b"%PDF")


def test_the_saw_prints_no_label_of_a_build_that_has_ended(saw, sign_in):
    old = saw.spool()
    saw.bars(1)
    (first, *_) = cuts_of(saw.plan())
    client = sign_in(saw.cutter)
    assert client.get(f"/saw/cuts/{first.id}/label.pdf").content.startswith(b"%PDF")
    take(old.tie_in, CLOSES, again=True)
    assert client.get(f"/saw/cuts/{first.id}/label.pdf").status_code == 409


def test_a_packet_ticked_before_a_build_ended_is_refused_whole(saw, sign_in):
    old, other = saw.spool(), saw.spool()
    take(old.tie_in, CLOSES, again=True)
    form = {"sheet": "cut_ticket", "paper": "letter", "spool": [old.id, other.id], "key": "key-of-the-packet"}
    answer = sign_in(saw.foreman).post(reverse("paper-new"), form)
    assert answer.status_code == 409
    assert "214 build A was superseded" in answer.content.decode()
    assert not PaperJob.objects.exists()
