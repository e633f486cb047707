"""Signing in as a person does."""

from urllib.parse import urlsplit

from playwright.sync_api import Page

from tests.browser.live_shop import LiveShop
from tests.browser.seeds import PASSWORD


def sign_in(page: Page, shop: LiveShop, username: str, path: str = "/") -> None:
    """Sign somebody in by the page, and go on to a path."""
    page.goto(f"{shop.url}/sign-in/?next={path}")
    page.fill("input[name=username]", username)
    page.fill("input[name=password]", PASSWORD)
    page.click("main button[type=submit]")
    page.wait_for_url(lambda url: urlsplit(url).path != "/sign-in/")
