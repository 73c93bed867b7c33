"""The notebook in a real browser: found by search, measured over time, photos, what is brought back; axe finds none."""

from __future__ import annotations

import os
import sqlite3
from datetime import date
from typing import TYPE_CHECKING

import pytest

from tests.make.browser import LEFT_OUT, Api, axe_source, violations
from tests.make.photo import picture

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import browser, opened, server

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser

    from tests.make.browser import Server

__all__ = ["browser", "server"]  # fixtures

BAG = {
    "garment": "tote",
    "units": "in",
    "body": {"wearer": "women"},
    "style": {},
    "garments": 1,
    "fabric": [{"name": "rust canvas", "width": "60 in"}],
}


def test_a_client_and_what_was_made(browser: Browser, server: Server, tmp_path: Path) -> None:
    """Her name is found without accents; her sets stand by day; a photo is shown, and a page is none; all is sound.

    A name from right to left, and one with a picture sign, are whole.
    """
    with opened(browser, server, locale="en-US", viewport={"width": 1280, "height": 800}) as page:
        api = Api(page, server.base)
        for day, bust in (("2026-01-10", "37 in"), ("2026-11-20", "38 in")):
            api.post("/api/clients", {"name": "Zoé 🧵", "body": {"bust": bust, "bust_fuller": "1/2 in"}, "day": day})
        api.post("/api/clients", {"name": "נועה", "body": {}})
        zoe = next(one["id"] for one in api.get("/api/clients") if one["name"] == "Zoé 🧵")
        data = {"schema": 1, "job": BAG, "answers": {}, "cut": {}, "client": zoe}
        api.post("/api/projects", {"name": "Market bag", "data": data})
        page.get_by_role("link", name="Notebook").click()
        expect(page.get_by_role("link", name="נועה")).to_be_visible()
        page.get_by_label("Find").fill("zoe bag")  # she goes with it, and it with her
        expect(page.locator(".results a")).to_have_count(2)
        page.get_by_label("Find").fill("ZOE")
        page.get_by_role("link", name="Zoé 🧵").click()
        expect(page.get_by_role("row", name="Bust 38 in 37 in")).to_be_visible()
        expect(page.get_by_role("columnheader", name="Nov 20, 2026")).to_be_visible()
        expect(page.locator(".related")).to_contain_text("Market bag")
        photo = page.locator("input[type=file]")
        photo.set_input_files({"name": "front.jpg", "mimeType": "image/jpeg", "buffer": b"<script>alert(1)</script>"})
        expect(page.get_by_text("this is not a photo")).to_be_visible()
        photo.set_input_files({"name": "front.png", "mimeType": "image/png", "buffer": picture()})
        expect(page.get_by_role("img", name="front")).to_be_visible()
        assert (
            page.get_by_role("img", name="front").evaluate("(img) => img.decode().then(() => img.naturalWidth)") == 60
        )
        assert violations(page, axe_source(tmp_path)) == []
        page.set_viewport_size({"width": 320, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_own_style_and_what_is_relevant(browser: Browser, server: Server) -> None:
    """A style is kept and used elsewhere; options that change nothing are out of sight until something needs them."""
    with opened(browser, server, locale="en-US") as page:
        api = Api(page, server.base)
        plain = api.project("Plain bag", BAG)
        page.goto(f"{server.base}/#/{plain}/garment")
        page.locator("summary", has_text="Pockets").click()
        expect(page.get_by_label("Pockets", exact=True)).to_be_visible()
        expect(page.get_by_label("Mouth of the pocket")).to_be_hidden()
        page.get_by_label("Pockets", exact=True).select_option(index=1)
        expect(page.get_by_label("Mouth of the pocket")).to_be_visible()
        page.get_by_role("button", name="Keep this style").click()
        page.get_by_role("dialog").get_by_label("Name").fill("With a pocket")
        page.get_by_role("dialog").get_by_role("button", name="Keep").click()
        expect(page.get_by_text("With a pocket is in the notebook.")).to_be_visible()
        other = api.project("Another bag", BAG)
        page.goto(f"{server.base}/#/{other}/garment")
        page.get_by_label("Own style").select_option("With a pocket")
        page.get_by_role("button", name="Use it").click()
        expect(page.locator("#saved")).to_have_text("saved")
        held = api.get(f"/api/projects/{other}")["data"]
        assert held["job"]["style"] and held["own_style"] == api.get("/api/shelf")[0]["id"]


def test_damaged_and_as_it_was(browser: Browser, server: Server) -> None:
    """A damaged database opens with its last copy, which is said on the page; a project of it comes back from there."""
    from reports.page.store.copies import Copies
    from reports.page.store.store import Store

    with opened(browser, server, locale="en-US") as page:
        Api(page, server.base).project("Bag of old", BAG)
        server.kill()
        work = server.folder / "work"
        store = Store(work)
        copies = Copies(store, lambda: date(2026, 3, 2))
        assert copies.make_if_due() and copies.make_latest()
        store.close()
        with (work / "ellwand.sqlite3").open("r+b") as file:
            file.seek(0)
            file.write(b"\0" * 100)
        with pytest.raises(sqlite3.DatabaseError):
            sqlite3.connect(work / "ellwand.sqlite3").execute("SELECT * FROM projects")
        server.start()
        page.goto(server.address)
        expect(page.get_by_role("alert").filter(has_text="The notebook was damaged")).to_be_visible()
        page.get_by_role("button", name="All right").click()
        expect(page.get_by_role("link", name="Bag of old")).to_be_visible()
        page.get_by_role("button", name="Delete Bag of old").click()
        page.get_by_role("dialog").get_by_role("button", name="Delete").click()
        page.get_by_role("link", name="Notebook").click()
        page.locator("summary", has_text="Mar 2, 2026").click()
        page.get_by_role("button", name="Bring back Bag of old as on Mar 2, 2026").click()
        page.get_by_role("link", name="open it").click()
        expect(page.locator("#project-name")).to_have_value("Bag of old")
