"""What is kept is kept, in a real browser: answers that stand, what has changed since, clients, rates to confirm."""

from __future__ import annotations

import copy
import os
import re
import signal
import subprocess
from typing import TYPE_CHECKING, Any

import pytest

from tests.make.browser import LEFT_OUT

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import expect

from tests.reports.page.test_browser import api, browser, example, opened, page, server, show

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Browser, Page

    from tests.make.browser import Api, Server

__all__ = ["api", "browser", "example", "page", "server"]  # fixtures


def renamed(job: Any, *names: str) -> Any:
    """A job with its first cloth under each name, each narrower than the one before, none with a price."""
    cloth = {key: value for key, value in job["fabric"][0].items() if key not in ("price", "breaks")}
    cloths = [cloth | {"name": name, "width": f"{60 - 8 * i} in"} for i, name in enumerate(names)]
    return job | {"fabric": cloths}


def test_each_cloth_its_own_proof(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """With cloths "canvas, wide" and "canvas" each shows its own proof; the best is the one that the words name."""
    job = renamed(example[0], "canvas, wide", "canvas")
    search = api.searched("buy", job)
    found = api.get(f"/api/searches/{search}")["result"]
    show(page, server, api.project("Alike", job, buy=search), "answer")
    assert found["markers"][0]["said"]["proof"] != found["markers"][1]["said"]["proof"]
    for cloth, marker in zip(found["plan"]["fabrics"], found["markers"], strict=True):
        page.locator(".choices label", has=page.get_by_text(cloth["name"], exact=True)).click()
        expect(page.locator(".drawn")).to_contain_text(marker["said"]["proof"])
    best = found["plan"]["fabrics"][found["plan"]["best"][0]["number"] - 1]
    expect(page.locator(".choices label", has=page.locator("em"))).to_contain_text(best["name"])
    assert f"Least cloth to buy: {best['name']};" in "\n".join(found["words"])


def workers_of(server: Server) -> list[int]:
    """The processes that search for a server."""
    listed = subprocess.run(["ps", "-eww", "-o", "pid,ppid,args"], capture_output=True, text=True, check=True).stdout
    rows = [line.split(None, 2) for line in listed.splitlines()[1:]]
    return [int(pid) for pid, parent, args in rows if int(parent) == server.process.pid and "spawn_main" in args]


def test_killed_search_leaves_the_answer(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """A search for better whose process is killed (kill -9) leaves the answer before it, and says what happened.

    Started again and stopped at once, it is no longer than before, and takes the place of the answer.
    """
    job, search = example
    project = api.project("Killed", job, buy=search)
    before = api.get(f"/api/searches/{search}")["result"]["plan"]["fabrics"][0]
    show(page, server, project, "answer")
    page.get_by_role("button", name="Look longer").click()
    expect(page.locator(".strip .doing")).to_contain_text("Looking")
    killed = workers_of(server)
    assert killed
    for worker in killed:
        os.kill(worker, signal.SIGKILL)
    expect(page.get_by_text("The last answer still holds.")).to_be_visible()
    expect(page.locator(".bought .figure-large").first).to_have_text(before["buy"])
    expect(page.locator("#saved")).to_have_text("saved")
    assert api.get(f"/api/projects/{project}")["data"]["answers"]["buy"]["search"] == search
    page.get_by_role("button", name="Look longer").click()
    expect(page.locator(".strip .doing")).to_contain_text("Looking")
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.get_by_role("button", name="Look longer")).to_be_visible()
    expect(page.locator(".bought .figure-large").first).to_be_visible()
    expect(page.locator("#saved")).to_have_text("saved")
    answer = api.get(f"/api/projects/{project}")["data"]["answers"]["buy"]
    assert answer["search"] != search
    after = api.get(f"/api/searches/{answer['search']}")["result"]["plan"]["fabrics"][0]
    assert after["marker_mm"] <= before["marker_mm"]
    assert after["proof"]["bound_mm"] >= before["proof"]["bound_mm"]


def test_changed_since(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """Files and Compare of an earlier state say what has changed since, from what to what; a click finds again."""
    job, search = example
    now = copy.deepcopy(job)
    now["fabric"][0]["width"] = "54 in"
    now["body"]["bust"] = "39 in"
    name = job["fabric"][0]["name"]
    project = api.project("Changed", job, buy=search)
    held = api.get(f"/api/projects/{project}")
    page.request.put(
        f"{server.base}/api/projects/{project}",
        headers={"X-Ellwand": "1"},
        data={"name": "Changed", "data": held["data"] | {"job": now}, "version": held["version"]},
    )
    for view in ("downloads", "compare", "answer"):
        show(page, server, project, view)
        told = page.locator(".changes").first
        expect(told).to_contain_text(f"bust: {job['body']['bust']} → 39 in")
        expect(told).to_contain_text(f"cloth '{name}': width: {job['fabric'][0]['width']} → 54 in")
        expect(told.get_by_role("listitem")).to_have_count(2)
    show(page, server, project, "downloads")
    page.get_by_role("button", name="Find again").first.click()
    page.wait_for_selector(".view.answer")
    expect(page.locator(".bought .figure-large").first).to_be_visible()
    expect(page.locator(".changes")).to_have_count(0)
    show(page, server, project, "downloads")
    expect(page.locator(".files li").first).to_be_visible()
    expect(page.locator(".changes")).to_have_count(0)


def test_backup_and_back(browser: Browser, server: Server, page: Page, api: Api, tmp_path: Path) -> None:
    """Clients and settings of a backup are seen on another machine where they were on this one."""
    from tests.make.browser import Server as Served

    api.post("/api/clients", {"name": "Ann of the backup", "body": {"bust": "37 in", "wearer": "women"}})
    page.goto(f"{server.base}/#/projects")
    page.get_by_label("dark", exact=True).check()
    with page.expect_download() as saved:
        page.get_by_role("link", name="Download a backup").click()
    saved.value.save_as(tmp_path / "backup.sqlite3")
    page.get_by_label("auto", exact=True).check()
    other = Served(tmp_path / "other")
    try:
        with opened(browser, other) as there:
            there.locator("#restore").set_input_files(tmp_path / "backup.sqlite3")
            expect(there.locator(".quiet-part .said")).to_contain_text(re.compile(r"Came in: .*1 client"))
            expect(there.locator("html")).to_have_attribute("data-theme", "dark")
            there.get_by_role("button", name=re.compile("^Jacket")).click()
            there.get_by_role("button", name="Ann of the backup", exact=True).click()
            expect(there.locator('[data-field="body.bust"]')).to_have_value("37 in")
    finally:
        other.kill()


def test_rates_are_examples(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """A quote by rates filled in beforehand says so until they are confirmed; then it is planned anew, unmarked."""
    show(page, server, api.project("Rates", example[0]), "run")
    page.get_by_label("Size M of colour 1").fill("2")
    expect(page.locator(".field .example:visible")).to_have_count(4)
    page.get_by_role("button", name="Confirm Rate").click()
    page.locator('[data-field="pricing.markup"]').fill("50")
    expect(page.locator(".field .example:visible")).to_have_count(2)
    page.get_by_role("button", name="Plan the run").click()
    marked = page.locator(".examples")
    expect(marked).to_contain_text("Example: do not send it. Still to be confirmed: minutes of work; overhead 18 %.")
    expect(page.locator(".bought").nth(1)).to_contain_text("would be quoted for all, by example rates")
    expect(page.locator("tfoot").last).to_contain_text(re.compile(r"paid for once [12] of 2 are sold"))
    page.get_by_role("button", name="These are my own: confirm all").click()
    expect(page.locator(".bought").nth(1)).to_contain_text("is quoted for all")
    expect(page.locator(".examples")).to_have_count(0)
    expect(page.locator(".field .example:visible")).to_have_count(0)
