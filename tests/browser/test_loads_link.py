"""The counter's phone: no account, one load, racks in one tap, a bad line, a finger's signature; one day, in order."""

import base64
import json

from playwright.sync_api import Page, expect

from tests.browser.day_people import DayPeople, events_of, spool_number, standing_of

DAY = "loads_day"


def link_of(people: DayPeople, load: int) -> str:
    """The address that the load's sheet prints, as the driver's page shows it."""
    return people.at("Quist", f"/loads/{load}/").locator("a:has-text('line by line')").get_attribute("href")


class Fingers:
    """Taps on the counter's page, counted."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps = page, 0

    def tap(self, selector: str, has_text: str | None = None) -> None:
        self.taps += 1
        self.page.locator(selector, has_text=has_text).locator("visible=true").first.click()

    def row(self, number: int) -> str:
        return f"#line-{number}"

    def sign(self, name: str) -> None:
        self.page.fill("#name", name)
        expect(self.page.locator("#outbox [data-unsent]")).to_have_count(0)  # nothing moves the box away any more
        box = self.page.locator("#pad")
        box.scroll_into_view_if_needed()
        at = box.bounding_box()
        mouse = self.page.mouse
        mouse.move(at["x"] + 20, at["y"] + 40)
        mouse.down()
        for step in range(1, 9):
            mouse.move(at["x"] + 20 + 25 * step, at["y"] + 40 + (15 if step % 2 else -15))
        mouse.up()
        self.tap("#sign button.deed")


def settled(shop, load: int) -> dict[str, str]:
    sql = (
        "SELECT t.mark, l.settled FROM spools_loadline l JOIN spools_spool s ON s.id = l.spool_id "
        "JOIN spools_tiein t ON t.id = s.tie_in_id WHERE l.load_id = ? ORDER BY t.mark"
    )
    return dict(shop.rows(sql, load))


def test_handing_over_is_ticked_and_signed_and_moves_nothing(day, people, phone):
    phone.goto(link_of(people, 1))
    hand = Fingers(phone)
    expect(phone.locator(".phase input:checked")).to_have_value("drop")
    hand.tap(".tally-bar button", has_text="All on the truck: 6 of 6")
    expect(phone.locator(".tally-says")).to_contain_text("6 of 6 handed over")
    hand.sign("M. Tran")
    expect(phone.locator(".signed")).to_contain_text("M. Tran, handed over to the galvanizer, 6 of 6")
    assert set(settled(day, 1).values()) == {""}
    (strokes,) = day.rows("SELECT strokes FROM spools_signature")[0]
    assert len(json.loads(strokes)[0]) > 5


def test_a_whole_rack_that_matches_is_one_tap_and_a_row_is_20_mm_high(day, people, phone):
    phone.goto(link_of(people, 1))
    hand = Fingers(phone)
    expect(phone.locator(".phase input:checked")).to_have_value("back")  # it was handed over: now it comes back
    row = phone.locator(".count-line .tick").first.bounding_box()
    assert row["height"] >= 126  # 20 mm where an inch is 160 of a phone's pixels
    hand.tap(".rack[data-rack='1'] .all-of")
    expect(phone.locator(".tally-says")).to_contain_text("3 of 6 back, 3 still out")
    expect(phone.locator(".rack[data-rack='1'] .stands").first).to_have_text("here")
    assert hand.taps == 1
    assert events_of(day, "612")[-1] == "back"


def test_a_rack_short_by_one_is_three_taps_and_the_missing_one_reaches_the_foreman(day, people, phone):
    phone.goto(link_of(people, 1))
    phone.fill("#name", "M. Tran")
    hand = Fingers(phone)
    lost = spool_number(day, "615")
    hand.tap(f"{hand.row(lost)} .not-right")
    hand.tap(f"{hand.row(lost)} button", has_text="nobody has it")
    hand.tap(".rack[data-rack='2'] .all-of")
    expect(phone.locator(".tally-says")).to_contain_text("5 of 6 back. All accounted for.")
    assert hand.taps == 3
    expect(phone.locator(".count-line[data-state='back']")).to_have_count(5)
    expect(phone.locator(f"{hand.row(lost)} .stands")).to_contain_text("not here: missing")
    assert settled(day, 1) == dict.fromkeys(("611", "612", "613", "614", "616"), "back") | {"615": "missing"}
    told = people.told("Kellan")
    assert "Not back from coating" in told
    assert "M. Tran, on Quist's link" in told
    assert "Not back from coating" in people.told("Quist")
    assert "Not back from coating" in people.told("Dorn")


def test_the_count_back_is_signed_and_stands_on_the_load_and_its_sheet(day, people, phone):
    phone.goto(link_of(people, 1))
    hand = Fingers(phone)
    hand.sign("R. Doyle")
    expect(phone.locator(".signed")).to_contain_text("R. Doyle, counted back, 5 of 6")
    page = people.at("Quist", "/loads/1/")
    expect(page.locator(".signature").last).to_contain_text("R. Doyle, counted back, 5 of 6")
    assert page.request.get(f"{day.url}/loads/1.pdf").body().startswith(b"%PDF")


def test_a_typed_tag_ticks_its_line_and_a_wrong_one_is_asked_back(day, people, phone):
    phone.goto(link_of(people, 4))
    tag = day.rows("SELECT tag FROM spools_spool WHERE id = ?", spool_number(day, "632"))[0][0]
    phone.fill("#tag", "99999")
    expect(phone.locator("#tag-said")).to_contain_text("99999 is not on this load")
    phone.fill("#tag", tag)
    expect(phone.locator("#tag-said")).to_contain_text(f"{tag}: here")
    expect(phone.locator(".tally-says")).to_contain_text("1 of 5 received")
    expect(phone.locator(".count-line[data-state='delivered']")).to_have_count(1)
    assert standing_of(day, "632")[:2] == ("delivered", "")


def test_a_slip_is_taken_back_in_place(day, people, phone):
    phone.goto(link_of(people, 4))
    hand = Fingers(phone)
    row = hand.row(spool_number(day, "632"))
    hand.tap(f"{row} .take-back", has_text="Undo")
    expect(phone.locator(row)).to_have_attribute("data-state", "")
    assert hand.taps == 1
    assert standing_of(day, "632")[1] == "delivered"
    assert events_of(day, "632")[-1] == "undone"


def test_on_a_bad_line_taps_wait_survive_a_closed_page_and_count_once(day, people, phone):
    address = link_of(people, 4)
    phone.goto(address)
    hand = Fingers(phone)
    day.line.cut()
    for mark in ("631", "632"):
        hand.tap(f"{hand.row(spool_number(day, mark))} .tick")
    expect(phone.locator("#outbox")).to_contain_text("NOT SENT: 2")
    expect(phone.locator(".tally-says")).to_contain_text("2 of 5 received")
    assert settled(day, 4)["631"] == ""
    context = phone.context
    phone.goto("about:blank")
    day.line.loses_every_second = True
    day.line.mend()
    again = context.new_page()
    again.goto(address)
    expect(again.locator(".count-line[data-state='delivered']")).to_have_count(2, timeout=60_000)
    expect(again.locator("#outbox [data-unsent]")).to_have_count(0)
    day.line.loses_every_second = False
    assert day.line.lost >= 2
    assert [events_of(day, mark).count("delivered") for mark in ("631", "632")] == [1, 2]  # 632: undone once before


def test_what_does_not_fit_comes_off_the_load_and_a_new_reading_makes_its_next_build(day, people, phone):
    phone.goto(link_of(people, 4))
    phone.fill("#name", "B. Osei")
    hand = Fingers(phone)
    row = hand.row(spool_number(day, "633"))
    hand.tap(f"{row} .not-right")
    hand.tap(f"{row} button", has_text="Doesn't fit: too long")
    expect(phone.locator(row)).to_have_attribute("data-state", "taken off")
    assert hand.taps == 2
    assert standing_of(day, "633")[2] == 1
    assert "Does not fit" in people.told("Kellan")
    (tie_in,) = day.rows("SELECT tie_in_id FROM spools_spool WHERE id = ?", spool_number(day, "633"))[0]
    page = people.at("Okafor", f"/field/{tie_in}/")
    for name, text in (("leg_a", "36"), ("leg_b", "22 9/16"), ("included", "127.5"), ("closing", "52 7/8")):
        page.fill(f"input[name={name}]", text)
    page.click("main button[type=submit]:visible >> nth=0")
    again = page.locator("button:has-text('new revision'), label:has-text('again'), button:has-text('again')").first
    again.click()
    page.wait_for_url("**/spools/**")
    expect(page.locator("h1")).to_contain_text("633")
    old = spool_number(day, "633", live=False)
    assert day.rows("SELECT replaces_id, build FROM spools_spool WHERE id = ?", spool_number(day, "633")) == [(old, 2)]
    assert standing_of(day, "633")[:2] == ("measured", "cut")


def test_a_photo_of_the_damage_waits_behind_the_taps_and_stands_in_the_spool_s_story(day, people, phone):
    phone.goto(link_of(people, 4))
    day.line.cut()
    hand, number = Fingers(phone), spool_number(day, "634")
    row = hand.row(number)
    assert phone.locator(f"{row} .photo-of").is_hidden()
    hand.tap(f"{row} .not-right")
    hand.tap(f"{row} button", has_text="Damaged: bent or dented")
    phone.set_input_files(f"{row} .photo-of input", [a_picture(phone)])
    expect(phone.locator(f"{row} .photo-of")).to_contain_text("1 photo taken")
    expect(phone.locator("#outbox")).to_contain_text("NOT SENT: 2")
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")
    day.line.loses_every_second = True
    day.line.mend()
    day.wait_for_rows("SELECT COUNT(*) FROM spools_photo", [(1,)])
    expect(phone.locator("#outbox [data-unsent]")).to_have_count(0, timeout=60_000)
    day.line.loses_every_second = False
    of = day.rows("SELECT e.code, e.spool_id FROM spools_photo p JOIN spools_event e ON e.id = p.event_id")
    assert of == [("damaged", number)]
    story = people.at("Kellan", f"/spools/{number}/").locator(".story img")
    expect(story).to_have_count(1)
    story.scroll_into_view_if_needed()
    expect(story).to_have_js_property("complete", True)
    assert story.evaluate("one => one.naturalWidth") == 1280


def a_picture(phone) -> dict:
    """A picture larger than the counter's page sends."""
    data = phone.evaluate(
        """async () => {
            const canvas = new OffscreenCanvas(2000, 1200);
            canvas.getContext("2d").fillRect(100, 100, 800, 600);
            const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: "image/jpeg" })).arrayBuffer());
            return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
        }"""
    )
    return {"name": "IMG 2.jpg", "mimeType": "image/jpeg", "buffer": base64.b64decode(data)}


def test_the_rest_goes_back_to_the_yard_and_may_be_loaded_again(day, people, phone):
    phone.goto(link_of(people, 4))
    hand = Fingers(phone)
    hand.tap("button", has_text="The rest goes back to the yard")
    expect(phone.locator(".count-line[data-state='taken off']")).to_have_count(3)
    expect(phone.locator(".tally-says")).to_contain_text("All accounted for.")
    hand.sign("B. Osei")
    expect(phone.locator(".signed")).to_contain_text("B. Osei, received on site, 2 of 5")
    assert settled(day, 4)["635"] == "taken off"
    page = people.at("Quist", "/loads/new/?kind=site")
    expect(page.locator(".to-load")).to_contain_text("635")


def test_an_ended_link_says_so_and_asks_for_a_new_sheet(day, people, phone):
    address = link_of(people, 1)
    page = people.at("Quist", "/loads/1/")
    page.click("summary:has-text('The link on the sheet')")
    page.click("button:has-text('Close it now')")
    expect(page.locator("main")).to_contain_text("The link is closed.")
    phone.goto(address)
    expect(phone.locator("h1")).to_contain_text("The link of load 1 has ended.")
    expect(phone.locator("main")).to_contain_text("Ask Pellworth Pipe for a new load sheet")
