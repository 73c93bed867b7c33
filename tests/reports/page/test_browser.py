"""The page in a real browser: Debian's Chromium, driven by Playwright, at a server in a process of its own."""

from __future__ import annotations

import os
import re
import xml.etree.ElementTree as ET
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest

from tests.make.browser import (
    CHROMIUM,
    FAULTY,
    FLAGS,
    LEFT_OUT,
    OTHERS,
    OURS,
    PATIENCE,
    VIEWS,
    Api,
    Server,
    all_answers,
    axe_source,
    box_of,
    drag,
    violations,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

if not os.environ.get("ELLWAND_BROWSER"):  # CI sets it: there, a browser that is missing is a failure
    pytest.skip(LEFT_OUT, allow_module_level=True)

from playwright.sync_api import Browser, Page, expect, sync_playwright

expect.set_options(timeout=PATIENCE)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Chromium."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield started
        started.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """One server for all tests but those that end it."""
    started = Server(tmp_path_factory.mktemp("served"))
    yield started
    started.kill()


@contextmanager
def opened(browser: Browser, server: Server, **options: Any) -> Iterator[Page]:
    """A page of its own context, signed in; at the end it must have met no fault, and called nothing outside."""
    context = browser.new_context(**options)
    context.set_default_timeout(PATIENCE)
    page, faults = context.new_page(), []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda line: faults.append(line.text) if FAULTY.search(line.text) else None)
    page.on("request", lambda sent: faults.append(sent.url) if not sent.url.startswith(server.base) else None)
    page.goto(server.address)
    page.wait_for_selector("#main .view")
    yield page
    context.close()
    assert faults == []


@pytest.fixture
def page(browser: Browser, server: Server) -> Iterator[Page]:
    """The page, opened at the shelf of projects."""
    with opened(browser, server) as shown:
        yield shown


@pytest.fixture
def api(page: Page, server: Server) -> Api:
    """Calls in the session of the page."""
    return Api(page, server.base)


@pytest.fixture(scope="module")
def example(browser: Browser, server: Server) -> tuple[Any, str]:
    """A job with one cloth, and a search of it that has ended."""
    with opened(browser, server) as shown:
        api = Api(shown, server.base)
        job = api.get("/api/catalogue")["template_job"]
        job["fabric"] = job["fabric"][:1]
        return job, api.searched("buy", job, "first")


def show(page: Page, server: Server, project: str, view: str) -> None:
    """Open a view of a project."""
    page.goto(f"{server.base}/#/{project}/{view}")
    page.wait_for_selector(f".view.{view} h1")


