"""Text made fit for print."""

from cutlists.sheets.fonts import FIGURE, LONGEST_TEXT, TEXT, fit, printable, rise, width_mm, wrap

FIGURES = "0123456789 '\"-/·±°½×–…()"


def test_markup_is_printed_as_text() -> None:
    assert printable("<b>214</b> & <font size=99>") == "<b>214</b> & <font size=99>"


def test_control_characters_become_blanks_and_direction_marks_vanish() -> None:
    assert printable("2\x001\n4\t-\u202eA\u200f\ud800") == "2 1 4 -A"


def test_a_letter_that_the_typeface_lacks_is_a_question_mark() -> None:
    assert printable("\u05d0\u05d1 214 \u26a0") == "?? 214 ?"


def test_accents_are_composed() -> None:
    assert printable("n\u0303") == "ñ"


def test_a_text_without_end_is_capped() -> None:
    assert len(printable("W" * 100_000)) == LONGEST_TEXT


def test_every_figure_and_sign_that_we_print_is_in_both_weights() -> None:
    assert printable(FIGURES) == FIGURES


def test_a_text_shrinks_to_its_room() -> None:
    text, size = fit("SHAFT-2-WEST-0173", font=FIGURE, size_mm=20.0, room_mm=60.0, smallest_mm=2.0)
    assert text == "SHAFT-2-WEST-0173"
    assert 59.0 < width_mm(text, FIGURE, size) <= 60.0 + 1e-6


def test_a_text_too_long_for_the_smallest_size_ends_in_an_ellipsis_inside_its_room() -> None:
    text, size = fit("W" * 300, font=TEXT, size_mm=5.0, room_mm=30.0, smallest_mm=2.0)
    assert size == 2.0
    assert text.endswith("…")
    assert width_mm(text, TEXT, size) <= 30.0


def test_broken_lines_keep_every_word() -> None:
    said = "vent two holes at the pad, sealed until drilled, high point tagged"
    lines = wrap(said, font=TEXT, size_mm=3.0, room_mm=40.0, most_lines=9)
    assert " ".join(lines) == said
    assert all(width_mm(line, TEXT, 3.0) <= 40.0 for line in lines)


def test_accented_capitals_stand_higher() -> None:
    assert rise("214-A") == 1.0
    assert rise("ÄÖ-1") > 1.0
