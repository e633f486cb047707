"""Signatures on paper: load list, delivery sheet, claim and turnover record; and the code to count by."""

from io import BytesIO

import pytest

from cutlists.papers.heading import Printing
from cutlists.papers.loads import claim_of, load_sheet_of, write_claim_of, write_load
from cutlists.papers.turnover import receipts_of, write_job_record, write_spool_record
from cutlists.sheets.frame import LETTER
from spools.actions.count_back import count_back, report_missing
from spools.actions.deliver import deliver
from spools.actions.replace_spool import start_replacement
from spools.actions.sign_load import sign_load
from spools.load_links import link_code, printed_address
from spools.models import Load, Spool
from spools.queries.loads import lines_of
from tests.cutlists.sheets.pdf_reading import all_text
from tests.factories.loads import everybody_of, make_accepted_ones, make_load
from tests.factories.spools import NOON, make_key

pytestmark = pytest.mark.django_db
DRAWN = [[[0, 0], [500, 500], [1000, 0]]]


def call(spool: Spool) -> dict:
    return {"person": everybody_of(spool), "key": make_key(), "at": NOON}


def sign(load: Load, spool: Spool, signed_for: str, name: str) -> None:
    sign_load(load_id=load.id, signed_for=signed_for, name=name, strokes=DRAWN, **call(spool))


def words(write) -> str:
    out = BytesIO()
    write(out)
    return " ".join(all_text(out.getvalue()))


def test_the_load_list_says_its_code_and_who_took_it_over() -> None:
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    sign(load, one, "handed over", "M. Tran")
    sheet = load_sheet_of(load, list(lines_of(load)), Printing(everybody_of(one), NOON))
    assert sheet.code is not None
    assert (sheet.code.typed, sheet.code.address) == (link_code(load), printed_address(load))
    assert sheet.back_by == "Tue 1 Dec 2026"
    said = words(lambda out: write_load(out, load, Printing(everybody_of(one), NOON), paper=LETTER))
    assert link_code(load) in said
    assert "count here, no account, until 15 Dec" in said
    assert "in: galvanizer: M. Tran, 2 of 2, Tue 24 Nov 09:00" in said


def test_the_receipt_on_site_stands_on_the_delivery_sheet_and_on_the_turnover_record() -> None:
    one, other = make_accepted_ones("214", "215")
    count_back(load_id=make_load(one, other).id, spool_ids=[one.id, other.id], **call(one))
    site = make_load(one, other, kind="site", key="to-the-site")
    deliver(load_id=site.id, spool_ids=[one.id], **call(one))
    sign(site, one, "received", "B. Osei")
    printing = Printing(everybody_of(one), NOON)
    assert "received: B. Osei, 1 of 2, Tue 24 Nov 09:00" in words(
        lambda out: write_load(out, site, printing, paper=LETTER)
    )
    receipt = "Received, load 2: B. Osei, 1 of 2, Tue 24 Nov 09:00."
    one.refresh_from_db()
    assert receipt in words(lambda out: write_spool_record(out, one, printing, paper=LETTER))
    assert receipt in words(lambda out: write_job_record(out, one.tie_in.job, printing, paper=LETTER))
    assert receipts_of(Spool.objects.filter(id=other.id)) == []


def test_the_claim_names_what_is_missing_by_tape_and_what_was_built_again() -> None:
    one, other = make_accepted_ones("214", "215")
    load = make_load(one, other)
    sign(load, one, "handed over", "M. Tran")
    report_missing(load_id=load.id, spool_id=other.id, reason="nobody has it", **call(one))
    start_replacement(spool_id=other.id, **call(one))
    printing = Printing(everybody_of(one), NOON)
    (line,) = claim_of(load, printing).lines
    assert (line.mark, line.said, line.replaced_by) == ("215", "nobody has it", "215 B")
    said = words(lambda out: write_claim_of(out, load, printing, paper=LETTER))
    assert "1 spool missing of 2" in said
    assert "received: M. Tran, 2 of 2" in said
