"""The page, read back by a parser that keeps to the standard (html5lib): it stands alone, and its words are words."""

from __future__ import annotations

import base64
import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import html5lib
import pytest
from pytest import FixtureRequest

from reports.sheets.html import html_page, html_part
from reports.sheets.report import Page, Report
from reports.sheets.table import Column, Row, Table
from tests.make import hostile

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from reports.plan.plan import Plan
    from reports.run.plan import RunPlan

XHTML = "{http://www.w3.org/1999/xhtml}"


@pytest.fixture(scope="module")
def pages(run_told: Report, plan_told: Report) -> dict[str, tuple[str, Element]]:
    """The pages of both reports, parsed; any breach of the standard's syntax is an error."""
    texts = {"run": html_page(run_told), "plan": html_page(plan_told)}
    return {name: (text, html5lib.HTMLParser(strict=True).parse(text)) for name, text in texts.items()}


@pytest.fixture(scope="module", params=["run", "plan"])
def page(request: FixtureRequest, pages: dict[str, tuple[str, Element]]) -> tuple[str, Element]:
    """The page of one of them."""
    return pages[request.param]


def tags(tree: Element, name: str) -> list[Any]:
    """All elements of a name."""
    return list(tree.iter(XHTML + name))


def words(tree: Element) -> list[str]:
    """All words of a page, each element's by itself."""
    return [" ".join("".join(node.itertext()).split()) for node in tree.iter()]


def test_stands_alone(page: tuple[str, Element]) -> None:
    """No script, no handler, no form, nothing from elsewhere: every address is a picture's own data or on the page."""
    text, tree = page
    for name in ("script", "link", "iframe", "object", "embed", "form", "base"):
        assert not tags(tree, name)
    for node in tree.iter():
        for key, value in node.attrib.items():
            assert not key.startswith("on")
            if key in ("src", "href"):
                assert value.startswith("data:image/svg+xml;base64," if key == "src" else "#part-")
    (style,) = tags(tree, "style")
    assert "url(" not in style.text and "@import" not in style.text
    assert "default-src 'none'" in text


def test_pictures(page: tuple[str, Element], the_run: RunPlan, plan: Plan) -> None:
    """There is a picture for each marker, each a sound SVG by itself, and each told in words."""
    _, tree = page
    pictures = tags(tree, "img")
    assert len(tags(tree, "figcaption")) in (len(the_run.tickets), len(plan.markers))
    assert len(pictures) in (len(the_run.tickets), len(plan.markers) + len(plan.rib_plans))
    for picture in pictures:
        assert len(picture.attrib["alt"]) > 40
        svg = ElementTree.fromstring(base64.b64decode(picture.attrib["src"].split(",")[1]))
        assert svg.tag == "{http://www.w3.org/2000/svg}svg"


def test_names_are_words(page: tuple[str, Element]) -> None:
    """Names that look like markup, or like a template's own, are shown letter by letter."""
    _, tree = page
    told = set(words(tree))
    assert hostile.SCRIPT in told
    if len(tags(tree, "h2")) == 4 and "Cost sheet" in told:
        assert {hostile.FORMULA, hostile.IMAGE, hostile.BRACES, hostile.MINUS} <= told


def test_tables_are_marked_up(page: tuple[str, Element]) -> None:
    """Every table has headings for its columns and for its lines, and as many cells in each line as headings."""
    _, tree = page
    assert len(tags(tree, "table")) > 5
    for table in tags(tree, "table"):
        heads = [node for node in tags(table, "th") if node.attrib["scope"] == "col"]
        for line in tags(tags(table, "tbody")[0], "tr"):
            cells = list(line)
            assert len(cells) == len(heads)
            assert cells[0].attrib["scope"] == "row"