def test_skirt_in_four_clicks(browser: Browser, server: Server, tmp_path: Path) -> None:
    """From an empty store to the yards of a skirt on 45 and 60 in cloth: four clicks, two measurements, two prices.

    No rib is asked for. The drawing is read by another library (ElementTree): it is an SVG, and has outlines. The order
    of sewing is among the files.
    """
    with opened(browser, server, locale="en-US", viewport={"width": 360, "height": 800}) as page:
        for one in Api(page, server.base).get("/api/projects"):
            page.request.delete(f"{server.base}/api/projects/{one['id']}", headers=OURS)
        page.reload()
        expect(page.get_by_role("heading", name="How much cloth?")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        page.evaluate("window.clicks = 0; addEventListener('click', () => { window.clicks += 1; }, true)")
        page.get_by_role("button", name="Circle skirt").click()
        page.get_by_label("Waist", exact=True).fill("28")
        page.get_by_label("Hip", exact=True).fill("38")
        page.get_by_role("button", name="Garment →").click()
        expect(page.locator(".pieces figure")).to_have_count(2)
        page.get_by_role("button", name="Cloth →").click()
        expect(page.locator(".offer")).to_have_count(2)
        expect(page.get_by_role("heading", name="Rib")).to_have_count(0)
        for number, price in enumerate(("12,50", "9")):
            page.locator(f'[data-field="fabric.{number}.price"]').fill(price)
        expect(page.locator('[data-field="fabric.0.price"]')).to_have_value("12.50 / yd")
        page.get_by_role("button", name="Answer →").click()
        for number, width in enumerate((45, 60)):
            offer = page.locator(".choices label").nth(number)
            expect(offer).to_contain_text(re.compile(rf"[1-3].* yd · \d+\.\d\d.*{width} in wide"))
        assert page.evaluate("window.clicks") == 4
        page.get_by_role("link", name="Files").first.click()
        expect(page.get_by_role("link", name="PDF to print: Order of sewing")).to_be_visible()
        with page.expect_download() as saved:
            page.get_by_role("link", name="SVG drawing: Marker 1", exact=True).click()
        saved.value.save_as(tmp_path / "marker.svg")
    root = ET.parse(tmp_path / "marker.svg").getroot()
    assert root.tag.endswith("svg")
    assert len(root.findall(".//{*}path")) > 3


def test_resized_and_left(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """Pieces are drawn for the size of their window: left just after it changed, or without height, all are numbers."""
    show(page, server, api.project("Resized", example[0]), "garment")
    page.wait_for_selector(VIEWS["garment"])
    page.evaluate(
        """async () => {
            document.querySelector(".view").style.padding = "60px";
            await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 20)));
            location.hash = "#/";
            await new Promise((done) => setTimeout(done, 400));
        }"""
    )
    page.set_viewport_size({"width": 400, "height": 600})
    page.evaluate("Object.defineProperty(window, 'innerHeight', { value: 0 })")  # as in a frame that is folded away
    page.go_back()
    page.wait_for_selector(VIEWS["garment"], state="attached")


def test_better_while_one_watches(page: Page, server: Server, api: Api) -> None:
    """An answer comes without being asked for, and better ones after it; a reload in the middle finds the search again.

    Stopped, it keeps its best, and looks on only when told to. No answer is worse than the one before.
    """
    job = api.get("/api/catalogue")["template_job"]
    project = api.project("Watched", job)
    show(page, server, project, "who")
    strip = page.locator("#looking")
    expect(strip).to_contain_text(re.compile(r"yd of .*, laid .*: (less is impossible, proved|down to .* possible)"))
    show(page, server, project, "answer")
    expect(page.locator(".bought .figure-large").first).to_be_visible()
    while not (answers := api.get(f"/api/projects/{project}")["data"]["answers"]):  # it is saved a moment later
        page.wait_for_timeout(100)
    first = answers["buy"]["search"]
    page.reload()
    expect(page.locator(".marker-frame .placed").first).to_be_visible()
    page.get_by_role("button", name="Stop", exact=True).click()
    expect(page.get_by_role("button", name="Look longer")).to_be_visible()
    expect(page.locator("#saved")).to_have_text("saved")
    search = api.get(f"/api/projects/{project}")["data"]["answers"]["buy"]["search"]
    before, found = (api.get(f"/api/searches/{one}") for one in (first, search))
    assert found["state"] == "stopped"
    lengths = [[fabric.get("marker_mm", 0) for fabric in one["result"]["plan"]["fabrics"]] for one in (before, found)]
    assert all(after <= before + 1e-6 for before, after in zip(*lengths, strict=True))
    shown = page.locator(".bought .figure-large").first.inner_text()
    assert shown in [fabric.get("buy") for fabric in found["result"]["plan"]["fabrics"]]


def test_moved_by_hand(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """A piece laid over another is shown as impossible, and cannot be kept; undone, and moved to a free place, it can.

    What is kept is checked by the server once more, and is what the server then answers.
    """
    job, _ = example
    search = api.searched("buy", job)
    show(page, server, api.project("By hand", job, buy=search), "answer")
    page.get_by_label("Move pieces", exact=True).check()
    page.locator(".canvas svg").scroll_into_view_if_needed()
    before = api.get(f"/api/searches/{search}")["result"]
    layout = before["markers"][0]["placements"]
    keep, said = page.get_by_role("button", name="Keep this layout"), page.locator(".hand-words")

    first, second = box_of(page, 0), box_of(page, 1)
    drag(
        page,
        0,
        *(second[at] - first[at] + (second[size] - first[size]) / 2 for at, size in (("x", "width"), ("y", "height"))),
    )
    expect(said).to_contain_text("It cannot be cut like this")
    expect(page.locator(".on-cloth.wrong")).to_have_count(1)
    expect(keep).to_be_disabled()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".on-cloth.wrong")).to_have_count(0)

    last = max(range(len(layout)), key=lambda i: max(x for x, _ in layout[i]["outline"]))
    drag(page, last, 60, 0)
    expect(said).to_contain_text("Checked; it can be cut like this")
    expect(said).to_contain_text("longer than it was")
    keep.click()
    expect(page.locator(".hand-bar")).to_be_hidden()
    after = api.get(f"/api/searches/{search}")["result"]
    assert after["markers"][0]["length"] > before["markers"][0]["length"]
    assert after["plan"]["fabrics"][0]["marker_mm"] == pytest.approx(after["markers"][0]["length"])


def test_ticked_off(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """Pieces ticked off as cut are still so after a reload; distances of a piece are those of its outline."""
    job, search = example
    project = api.project("Cut", job, buy=search)
    show(page, server, project, "answer")
    marker = api.get(f"/api/searches/{search}")["result"]["markers"][0]
    outline = marker["placements"][0]["outline"]
    page.get_by_label("cm", exact=True).check()
    page.locator(".on-cloth").first.click()
    start = page.locator(".facts dl div", has_text="From the start").locator("dd")
    shown = float(start.inner_text().removesuffix(" cm"))
    assert shown == pytest.approx(min(x for x, _ in outline) / 10, abs=0.26)  # shown to the nearest 0.5 cm
    page.locator(".facts").get_by_label("Cut").check()
    expect(page.locator(".count")).to_have_text(f"1 of {len(marker['placements'])} cut")
    expect(page.locator("#saved")).to_have_text("saved")
    page.reload()
    expect(page.locator(".on-cloth.cut")).to_have_count(1)
    page.get_by_label("inches", exact=True).check()


def test_two_tabs(browser: Browser, server: Server, page: Page, api: Api, example: tuple[Any, str]) -> None:
    """A change in one tab is seen in the other; in another browser, a change of what is stale is not saved unasked."""
    project = api.project("Twice", example[0])
    other = page.context.new_page()
    for tab in (page, other):
        show(tab, server, project, "cloth")
    page.locator('[data-field="fabric.0.name"]').fill("first tab")
    expect(other.locator('[data-field="fabric.0.name"]')).to_have_value("first tab")
    with opened(browser, server) as stranger:
        show(stranger, server, project, "cloth")
        stranger.locator('[data-field="fabric.0.name"]').fill("stranger")
        expect(stranger.locator("#saved")).to_have_text("saved")
        page.locator('[data-field="fabric.0.name"]').fill("mine")
        page.get_by_role("button", name="Use the saved version").click()
        expect(page.locator('[data-field="fabric.0.name"]')).to_have_value("stranger")
        assert api.get(f"/api/projects/{project}")["data"]["job"]["fabric"][0]["name"] == "stranger"


def test_killed(browser: Browser, tmp_path: Path) -> None:
    """What is written while the server is gone is saved once it is back; the page that was left open goes on."""
    server = Server(tmp_path / "killed")
    try:
        with opened(browser, server) as page:
            page.get_by_role("button", name="Look at an example").click()
            name = page.locator("#project-name")
            page.wait_for_selector(".view.who")
            server.kill()
            name.fill("Written meanwhile")
            name.blur()
            expect(page.locator("#banner")).to_contain_text("is not answering")
            server.start()
            expect(page.locator("#banner")).to_be_hidden()
            expect(page.locator("#saved")).to_have_text("saved")
            names = [one["name"] for one in Api(page, server.base).get("/api/projects")]
            assert "Written meanwhile" in names
    finally:
        server.kill()


HOSTILE = {
    "entities.svg": b'<!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg">&e;</svg>',
    "noise.dxf": bytes(range(256)) * 20,
    "name<img src=x onerror=alert(1)>.exe": b"MZ",
    "large.svg": b" " * 5_000_001,
}


def test_uploads(page: Page, server: Server, api: Api, example: tuple[Any, str]) -> None:
    """A file of patterns comes in and can be laid; what is no such file is refused in words, and nothing of it runs."""
    job, search = example
    show(page, server, api.project("From files", job), "uploads")
    chooser = page.get_by_label(re.compile("A pattern file"))
    for name, data in HOSTILE.items():
        chooser.set_input_files({"name": name, "mimeType": "application/octet-stream", "buffer": data})
        expect(page.get_by_role("heading", name="This could not be read")).to_be_visible()
        assert page.locator("main img, main script").count() == 0
        assert "root:" not in page.locator("main").inner_text()
        page.reload()
    dxf = page.request.get(f"{server.base}/api/searches/{search}/files/pieces.dxf").body()
    chooser.set_input_files({"name": "pieces.dxf", "mimeType": "image/vnd.dxf", "buffer": dxf})
    drafted = len(api.post("/api/draft", {"job": job})["pieces"])
    expect(page.locator(".pieces figure")).to_have_count(drafted)
    page.get_by_role("button", name="Use these pieces").click()
    page.get_by_role("button", name="Answer →").click()
    expect(page.locator(".bought .figure-large").first).to_have_text(re.compile(r"\d.* yd$"))


def tab_to(page: Page, words: str) -> None:
    """Press Tab until what is focused is called so."""
    for _ in range(150):
        page.keyboard.press("Tab")
        called = page.evaluate(
            "() => { const e = document.activeElement;"
            " return (e.getAttribute('aria-label') || e.labels?.[0]?.textContent || e.textContent || '').trim(); }"
        )
        if re.search(words, called):
            return
    raise AssertionError(f"no Tab leads to {words!r}")


def test_by_keyboard(page: Page, server: Server) -> None:
    """All of it without a pointer: from the shelf to an answer, then a piece moved, let go, undone and ticked off."""
    tab_to(page, "^Look at an example$")
    page.keyboard.press("Enter")
    page.wait_for_selector(".view.who")
    expect(page.locator("main")).to_be_focused()
    for step in ("Garment →", "Cloth →", "Answer →"):
        tab_to(page, step)
        page.keyboard.press("Enter")
        page.wait_for_selector(f".view.{step.split()[0].lower()}")
        expect(page.locator("main")).to_be_focused()  # it is moved there once all is shown
    page.wait_for_selector(".table-top")
    tab_to(page, "^Stop$")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Look longer")).to_be_visible()
    tab_to(page, "^Look$")
    page.keyboard.press("ArrowRight")
    tab_to(page, r"\. Size: ")
    page.keyboard.press("Enter")
    expect(page.locator(".facts h3")).not_to_be_empty()
    page.keyboard.press("Shift+ArrowRight")
    expect(page.locator(".on-cloth.lifted")).to_have_count(1)
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    page.keyboard.press("Control+z")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    page.keyboard.press("x")
    expect(page.locator(".on-cloth.cut")).to_have_count(1)
    expect(page.locator("#live")).to_contain_text("is cut")


def test_accessible(browser: Browser, server: Server, example: tuple[Any, str], tmp_path: Path) -> None:
    """axe-core (from npm) finds nothing wrong by WCAG 2.2 AA with any view, light or dark, wide or narrow."""
    job = example[0] | {"fabric": [example[0]["fabric"][0] | {"spread": "folded"}]}  # few spreads to search
    axe = axe_source(tmp_path)
    found: dict[tuple[str, str], list[str]] = {}
    answers: dict[str, str] = {}
    for scheme, width in (("light", 1280), ("dark", 360)):
        size = {"width": width, "height": 900}
        with opened(browser, server, color_scheme=scheme, viewport=size, reduced_motion="reduce") as page:
            api = Api(page, server.base)
            answers = answers or all_answers(api, job)
            project = api.project(f"Seen {scheme}", job, **answers)
            for view, (place, whole) in OTHERS.items():
                page.goto(f"{server.base}/{place}")
                page.locator(whole).first.wait_for()
                found[view, scheme] = violations(page, axe)
                assert page.evaluate("document.documentElement.scrollWidth") <= width
            for view, whole in VIEWS.items():
                show(page, server, project, view)
                page.wait_for_selector(f".view.{view} {whole}")
                if view == "answer":
                    page.locator(".on-cloth").first.focus()
                    page.keyboard.press("Enter")
                for closed in page.locator("main summary").all():
                    closed.click()
                found[view, scheme] = violations(page, axe)
                assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert {seen: wrong for seen, wrong in found.items() if wrong} == {}
