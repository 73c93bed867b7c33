"""A job in centimetres is answered in centimetres: no inch and no yard in anything that any command says or writes."""

from __future__ import annotations

import io
import json
import re
import zipfile
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from tests.make.centimetres import CENTIMETRES
from tests.make.orders import changed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

INCHES = re.compile(
    r"\d\s*(?:in|ins|yd|yds|ft)\b(?! (?:the|a|all|one|order|place|this|it)\b)|\d\s*[″\"“”]|\binch|\byard\b(?!age)|/ yd"
)
QUICK = ("--effort", "0")
COMMANDS = {
    "draft": (),
    "buy": QUICK,
    "lay": QUICK,
    "guide": ("--fabric", "1", *QUICK),
    "widths": ("--from", "145 cm", "--to", "150 cm", "--step", "5 cm", *QUICK),
    "chart": ("--widths", "150 cm", "--nap", "without", *QUICK),
    "fits": ("--remnant", "150 cm x 60 cm", "--seconds", "0"),
    "saves": QUICK,
    "print": ("--what", "markers", "--fabric", "1", *QUICK),
    "export": ("--as", "csv", "--as", "json", "--what", "pieces"),
    "sizes": ("women-letters",),
}


def words_of(path: Path) -> str:
    """All that a person can read in a file."""
    data = path.read_bytes()
    if path.suffix == ".pdf":
        return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)
    if path.suffix == ".svg":
        root = ElementTree.fromstring(data)
        return "\n".join("".join(node.itertext()) for node in root.iter() if node.tag.endswith("}text"))
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(io.BytesIO(data)) as book:
            texts = [book.read(name).decode() for name in book.namelist() if "sharedStrings" in name]
            return re.sub(r"<[^>]*>", "\n", "\n".join(texts))
    if path.suffix == ".json":
        return "\n".join(strings(json.loads(data)))
    if path.suffix == ".html":
        return re.sub(r"<(?:style|svg|script).*?</(?:style|svg|script)>|<[^>]*>", " ", data.decode(), flags=re.DOTALL)
    return "" if path.suffix == ".png" else data.decode("utf-8").replace('"', " ")


def strings(value: Any) -> list[str]:
    """All text in plain data."""
    if isinstance(value, dict):
        return [text for key, each in value.items() for text in (key, *strings(each))]
    if isinstance(value, list):
        return [text for each in value for text in strings(each)]
    return [value] if isinstance(value, str) else []


def in_inches(words: str) -> list[str]:
    """Every mention of an inch or a yard, with what stands about it."""
    return [words[max(0, found.start() - 60) : found.end() + 30] for found in INCHES.finditer(words)]


def test_what_is_looked_for() -> None:
    """The search finds inches and yards as this program and people write them, and nothing else."""
    for words in ("22 1/2 in", "the wrist plus 1 in (25 mm)", '4"', "1/8 yd", "9 in deep", "three inches", "a yard"):
        assert in_inches(words)
    for words in ("cut 2 in all", "15.5 cm", "yardage", "1 in place"):
        assert not in_inches(words)


@pytest.mark.parametrize("name", COMMANDS)
def test_no_inch_is_spoken(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path, name: str) -> None:
    """What a command prints for people and for machines, and every file it writes, speaks centimetres and metres."""
    path, out = job_file(CENTIMETRES), tmp_path / "out"
    subject = ("--job", path) if name == "sizes" else (path,)
    said = run(name, *COMMANDS[name], *subject, "--out", out)
    assert said.code in (0, 1)
    written = [each for each in out.rglob("*") if each.is_file()]
    assert written
    found = [said.out, said.err, *map(words_of, written)]
    if not (out / f"{name}.json").exists():  # that is what it prints for machines
        plain = run(name, *COMMANDS[name], *subject, "--json")
        assert plain.code == said.code
        found.append("\n".join(strings(json.loads(plain.out))))
    for words in found:
        assert in_inches(words) == []


def test_no_inch_in_a_report(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """The report of a job, with its chart, speaks centimetres on the page, in the workbook and in its tables."""
    out = tmp_path / "report"
    assert (
        run("report", job_file(CENTIMETRES), "--chart", "--widths", "150 cm", *QUICK, "--no-cache", "--out", out).code
        == 0
    )
    files = [each for each in out.rglob("*") if each.is_file()]
    assert {each.suffix for each in files} >= {".html", ".xlsx", ".csv"}
    assert [found for each in files for found in in_inches(words_of(each))] == []


def test_no_inch_in_a_mistake(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """What is wrong with a job in centimetres is said in centimetres: of cloth, of the body, of a missing key."""
    for old, new in (
        ('width = "150 cm"\n', ""),
        ('opened = "90 cm"', ""),
        ('bust = "94 cm"', 'bust = "9 m"'),
        ('sleeve = "58 cm"', 'sleeve = "12 cm"'),
        ('neck = "36 cm"\n', ""),
        ('width = "150 cm"', 'width = "25 cm"'),
        ('depth = "5 cm"\n', ""),
        ('opened = "90 cm"', 'opened = "90 cm"\nsold_by = "strip"'),
        ('rib_depth = "7 cm"', 'front_extension = "90 cm"'),
    ):
        told = run("buy", job_file(CENTIMETRES.replace(old, new, 1)), *QUICK)
        assert told.code == 2 and re.search(r"\d c?m\b", told.err), told.err
        assert in_inches(told.err.replace('"', "")) == []


def test_no_inch_in_a_run(run: Callable[..., Ran], tmp_path: Path) -> None:
    """A run's answer speaks centimetres: words, JSON, tickets and quote."""
    (tmp_path / "order.toml").write_text(in_centimetres(), encoding="utf-8")
    said = run("run", "order.toml", *QUICK, "--no-cache", "--out", tmp_path / "out")
    assert said.code == 0, said.err
    (rib, *_) = json.loads((tmp_path / "out" / "run.json").read_text())["ribs"]
    assert any(len(band["parts"]) > 1 for band in rib["by_ticket"]), "bands are joined, which is told as well"
    files = [each for each in (tmp_path / "out").rglob("*") if each.is_file()]
    assert [found for words in (said.out, *map(words_of, files)) for found in in_inches(words)] == []


def in_centimetres() -> str:
    """The template's order, small, every length and price of it in metric units, and its comments left out."""
    text = changed((r"^rust = .*$", "rust = { S = 1, L = 1 }"), (r"^navy = .*$", "navy = { S = 1 }"))
    text = re.sub(r"\s+# .*$|^#.*$", "", text, flags=re.MULTILINE)
    text = re.sub(r'^units = "in"', 'units = "cm"', text, flags=re.MULTILINE)
    text = re.sub(r'"((?:\d+ )?\d+(?:[./]\d+)?) (in|yd)"', lambda found: f'"{metric(found[1], found[2])} cm"', text)
    return text.replace("/ yd", "/ m")


def metric(number: str, unit: str) -> int:
    """A length in whole centimetres."""
    total = sum(float(part.partition("/")[0]) / float(part.partition("/")[2] or 1) for part in number.split())
    return round(total * {"in": 2.54, "yd": 91.44}[unit])


def test_inches_are_kept_where_they_are_asked_for(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """The same job in inches is answered in inches: no centimetre stands in what `buy` says of it."""
    told = run("buy", job_file(CENTIMETRES.replace('units = "cm"', 'units = "in"')), *QUICK)
    assert in_inches(told.out) and not re.search(r"\d cm\b", told.out)
