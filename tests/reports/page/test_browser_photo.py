"""A photo of a paper pattern on the page in a real browser: sent, traced, shown with its error, used."""

from __future__ import annotations

import os
import re
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import CHROMIUM, FLAGS, LEFT_OUT, PATIENCE, Server, axe_source, violations
from tests.make.photos import kept, rendered
from tests.pieces.photo.test_together import files

if TYPE_CHECKING:
    from pathlib import Path

if not os.environ.get("ELLWAND_BROWSER"):  # CI sets it: there, a browser that is missing is a failure
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect, sync_playwright

expect.set_options(timeout=PATIENCE)


def test_a_photo_becomes_pieces(tmp_path: Path) -> None:
    """What was traced is drawn, with how far off it may be; two photos are joined, what is none is not added."""
    server, faults = Server(tmp_path / "served"), list[str]()
    photo = kept(tmp_path, rendered())
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        page = browser.new_page(viewport={"width": 390, "height": 844})
        page.set_default_timeout(PATIENCE)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(server.address)
        page.get_by_role("button", name=re.compile("^Jacket")).click()
        expect(page.get_by_label("Bust", exact=True)).to_be_visible()
        page.evaluate("() => { location.hash = location.hash.replace(/[^/]*$/, 'uploads'); }")
        page.locator(".view.uploads").get_by_text("Photos of paper patterns").click()
        sheet = page.get_by_role("link", name="A4").get_attribute("href")
        assert page.request.get(f"{server.base}{sheet}").body().startswith(b"%PDF")
        page.get_by_label("What is in the photo to measure by").select_option("mat")
        expect(page.get_by_label("Side of the smallest squares of the mat")).to_be_visible()
        page.get_by_label("What is in the photo to measure by").select_option("")
        page.get_by_label(re.compile("A pattern file")).set_input_files(str(photo))
        expect(page.get_by_role("heading", name="What was traced")).to_be_visible()
        expect(page.locator(".traced")).to_contain_text(re.compile(r"may be \d\.\d mm off"))
        assert page.locator(".traced img").evaluate("image => image.naturalWidth") > 300
        assert violations(page, axe_source(tmp_path)) == []
        page.get_by_label(re.compile("A pattern file")).set_input_files([str(path) for path in files(tmp_path)])
        expect(page.get_by_label(re.compile("^One piece over several photos"))).to_be_checked()
        assert violations(page, axe_source(tmp_path)) == []
        page.get_by_role("button", name="Trace them").click()
        expect(page.locator(".traced")).to_contain_text(
            re.compile(r"b\.jpg: sheets A, B missed by 0\.\d\d mm.*edge that another photo shows it is 0\.\d\d mm off")
        )
        expect(page.locator(".outline-row")).to_have_count(1)
        page.locator(".outline-row").click()
        page.locator(".chosen-form").get_by_label("Name", exact=True).fill("coat")
        page.get_by_role("button", name="Apply", exact=True).click()
        expect(page.locator(".outline-row")).to_contain_text("coat")
        expect(page.locator(".tracing")).to_have_count(0)
        page.get_by_label("Add a photo").set_input_files({"name": "c.jpg", "mimeType": "image/jpeg", "buffer": b"none"})
        page.get_by_role("button", name="Trace them").click()
        expect(page.get_by_role("heading", name="The photo was not added")).to_be_visible()
        expect(page.locator(".view.uploads [role=alert]").first).to_contain_text("c.jpg is not a JPEG")
        expect(page.locator(".outline-row")).to_have_count(1)
        page.get_by_role("button", name="Use these pieces").click()
        expect(page.locator(".view.cloth h1")).to_be_visible()
        browser.close()
    server.kill()
    assert faults == []
