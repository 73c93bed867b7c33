"""Beside the cloth in a real browser: a lay on the table, steps without the program, the projector, keys."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING, Any

import pytest

from tests.make.browser import LEFT_OUT, Api, Server, axe_source, violations

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import browser, opened, server, show

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

__all__ = ["browser", "server"]  # fixtures


@pytest.fixture(scope="module")
def laid(browser: Browser, server: Server) -> tuple[Any, str]:
    """A job on folded cloth, laid by first layouts alone."""
    with opened(browser, server) as page:
        api = Api(page, server.base)
        job = api.get("/api/catalogue")["template_job"]
        job["fabric"] = [job["fabric"][0] | {"spread": "folded"}]
        return job, api.searched("buy", job, "first")


def test_a_lay_on_the_table(browser: Browser, server: Server, laid: tuple[Any, str]) -> None:
    """A lay of two sizes is opened, a piece moved behind the others, kept, and downloaded as a lay's file."""
    job, _ = laid
    with opened(browser, server, locale="en-US", viewport={"width": 1280, "height": 900}) as page:
        api = Api(page, server.base)
        cloth = job["fabric"][0] | {"spread": "face-up", "colour": "rust"}
        order = {key: job[key] for key in ("garment", "units", "style")}
        order |= {"sizes": "women-letters", "quantity": {"rust": {"S": 1, "M": 1}}, "fabric": [cloth]}
        search = api.searched("run", order, "first")
        show(page, server, api.project("A lay", job, run=search), "run")
        page.get_by_role("button", name="Open on the table").click()
        expect(page.locator(".lays-on-table .size-key")).to_contain_text("Sizes: ")
        piece = page.locator(".lays-on-table .on-cloth.size-1").first
        expect(piece).to_have_attribute("aria-label", re.compile(r" [SM]\b"))
        page.locator(".lays-on-table").get_by_label("Move pieces", exact=True).check()
        placed = api.get(f"/api/searches/{search}/table/0")["placements"]
        last = max(range(len(placed)), key=lambda i: max(x for x, _ in placed[i]["outline"]))
        page.locator(".lays-on-table .on-cloth").nth(last).focus()
        page.keyboard.press("Enter")
        page.keyboard.press("Shift+ArrowRight")
        page.keyboard.press("Enter")
        expect(page.locator(".hand-words")).to_contain_text("it can be cut like this")
        page.get_by_role("button", name="Keep this layout").click()
        note = page.locator(".lays-on-table .note")
        expect(note).to_contain_text("Laid by hand: each ply is")
        expect(note).to_contain_text("more cloth than the run counts. See that the rolls have it.")
        with page.expect_download() as saved:
            page.get_by_role("link", name="The lay’s file").click()
        assert saved.value.suggested_filename == "lay-1-by-hand.json"


def test_steps_without_the_program(browser: Browser, server: Server, laid: tuple[Any, str]) -> None:
    """Loaded once, the steps go on when the program has been killed; what is ticked off reaches it once it is back."""
    job, search = laid
    try:
        with opened(browser, server, locale="en-US", viewport={"width": 1024, "height": 768}) as page:
            project = Api(page, server.base).project("Beside the cloth", job, buy=search)
            show(page, server, project, "cutting")
            step = page.locator(".bench-number")
            expect(step).to_have_text(re.compile("Step 1 of"))
            page.get_by_role("button", name="Whole screen").click()
            server.kill()
            for number in range(2, 6):
                page.get_by_role("button", name="Next →").click()
                expect(step).to_have_text(re.compile(f"Step {number} of"))
            expect(page.locator(".bench-figures dd")).to_have_count(3)
            page.get_by_label("Done", exact=True).check()
            expect(page.locator(".bench-cloth .cut")).to_have_count(1)
            page.keyboard.press("ArrowLeft")
            page.keyboard.press("x")
            expect(page.locator(".bench-count")).to_have_text(re.compile("^2 of"))
            expect(page.locator(".bench > .note")).to_contain_text("The steps go on")
            server.start()
            expect(page.locator("#saved")).to_have_text("saved")
            page.reload()
            expect(page.locator(".bench-count")).to_have_text(re.compile("^2 of"))
            expect(step).to_have_text(re.compile("Step 4 of"))
    finally:
        if server.process.poll() is not None:
            server.start()


