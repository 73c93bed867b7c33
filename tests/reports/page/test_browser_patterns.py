"""A pattern file as a conversation, in a browser: looked at, decided on, applied, used; the next one by its legend."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import LEFT_OUT, Api, axe_source, violations
from tests.make.layered import DECIDED, LAYERED

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import browser, opened, server
from tests.reports.page.test_browser_notebook import BAG

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    from tests.make.browser import Server

__all__ = ["browser", "server"]  # fixtures

BY_HAND = {number: DECIDED[number] for number in (1, 2, 3, 4, 8)}

WORDS = {
    "piece": "Cut line",
    "sew line": "Sew line",
    "grain": "Grainline",
    "frame": "Frame, test square",
    "left out": "Left out",
}


def send(page: Page, name: str, text: str) -> None:
    """Choose a file of patterns, and wait until it is shown."""
    page.get_by_label(re.compile("A pattern file")).set_input_files(
        {"name": name, "mimeType": "image/svg+xml", "buffer": text.encode()}
    )
    expect(page.locator(".reading h2").first).to_have_text(name)


def test_decide_apply_use(browser: Browser, server: Server, tmp_path: Path) -> None:
    """Each line is said to be what it is, a point moved by keys and taken back; applied, remembered and laid."""
    with opened(browser, server, locale="en-US", viewport={"width": 1280, "height": 900}) as page:
        cloth = {"name": "rust canvas", "width": "60 in", "spread": "open"}  # the pieces are cut once each
        project = Api(page, server.base).project("From files", BAG | {"fabric": [cloth]})
        page.goto(f"{server.base}/#/{project}/uploads")
        send(page, "layered.svg", LAYERED)
        rows = page.locator(".outline-row")
        for number, role in BY_HAND.items():
            rows.nth(number - 1).click()
            page.get_by_label("What it is").select_option(role)
            expect(rows.nth(number - 1)).to_contain_text(WORDS[role])
        rows.first.click()
        page.get_by_label("Name").fill("Front")
        page.get_by_role("button", name="Correct its points").click()
        page.locator(".handle").first.focus()
        page.keyboard.press("Shift+ArrowLeft")
        expect(page.locator(".handle").first).to_have_attribute("aria-label", "Point 1 of 4, moved 3/8 in")
        assert violations(page, axe_source(tmp_path)) == []
        page.get_by_role("button", name="Undo").click()
        expect(page.get_by_role("button", name="Use these pieces")).to_be_disabled()
        page.get_by_role("button", name="Apply").click()
        expect(page.get_by_text("layer 'red': sew line")).to_be_visible()
        expect(page.get_by_text("8: <path>: you said so")).to_be_visible()
        expect(page.locator(".pieces figure")).to_have_count(3)
        send(page, "next.svg", LAYERED.replace("H320V420", "H330V430"))
        expect(page.get_by_text("By your legend: 4 of the lines.")).to_be_visible()
        expect(rows.nth(2)).to_contain_text("By your legend")
        page.get_by_role("button", name="Use these pieces").click()
        page.get_by_role("button", name="Answer →").click()
        expect(page.locator(".on-cloth")).to_have_count(4)
        expect(page.locator(".bought .figure-large").first).to_have_text(re.compile(r"\d.* yd$"))
