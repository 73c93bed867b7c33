"""The help in a real browser: Debian's Chromium, driven by Playwright, at a server in a process of its own."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from reports.help.topics import topic_names
from tests.make.browser import LEFT_OUT, axe_source, violations

if not os.environ.get("ELLWAND_BROWSER"):  # CI sets it: there, a browser that is missing is a failure
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import browser, opened, server

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

    from tests.make.browser import Server

__all__ = ["browser", "server"]  # fixtures


def test_opens_beside_the_page(browser: Browser, server: Server) -> None:
    """The page's link opens the help in another tab; a topic is one click away, and its picture is drawn."""
    with opened(browser, server) as page:
        with page.context.expect_page() as another:
            page.get_by_role("link", name="Help").click()
        shown = another.value
        shown.get_by_role("article").get_by_role("link", name="buy", exact=True).click()
        expect(shown.get_by_role("heading", level=1)).to_have_text("What to buy")
        assert shown.locator("article img").evaluate("image => image.decode().then(() => image.naturalWidth)") > 500
        expect(page.locator("#main .view")).to_be_visible()


@pytest.mark.parametrize(("scheme", "width"), [("light", 1280), ("dark", 360)])
def test_accessible(browser: Browser, server: Server, tmp_path: Path, scheme: str, width: int) -> None:
    """axe-core finds nothing wrong with any topic, none is wider than the window, nothing comes from outside."""
    axe, found = axe_source(tmp_path), {}
    with opened(browser, server, color_scheme=scheme, viewport={"width": width, "height": 900}) as page:
        for name in ("", "nothing", *topic_names()):
            page.goto(f"{server.base}/help/{name}")
            found[name] = violations(page, axe)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, name
    assert {name: wrong for name, wrong in found.items() if wrong} == {}
