"""The page's own files: small, whole, without anything from outside, and legible in both themes."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import TYPE_CHECKING

import pytest

from tests.reports.page.test_modules import STATIC_IMPORT, text_of

if TYPE_CHECKING:
    from starlette.testclient import TestClient

STATIC = Path(str(files("reports.page"))) / "static"
FILES = sorted(path for path in STATIC.rglob("*") if path.is_file())
MODULES = sorted((STATIC / "js").rglob("*.js"))
SVG_NAMES = "http://www.w3.org/"
"""Names of namespaces, which nobody fetches."""

TEXT, SHAPE = 4.5, 3.0
"""Least contrast of text and of the edges of fields: WCAG 2.2, success criteria 1.4.3 and 1.4.11, level AA."""

PAIRS = [
    ("ink", "paper", TEXT),
    ("ink", "card", TEXT),
    ("ink", "band", TEXT),
    ("ink", "wash", TEXT),
    ("ink", "shell", TEXT),
    ("ink", "lining", TEXT),
    ("ink", "interfacing", TEXT),
    ("ink", "rib", TEXT),
    ("quiet", "paper", TEXT),
    ("quiet", "card", TEXT),
    ("quiet", "band", TEXT),
    ("quiet", "wash", TEXT),
    ("thread", "paper", TEXT),
    ("thread", "card", TEXT),
    ("thread", "wash", TEXT),
    ("on-thread", "thread", TEXT),
    ("tape-ink", "tape", TEXT),
    ("wrong", "card", TEXT),
    ("wrong", "wrong-wash", TEXT),
    ("noted", "card", TEXT),
    ("noted", "noted-wash", TEXT),
    ("edge", "card", SHAPE),
    ("edge", "paper", SHAPE),
]


def themes() -> dict[str, dict[str, str]]:
    """The colours of each theme, by name."""
    style = (STATIC / "css" / "style.css").read_text(encoding="utf-8")
    found = {}
    for name, head in (("light", ":root {"), ("dark", ':root[data-theme="dark"] {')):
        block = style[style.index(head) :].partition("}")[0]
        found[name] = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block))
    return found


def luminance(colour: str) -> float:
    """Relative luminance, as WCAG 2.2 defines it."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_itself() -> None:
    """Black on white has a contrast of 21 to 1, and #767676 on white is the known grey that just passes 4.5 to 1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") > TEXT > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(("ink", "ground", "least"), PAIRS)
def test_contrast(theme: str, ink: str, ground: str, least: float) -> None:
    """Whatever is written on whatever ground can be read."""
    colours = themes()[theme]
    assert contrast(colours[ink], colours[ground]) >= least, f"--{ink} on --{ground}"


def test_weight() -> None:
    """All files together are lighter than 500 kB."""
    assert sum(path.stat().st_size for path in FILES) < 500_000


FIRST_VIEW = "project/projects.js"
"""What a browser that has nothing kept is shown: the shelf of projects."""

FIRST_ANSWERS = ("/", "/api/catalogue", "/api/settings", "/api/projects", "/api/clients")
HEADERS = 700
"""Bytes of an answer beside what it carries, at the most: those of the guard, and of HTTP/1.1 itself."""


def test_first_weight(client: TestClient) -> None:
    """All that is loaded until the first view stands, with the heads of all answers, is lighter than 300 kB.

    Bytes are counted here; how long they take until the first paint, `benchmarks/page.py` measures.
    """
    styles = re.findall(r'<link rel="stylesheet" href="([^"]+)"(?! media)', client.get("/").text)
    modules, waiting = set[str](), ["main.js", FIRST_VIEW]
    while waiting:
        module = waiting.pop()
        modules.add(module)
        waiting += {normpath(join(dirname(module), name)) for name in STATIC_IMPORT.findall(text_of(module))} - modules
    files = ["icon.svg", "js/theme.js", *styles, *(f"js/{module}" for module in sorted(modules))]
    asked = [*FIRST_ANSWERS, *(f"/{name}" for name in files)]
    answers = {path: client.get(path) for path in asked}
    assert {path: answer.status_code for path, answer in answers.items() if answer.status_code != 200} == {}
    assert all(len(str(answer.headers)) < HEADERS for answer in answers.values())
    assert sum(len(answer.content) + HEADERS for answer in answers.values()) < 300_000


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_nothing_from_outside(path: Path) -> None:
    """No file names an address elsewhere."""
    text = path.read_text(encoding="utf-8").replace(SVG_NAMES, "")
    assert not re.search(r"(?:https?:)?//[\w-]+\.[a-z]{2,}", text)


def test_nothing_inline() -> None:
    """The page's markup holds no script and no style, nor does any module write markup: the CSP would refuse them."""
    page = (STATIC / "index.html").read_text(encoding="utf-8")
    assert not re.search(r"<style|\sstyle=|\son\w+=|<script(?![^>]*\ssrc=)", page)
    forbidden = re.compile(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|\bstyle: [`\"]")
    assert [path.name for path in MODULES if forbidden.search(path.read_text(encoding="utf-8"))] == []


def test_links_are_there() -> None:
    """Each style, script and picture that the page or another answer of the server names is among the files."""
    written = [STATIC / "index.html", *sorted((STATIC.parent / "server").glob("*.py"))]
    named = {
        name
        for path in written
        for name in re.findall(r'(?:href|src)="/?([\w/-]+\.(?:css|js|svg))\b', path.read_text(encoding="utf-8"))
    }
    assert {"css/style.css", "css/door.css", "js/main.js", "js/theme.js", "icon.svg"} <= named
    assert sorted(name for name in named if not (STATIC / name).is_file()) == []


def test_files_are_short() -> None:
    """No file is longer than 400 lines."""
    assert max(len(path.read_text(encoding="utf-8").splitlines()) for path in FILES) <= 400
