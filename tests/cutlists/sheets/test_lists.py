"""Lists of the saw, the bench, the truck and the office: what is printed is what was stored, and totals add up."""

import os
from dataclasses import replace

import pytest

from cutlists.sheets.bench_list import write_bench_list
from cutlists.sheets.claim import write_claim
from cutlists.sheets.cut_plan import write_cut_plan
from cutlists.sheets.delivery import TWO_PERSON_LB, write_delivery
from cutlists.sheets.figures import LB_PER_KG, envelope_text, weight_text
from cutlists.sheets.jig_slip import write_field_log, write_jig_slip
from cutlists.sheets.load_list import TAG_CHECK, write_load_list
from cutlists.sheets.tag_list import write_tag_list
from cutlists.sheets.turnaround import write_turnaround
from cutlists.sheets.turnover import write_turnover
from tests.cutlists.sheets.pdf_reading import all_text, codes, lengths_on, open_pdf, printed, write
from tests.cutlists.sheets.samples import lists, records, sample

SAMPLES = int(os.environ.get("SHEET_SAMPLES", "5"))


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_cut_and_its_tape_position_reads_back_in_order(units: str) -> None:
    half = 25.4 / 32 if units == "us" else 0.5
    for seed in range(SAMPLES):
        plan = lists.cut_plan(seed, units=units)
        words = [word for page in open_pdf(write(write_cut_plan, plan)) for word in printed(page)]
        left = lengths_on(words, units=units)
        for cut in (cut for bar in plan.bars for cut in bar.cuts):
            for mm in (cut.length_mm, cut.tape_mm):
                near = [read for read in left if abs(read - mm) <= half + 1e-9]
                assert near, (seed, mm)
                left.remove(near[0])


def test_a_plan_prints_every_bar_once_and_says_where_one_goes_on() -> None:
    for seed in range(SAMPLES):
        plan = lists.cut_plan(seed)
        said = all_text(write(write_cut_plan, plan))
        for bar in plan.bars:
            assert said.count(f"BAR {bar.number}") == 1 + sum(
                text.startswith(f"NPS {bar.nps}") and "continued" in text for text in _after(said, f"BAR {bar.number}")
            )


def _after(said: list[str], head: str) -> list[str]:
    return [said[at + 1] for at, text in enumerate(said[:-1]) if text == head]


def test_what_is_cut_already_says_done_and_no_sign_is_left_out_of_the_font() -> None:
    plan = sample("cut_plan", 3)
    first = plan.bars[0]
    cut = replace(first, cuts=(replace(first.cuts[0], done=True), *first.cuts[1:]))
    said = all_text(write(write_cut_plan, replace(plan, bars=(cut, *plan.bars[1:]))))
    assert said.count("done") == 1
    assert not any(text.endswith("?") for text in said)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_load_list_adds_up_as_a_driver_adds_it_up(units: str) -> None:
    for seed in range(SAMPLES):
        sheet = lists.load(seed, units=units)
        said = all_text(write(write_load_list, sheet))
        unit = " lb" if units == "us" else " kg"
        weights = [float(t.removesuffix(unit).replace(",", "")) for t in said if t.endswith(unit) and t[0].isdigit()]
        total = next(text for text in said if text.endswith(f"{unit} black"))
        assert len(weights) == len(sheet.lines)
        assert f"{sum(weights):,.{0 if units == 'us' else 1}f}{unit} black" in total
        assert total.startswith(f"{len(sheet.lines)} spool")


@pytest.mark.parametrize("units", ["us", "metric"])
def test_longer_leg_and_check_dimension_of_every_spool_read_back(units: str) -> None:
    half = 25.4 / 32 if units == "us" else 0.5
    for seed in range(SAMPLES):
        sheet = lists.load(seed, units=units)
        words = [word for page in open_pdf(write(write_load_list, sheet)) for word in printed(page)]
        left = lengths_on(words, units=units)
        for mm in (mm for line in sheet.lines for mm in (line.longer_leg_mm, line.check_mm)):
            near = [read for read in left if abs(read - mm) <= half + 1e-9]
            assert near, (seed, mm)
            left.remove(near[0])


def test_the_envelope_is_rounded_up_so_that_the_kettle_is_never_too_short() -> None:
    assert envelope_text((254.0, 254.1, 12.0), "us") == "10 × 11 × 1 in"
    assert envelope_text((1440.0, 1441.0, 9.0), "metric") == "1440 × 1450 × 10 mm"


def test_the_tag_check_tells_a_copied_list_from_another() -> None:
    sheet = lists.load(3)
    tags = sum(int(line.tag) for line in sheet.lines)
    said = " ".join(all_text(write(write_load_list, sheet)))
    assert f"add up to {tags}, over {TAG_CHECK} leaves {tags % TAG_CHECK}" in said


def test_every_tag_has_its_line_and_every_rack_its_count() -> None:
    for seed in range(SAMPLES):
        sheet = lists.load(seed)
        said = all_text(write(write_load_list, sheet))
        assert all(line.tag in said for line in sheet.lines)
        assert all(
            any(text.startswith(f"rack {rack.name} · {len(rack.lines)} ") for text in said) for rack in sheet.racks
        )


