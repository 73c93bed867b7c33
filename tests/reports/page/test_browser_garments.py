"""Choosing a garment on the page in a real browser: by pictures, with the keyboard, nothing typed lost."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

from tests.make.browser import CHROMIUM, FLAGS, LEFT_OUT, PATIENCE, Server, axe_source, violations
from tests.make.others import OTHERS, write_metadata

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

if not os.environ.get("ELLWAND_BROWSER"):  # CI sets it: there, a browser that is missing is a failure
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import Page, expect, sync_playwright

expect.set_options(timeout=PATIENCE)


@pytest.fixture
def page(tmp_path: Path) -> Iterator[Page]:
    """The page at the shelf of projects, with the garments of tests/others, and no fault of a script at the end."""
    write_metadata((OTHERS / "pyproject.toml").read_text(encoding="utf-8"), tmp_path / "site")
    with MonkeyPatch.context() as patched:
        patched.setenv("PYTHONPATH", f"{tmp_path / 'site'}:{OTHERS}")
        server = Server(tmp_path / "served")
    faults: list[str] = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        shown = browser.new_page()
        shown.set_default_timeout(PATIENCE)
        shown.on("pageerror", lambda error: faults.append(str(error)))
        shown.goto(server.address)
        shown.wait_for_selector("#main .view")
        yield shown
        browser.close()
    server.kill()
    assert faults == []


def view(page: Page, name: str) -> None:
    """Go to another view of the open project."""
    page.evaluate("name => { location.hash = location.hash.replace(/[^/]*$/, name); }", name)
    page.wait_for_selector(f".view.{name} h1")


def test_chosen_by_its_picture(page: Page, tmp_path: Path) -> None:
    """The arrow keys go from picture to picture; fields follow the garment; what was typed is there again after.

    A garment for which nothing is measured is answered without a measurement. axe-core finds nothing.
    """
    page.get_by_role("button", name=re.compile("^Jacket")).click()
    page.get_by_label("Bust", exact=True).fill("40 in")
    page.get_by_label("Bust", exact=True).blur()
    view(page, "garment")
    others = page.get_by_text("choose another garment")
    others.click()
    pictures = page.get_by_role("group", name="What is made")
    expect(pictures.locator("svg path")).to_have_count(pictures.get_by_role("radio").count())
    page.get_by_label("Depth of the neckband").fill("1 1/2 in")
    page.get_by_label("Depth of the neckband").blur()
    kerchief, sarong = (page.get_by_role("radio", name=name) for name in ("Square kerchief", "Wrapped sarong"))
    sarong.focus()
    page.keyboard.press("Space")
    expect(sarong).to_be_checked()
    expect(others).to_have_text("Wrapped sarong: choose another garment")
    expect(page.get_by_label("Depth of the neckband")).to_have_count(0)
    expect(page.get_by_label("Closure", exact=True)).to_have_value("tie")
    expect(page.locator(".pieces figure")).to_have_count(2)  # its waist follows from the bust
    assert violations(page, axe_source(tmp_path)) == []

    view(page, "who")
    expect(page.get_by_label("Waist", exact=True)).to_be_visible()
    expect(page.get_by_label("Bust (optional)")).to_be_hidden()
    page.get_by_text("More measurements (19, 1 filled in)").click()
    expect(page.get_by_label("Bust (optional)")).to_have_value("40 in")

    view(page, "garment")
    others.click()
    sarong.focus()
    page.keyboard.press("ArrowUp")
    expect(kerchief).to_be_checked()
    expect(page.locator(".pieces figure")).to_have_count(1)
    view(page, "answer")
    expect(page.locator(".bought .figure-large").first).to_have_text("3/4 yd")

    view(page, "garment")
    others.click()
    page.get_by_role("radio", name=re.compile("^Jacket")).check()
    expect(page.get_by_label("Depth of the neckband")).to_have_value("1 1/2 in")
    view(page, "who")
    expect(page.get_by_label("Bust", exact=True)).to_have_value("40 in")
    page.get_by_role("link", name="ellwand: all projects").click()
    page.get_by_role("button", name="New project").click()
    expect(page.get_by_role("button", name=re.compile("^Jacket"))).to_be_focused()
