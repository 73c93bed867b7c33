"""The ledger in a real browser: entries made, refused and struck; no fault by axe-core, no line too wide."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import LEFT_OUT, axe_source, violations

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import browser, opened, server

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

    from tests.make.browser import Server

__all__ = ["browser", "server"]  # fixtures


def test_a_roll_on_the_page(browser: Browser, server: Server, tmp_path: Path) -> None:
    """By the keyboard's names alone: a roll is entered, some is used, too much is refused, a mistake is struck."""
    with opened(browser, server, locale="en-US", viewport={"width": 360, "height": 800}) as page:
        page.get_by_role("link", name="On hand").click()
        expect(page.get_by_text("Nothing is on hand")).to_be_visible()
        expect(page.locator(".field.needed")).to_have_count(3)  # said before one enters: name, length, width
        for label, text in (("Name", "canvas <b>"), ("Length", "25 yd"), ("Full width", "60"), ("Shade lot", "A12")):
            page.get_by_label(label, exact=True).fill(text)
        enter = page.get_by_role("button", name="Enter", exact=True)
        enter.click()
        expect(page.get_by_role("row", name="roll 1 canvas <b> A12 60 in 25.00 yd")).to_be_visible()
        page.get_by_label("Used", exact=True).check()
        page.get_by_label("Amount", exact=True).fill("26 yd")
        enter.click()
        expect(page.get_by_text("roll 1 has 25.00 yd left")).to_be_visible()
        page.get_by_label("Amount", exact=True).fill("2 1/2 yd")
        enter.click()
        expect(page.get_by_role("cell", name="22.50 yd")).to_be_visible()
        page.get_by_role("button", name="Strike entry 2").click()
        page.get_by_role("dialog").get_by_role("button", name="Strike").click()
        expect(page.get_by_text("used 2 1/2 yd of roll 1 (struck by entry 3)")).to_be_visible()
        expect(page.get_by_role("cell", name="25.00 yd")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        assert violations(page, axe_source(tmp_path)) == []
        with page.expect_download() as saved:
            page.get_by_role("link", name="Workbook").click()
        assert saved.value.suggested_filename == "ledger.xlsx"