def test_a_safety_note_is_printed_to_its_last_word() -> None:
    note = "VENT 2 holes 1/2 in at the pad; sealed until drilled, high point tagged, low point drained"
    sheet = lists.load(3, spools=1)
    rack = replace(sheet.racks[0], lines=(replace(sheet.lines[0], notes=note),))
    assert note in " ".join(all_text(write(write_load_list, replace(sheet, racks=(rack,)))))


def test_the_code_of_a_load_decodes() -> None:
    sheet = lists.load(5)
    assert codes(open_pdf(write(write_load_list, sheet))[0]) == [sheet.code.address]


def test_above_fifty_pounds_two_persons_lift() -> None:
    sheet = lists.delivery(3)
    at_limit, above = TWO_PERSON_LB / LB_PER_KG, TWO_PERSON_LB / LB_PER_KG + 0.1
    lines = (replace(sheet.lines[0], mass_kg=at_limit), replace(sheet.lines[0], mass_kg=above))
    said = all_text(write(write_delivery, replace(sheet, lines=lines)))
    assert said.count("2 PERSONS") == 1


def test_a_delivery_keeps_the_walking_order() -> None:
    for seed in range(SAMPLES):
        sheet = lists.delivery(seed)
        said = all_text(write(write_delivery, sheet))
        stations = {line.station for line in sheet.lines}
        assert [text for text in said if text in stations] == [line.station for line in sheet.lines]


def test_a_bench_list_names_every_spool_under_its_setup() -> None:
    for seed in range(SAMPLES):
        sheet = lists.bench(seed)
        said = all_text(write(write_bench_list, sheet))
        count = sum(len(setup.lines) for setup in sheet.setups)
        hours = sum(line.hours for setup in sheet.setups for line in setup.lines)
        assert any(text.startswith(f"{count} spool") and f"{hours:.1f} h" in text for text in said)
        assert sum(text.startswith("set up for") for text in said) >= len(sheet.setups)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_jig_slip_shows_what_each_master_must_read_twice(units: str) -> None:
    slip = records.jig_slip(1, units=units)
    words = [word for page in open_pdf(write(write_jig_slip, slip)) for word in printed(page)]
    said = [word.text for word in words]
    assert said.count("165°") == said.count("75°") == 2
    if units == "metric":
        assert said.count("1219 mm") == 2


def test_a_field_log_leaves_room_for_seven_readings_on_each_line() -> None:
    log = records.field_log(2)
    assert all(line.station in " ".join(all_text(write(write_field_log, log))) for line in log.lines)


def test_every_tag_to_stamp_is_printed_in_order() -> None:
    for seed in range(SAMPLES):
        sheet = records.tags(seed)
        said = [text for text in all_text(write(write_tag_list, sheet)) if text.isdigit() and len(text) == 5]
        assert tuple(said) == sheet.tags


def test_a_turnover_record_says_when_the_check_was_not_taken() -> None:
    sheet = records.turnover(3)
    line = replace(sheet.lines[0], measured_mm=None)
    assert "not taken" in all_text(write(write_turnover, replace(sheet, lines=(line,))))


def test_a_turnover_record_prints_the_included_angle_and_what_was_found() -> None:
    record = sample("turnover", 1)
    line = replace(record.lines[0], included_deg=127.5, found_deg=127.27)
    said = all_text(write(write_turnover, replace(record, lines=(line,))))
    assert {"127.5°", "127.27°", "included", "found"} <= set(said)


def test_what_was_said_of_a_missing_spool_is_read_in_two_lines_at_most() -> None:
    claim = sample("claim", 1)
    words = "not on the truck; the counter has no line for its tag and looks through the racks"
    line = replace(claim.lines[0], said=words, turn_deg=52.5)
    said = all_text(write(write_claim, replace(claim, lines=(line,))))
    assert "52.5°" in said
    parts = [text for text in said if len(text) > 12 and text in words]
    assert " ".join(parts) == words
    assert len(parts) <= 2


def test_a_sheet_without_revisions_has_no_rev() -> None:
    for revision, there in (("", False), ("B", True)):
        claim = sample("claim", 1)
        said = all_text(write(write_claim, replace(claim, heading=replace(claim.heading, revision=revision))))
        assert ("REV" in said) is there


def test_a_report_prints_its_sentence_figures_and_definitions() -> None:
    for seed in range(SAMPLES):
        sheet = records.turnaround(seed)
        said = " ".join(all_text(write(write_turnaround, sheet)))
        assert sheet.sentence in said
        assert all(figure.value in said and figure.note in said for figure in sheet.figures)
        assert all(text in said for text in (*sheet.forecast, *sheet.definitions))


def test_weights_are_written_in_whole_pounds_or_half_kilograms() -> None:
    assert weight_text(38.1, "us") == "84 lb"
    assert weight_text(38.1, "metric") == "38.0 kg"
    assert weight_text(1000.3, "us") == "2,205 lb"
