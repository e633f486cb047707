"""The spool in 3-D: fetched when asked for, drawn, turned by a finger, with its measures; without WebGL the drawing."""

from io import BytesIO

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import expect

from tests.browser.conftest import CHROMIUM
from tests.browser.signing_in import sign_in

SOFTWARE = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]


@pytest.fixture(scope="module")
def with_webgl(playwright):
    opened = playwright.chromium.launch(executable_path=CHROMIUM, args=SOFTWARE)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def without_webgl(playwright):
    opened = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-3d-apis"])
    yield opened
    opened.close()


def spool_page(browser, shop, width=820):
    context = browser.new_context(viewport={"width": width, "height": 1000}, has_touch=True)
    page = context.new_page()
    page.said = []
    page.on("console", lambda message: page.said.append(message.text) if message.type in {"error", "warning"} else None)
    page.on("pageerror", lambda error: page.said.append(str(error)))
    page.asked = []
    page.on("request", lambda request: page.asked.append(request.url))
    sign_in(page, shop, "kellan", "/spools/1/")
    return page


def open_solid(page):
    page.locator("[data-open]").click()
    expect(page.locator(".solid-label").first).to_be_attached()
    return picture(page)


def picture(page):
    """The canvas alone, as pixels: labels and lines are put away while it is looked at."""
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    page.evaluate("document.querySelector('.solid-over').hidden = true")
    shot = page.locator(".solid-picture canvas").screenshot()
    page.evaluate("document.querySelector('.solid-over').hidden = false")
    return Image.open(BytesIO(shot)).convert("RGB")


def drawn(image):
    """The share of the picture that isn't paper, and how many shades it has."""
    counts = [count for count, _ in image.getcolors(image.width * image.height)]
    return 1 - max(counts) / image.width / image.height, len(counts)


def differing(one, other):
    apart = ImageChops.difference(one, other).getcolors(one.width * one.height)
    return sum(count for count, color in apart if color != (0, 0, 0)) / one.width / one.height


def drag(page, touches):
    """Move fingers over the canvas: each a list of (x, y) from its middle; as the browser's own touch input."""
    box = page.locator(".solid-picture canvas").bounding_box()
    x0, y0 = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = page.context.new_cdp_session(page)

    def send(kind, step):
        points = [{"x": x0 + path[step][0], "y": y0 + path[step][1], "id": n} for n, path in enumerate(touches)]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [] if kind == "touchEnd" else points})

    send("touchStart", 0)
    for step in range(1, len(touches[0])):
        send("touchMove", step)
    send("touchEnd", -1)


def test_it_is_fetched_only_when_asked_and_draws_the_spool_with_its_measures(open_shop, with_webgl):
    shop = open_shop("floor_day")
    page = spool_page(with_webgl, shop)
    page.wait_for_load_state("networkidle")
    assert not any("three" in url or "solid.json" in url for url in page.asked)
    share, shades = drawn(open_solid(page))
    assert share > 0.03
    assert shades > 30
    assert any("three.module.min.js" in url for url in page.asked)
    labels = page.locator(".solid-label:not([hidden])").all_text_contents()
    ((leg_mm, check_mm),) = shop.rows("SELECT leg_a_mm, check_mm FROM spools_spool WHERE id = 1")
    from spools.say_lengths import say_length

    assert f"leg A {say_length(leg_mm, 'us')}" in labels
    assert f"C {say_length(check_mm, 'us')}" in labels
    assert any(label.startswith("END A, to main") for label in labels)
    assert any(label.startswith("turn ") for label in labels)
    assert page.said == []


def test_one_finger_turns_it_two_bring_it_nearer_and_back_is_back(open_shop, with_webgl):
    page = spool_page(with_webgl, open_shop("floor_day"))
    first = open_solid(page)
    drag(page, [[(0, 0), (40, 5), (80, 10), (120, 15)]])
    turned = picture(page)
    assert differing(first, turned) > 0.02
    drag(page, [[(-40, 0), (-80, 0), (-120, 0)], [(40, 0), (80, 0), (120, 0)]])
    nearer = picture(page)
    assert drawn(nearer)[0] > drawn(turned)[0] * 1.5
    page.locator("[data-start]").click()
    assert differing(first, picture(page)) < 0.002
    assert page.said == []


def test_the_mouse_the_wheel_and_the_keys_turn_it_too(open_shop, with_webgl):
    page = spool_page(with_webgl, open_shop("floor_day"), 1440)
    first = open_solid(page)
    page.keyboard.press("ArrowLeft")
    by_key = picture(page)
    assert differing(first, by_key) > 0.01
    box = page.locator(".solid-picture canvas").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 90, y + 20, steps=4)
    page.mouse.up()
    by_mouse = picture(page)
    assert differing(by_key, by_mouse) > 0.01
    page.mouse.wheel(0, -400)
    assert drawn(picture(page))[0] > drawn(by_mouse)[0] * 1.2
    assert page.said == []


@pytest.mark.parametrize("width", [360, 820, 1440])
def test_its_labels_never_cover_each_other_whichever_way_it_is_turned(open_shop, with_webgl, width):
    page = spool_page(with_webgl, open_shop("floor_day"), width)
    open_solid(page)
    for _ in range(12):
        for key in ("ArrowLeft", "ArrowLeft", "ArrowLeft", "ArrowUp"):
            page.keyboard.press(key)
        boxes = page.evaluate(
            "[...document.querySelectorAll('.solid-label:not([hidden])')].map((one) => one.getBoundingClientRect())"
            ".map((box) => [box.left, box.top, box.right, box.bottom])"
        )
        assert len(boxes) >= 5
        for number, one in enumerate(boxes):
            for other in boxes[number + 1 :]:
                apart = one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]
                assert apart, boxes
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_measures_can_be_put_away_and_the_ends_stay_named(open_shop, with_webgl):
    page = spool_page(with_webgl, open_shop("floor_day"))
    open_solid(page)
    page.locator("[data-dimensions]").click()
    labels = page.locator(".solid-label:not([hidden])").all_text_contents()
    assert all(label.startswith(("END ", "UP")) for label in labels)
    assert len(labels) >= 2


def test_without_webgl_the_isometric_drawing_stands_in_and_it_is_said(open_shop, without_webgl):
    page = spool_page(without_webgl, open_shop("floor_day"))
    expect(page.locator("[data-refused]")).to_contain_text("isometric drawing above shows the same spool")
    expect(page.locator("[data-open]")).to_be_hidden()
    expect(page.locator(".views svg")).to_have_count(2)
    assert "isometric view" in page.locator(".views figure").nth(1).inner_html()
    assert not any("three" in url for url in page.asked)


def test_a_spool_whose_network_is_gone_says_so_and_can_be_asked_again(open_shop, with_webgl):
    page = spool_page(with_webgl, open_shop("floor_day"))
    page.context.set_offline(True)
    page.locator("[data-open]").click()
    expect(page.locator("[data-refused]")).to_contain_text("could not be fetched")
    page.context.set_offline(False)
    open_solid(page)
    expect(page.locator("[data-refused]")).to_be_hidden()