def test_cards(page: tuple[str, Element]) -> None:
    """Where a table folds into cards each cell that says something has its heading with it, and the roles stay."""
    _, tree = page
    for table in tags(tree, "table"):
        heads = ["".join(node.itertext()) for node in tags(tags(table, "thead")[0], "th")]
        assert table.attrib["role"] == "table"
        for line in tags(tags(table, "tbody")[0], "tr"):
            first = line[0].attrib
            assert first.get("data-head", heads[0]) == heads[0]
            assert ("data-head" in first) == (first.get("class") == "number"), "a bare number has its heading with it"
            for head, cell in zip(heads[1:], list(line)[1:], strict=True):
                words = "".join(cell.itertext())
                assert (cell.attrib["role"], cell.attrib.get("data-head", "")) == ("cell", head if words else "")


def test_headings_go_down_by_one(page: tuple[str, Element]) -> None:
    """One h1, and no level of headings is skipped (WCAG 2.2, technique G141); links at the top lead to each part."""
    _, tree = page
    levels = [int(node.tag[-1]) for node in tree.iter() if re.fullmatch(rf"{XHTML}h[1-6]", str(node.tag))]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    parts = {node.attrib["id"] for node in tree.iter() if "id" in node.attrib}
    assert {node.attrib["href"][1:] for node in tags(tree, "a")} == parts != set()


def test_what_it_says(the_run: RunPlan, plan: Plan, pages: dict[str, tuple[str, Element]]) -> None:
    """The page says what is bought, what it costs, and what each ticket cuts; a cloth that will not do, and why."""
    text = " ".join(words(pages["run"][1]))
    for one in the_run.bought:
        assert f"{one.quantity} {one.price}" in text
    assert f"{the_run.costing.cost.run.total:.2f}" in text
    assert all(ticket.title in text and check in text for ticket in the_run.tickets for check in ticket.checks)
    text = " ".join(words(pages["plan"][1]))
    assert "tape will not do: 'back' needs" in text
    assert all(f"to buy: {fabric.purchase.text}" in text for _, fabric in plan.markers)


def test_light_dark_and_paper(page: tuple[str, Element]) -> None:
    """It has colours for light and dark, rules for paper, and in both enough contrast (WCAG 2.2: 7 to 1)."""
    text, _ = page
    assert "@media (prefers-color-scheme: dark)" in text and "@media print" in text and "break-before: page" in text
    themes = re.findall(r"--ink: (#\w+); --paper: (#\w+);.*--soft: (#\w+); --quiet: (#\w+);", text)
    assert len(themes) == 3
    for ink, paper, soft, quiet in themes:
        assert min(contrast(one, other) for one in (ink, quiet) for other in (paper, soft)) >= 7


def contrast(one: str, other: str) -> float:
    """Contrast of two colours, by the formula of WCAG 2.2 (relative luminance)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of a colour such as ``#fff`` or ``#1a2b3c``."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    shares = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_same_page(plan_told: Report) -> None:
    """The same answer gives the same page, letter by letter, its pictures too."""
    marker = Report("", "", (Page("", plan_told.told("page")[2].parts[:3]),))
    first = html_page(marker)
    assert "data:image/svg+xml" in first
    assert html_page(marker) == first


def test_any_words() -> None:
    """Words with signs that HTML may not hold still give a page that keeps to the standard."""
    nasty = "a\x00b\x0cc\ufffe\ud800</title></style>\u202e-->"
    table = Table("t", nasty, (Column(nasty),), (Row((nasty,)),), (nasty,))
    text = html_page(Report(nasty, nasty, (Page(nasty, (table,)),)))
    tree = html5lib.HTMLParser(strict=True).parse(text)
    assert "a b c </title></style>-->" in words(tree)
    text.encode("utf-8")


def test_in_a_notebook(plan: Plan, plan_told: Report) -> None:
    """A plan shows as the tables of its report, without page or pictures; its repr is one line."""
    part = html_part(plan_told)
    tree = html5lib.HTMLParser(strict=True).parseFragment(part)
    assert len(tags(tree, "table")) == len(list(plan_told.tables()))
    assert not tags(tree, "img") and "<style" not in part
    assert plan._repr_html_().startswith("<header>")
    assert repr(plan) == "<Plan: job.toml, 2 markers, 1 ribs>"
