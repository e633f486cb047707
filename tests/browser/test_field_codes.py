"""Pages of QR codes from one phone's screen to another one's camera: read by another reader, and by the book itself."""

import json
import zlib
from io import BytesIO

import zxingcpp
from PIL import Image
from playwright.sync_api import expect

from tests.browser.conftest import ARGS, CHROMIUM, PHONE
from tests.browser.field_phone import go, open_book, open_tie_in, queue, wait_for_count, wait_for_mark
from tests.browser.test_field_offline import fill_in

SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # RFC 9285, table 1
READINGS = 6


def base45(text: str) -> bytes:
    """Read base 45. Source: RFC 9285, section 4."""
    found = bytearray()
    for at in range(0, len(text), 3):
        value = sum(SIGNS.index(sign) * 45**place for place, sign in enumerate(text[at : at + 3]))
        found += value.to_bytes(2 if len(text) - at > 2 else 1, "big")
    return bytes(found)


def kept_and_shown(phone, shop) -> list[Image.Image]:
    """Take readings with no signal, show them as codes, and return a picture of every page."""
    shop.line.cut()
    for number in range(READINGS):
        open_tie_in(phone, str(101 + number))
        fill_in(phone, number)
        phone.click("#keep")
        wait_for_mark(phone, str(102 + number))
    go(phone, "#/show")
    phone.wait_for_selector(".code svg")
    if phone.locator("text=Hold").is_visible():
        phone.click("text=Hold")
    count = int(phone.locator("[role=status].sentence").inner_text().split()[-1])
    pictures = []
    for _ in range(count):
        pictures.append(Image.open(BytesIO(phone.locator(".code").screenshot())).convert("L"))
        phone.click("text=Next page")
    return pictures


def test_the_pages_hold_every_reading_whole_as_another_reader_reads_them(phone, open_shop):
    shop = open_shop()
    open_book(phone, shop)
    codes = sorted(
        (zxingcpp.read_barcodes(picture)[0].text.split(":", 4) for picture in kept_and_shown(phone, shop)),
        key=lambda parts: int(parts[2]),
    )
    assert {parts[0] for parts in codes} == {"FB1"}
    assert [int(parts[2]) for parts in codes] == list(range(1, int(codes[0][3]) + 1))
    given = json.loads(zlib.decompress(base45("".join(parts[4] for parts in codes))))
    left_out = {"said", "answer"}
    kept = [{name: value for name, value in row.items() if name not in left_out | {"length"}} for row in queue(phone)]
    assert sorted(given["readings"], key=lambda row: row["mark"]) == sorted(kept, key=lambda row: row["mark"])


def test_a_second_phone_scans_them_with_its_camera_and_sends_them(phone, open_shop, playwright, tmp_path):
    shop = open_shop()
    open_book(phone, shop)
    film = tmp_path / "codes.mjpeg"
    write_film(film, kept_and_shown(phone, shop))
    camera = ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"]
    browser = playwright.chromium.launch(
        executable_path=CHROMIUM, args=[*ARGS, *camera, f"--use-file-for-fake-video-capture={film}"]
    )
    other = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True).new_page()
    shop.line.mend()
    open_book(other, shop)
    other.evaluate("location.hash = '#/scan'")
    expect(other.locator("[role=status].sentence")).to_have_text(f"Taken over: {READINGS} readings.", timeout=120_000)
    go(other, "#/phone")
    other.click("text=Send now")
    wait_for_count(other, f"0 kept on this phone, {READINGS} sent")
    browser.close()
    assert shop.rows("SELECT COUNT(*), COUNT(DISTINCT key) FROM spools_reading") == [(READINGS, READINGS)]


def write_film(path, pictures: list[Image.Image]) -> None:
    """Write a film for the camera: each page for a while, as a hand holds it."""
    with path.open("wb") as film:
        for picture in pictures:
            frame = Image.new("L", (800, 800), 210)
            frame.paste(picture.resize((640, 640)), (80, 80))
            still = BytesIO()
            frame.convert("RGB").save(still, "JPEG", quality=90)
            for _ in range(12):
                film.write(still.getvalue())


def test_a_phone_that_cannot_pack_says_so_and_saves_a_file_instead(phone, open_shop):
    shop = open_shop()
    phone.add_init_script("delete globalThis.CompressionStream; delete globalThis.DecompressionStream;")
    open_book(phone, shop)
    go(phone, "#/show")
    expect(phone.locator("main")).to_contain_text("This phone is too old to show codes. Hand it over as a file instead")
    with phone.expect_download() as saved:
        phone.click("text=Save as a file")
    assert saved.value.suggested_filename.startswith("field-book-")
    go(phone, "#/scan")
    expect(phone.locator("main")).to_contain_text("This phone is too old to read codes")
    phone.click("text=Take over a file")
    expect(phone.locator("h1")).to_have_text("On this phone")