def test_projector(browser: Browser, server: Server, laid: tuple[Any, str], tmp_path: Path) -> None:
    """A square measured sets the scale, rings the rest; the error is said; the caution stays until it is ticked.

    A piece is drawn at the size that the scale gives: in dots, its length times dots for a millimetre.
    """
    job, search = laid
    with opened(browser, server, locale="en-US", viewport={"width": 1280, "height": 900}) as page:
        api = Api(page, server.base)
        show(page, server, api.project("Projected", job, buy=search), "cutting")
        page.get_by_role("button", name="Projector").click()
        caution = page.locator(".beam-caution")
        expect(caution).to_contain_text("Measure the picture before you cut")
        for label in ("Measured across the screen", "Measured down the screen"):
            page.get_by_label(label).fill("18")
            page.keyboard.press("Tab")
        page.get_by_label("4 Show", exact=True).check()
        page.get_by_label("Shown", exact=True).select_option(index=1)
        outline = api.get(f"/api/searches/{search}/cutting/0")["found"]["placements"][0]["outline"]
        drawn = page.locator("polyline.beam-line").first.evaluate("e => [e.getBBox().width, e.getBBox().height]")
        for side in (0, 1):
            mm = max(point[side] for point in outline) - min(point[side] for point in outline)
            assert drawn[side] == pytest.approx(mm * 450 / (18 * 25.4), abs=0.05)
        expect(page.locator(".beam-measure")).to_have_count(1)
        page.get_by_label(re.compile("I measured the square")).check()
        expect(caution).to_be_hidden()
        page.get_by_label("2 Corners", exact=True).check()
        page.locator(".ring").first.focus()
        page.keyboard.press("Shift+ArrowLeft")
        expect(page.locator(".ring").first).to_be_focused()
        expect(caution).to_be_visible()
        page.get_by_label("3 Check", exact=True).check()
        page.locator(".ring").focus()
        page.keyboard.press("ArrowUp")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowRight")
        expect(page.locator(".beam-told")).to_have_text(
            re.compile(r"Off by 1/16 in \(1\.\d mm\)|Off by 1/16 in \(0\.\d")
        )
        assert violations(page, axe_source(tmp_path)) == []


def test_moved_by_keys(browser: Browser, server: Server, laid: tuple[Any, str]) -> None:
    """A piece goes by a step, by ten with Shift, turns by r where it may; its new place is said each time."""
    job, search = laid
    with opened(browser, server, locale="en-US", viewport={"width": 1280, "height": 900}) as page:
        show(page, server, Api(page, server.base).project("By keys", job, buy=search), "answer")
        drawing = page.locator(".table-top .marker")
        expect(drawing).to_have_attribute("aria-label", re.compile("along the cloth.*lower edge: .*upper edge: "))
        expect(drawing.locator(".grain-line").first).to_be_attached()
        expect(drawing.locator(".tape-name").first).to_have_text("in")
        page.get_by_label("Move pieces", exact=True).check()
        piece = page.locator(".on-cloth").first
        piece.focus()
        page.keyboard.press("Enter")
        said = page.locator("#live")
        for key, words in (("ArrowRight", "from the start "), ("Shift+ArrowRight", "from the lower ")):
            before = said.inner_text()
            page.keyboard.press(key)
            expect(said).to_contain_text(words)
            assert said.inner_text() != before
        page.keyboard.press("Escape")
        page.keyboard.press("r")
        expect(said).to_have_text(re.compile("pointing to the start|turned by|one way only|from the start"))
        expect(page.locator(".on-cloth.lifted")).to_have_count(0)
