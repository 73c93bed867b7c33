"""The command `garments`, and jobs of garments by others: from the file that `new` writes to a checked answer."""

from __future__ import annotations

import json
import sys
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

from pieces.garments import GARMENTS
from pieces.garments.known import GROUP
from reports.draw.garments import garments_page, sketch_lines
from reports.garments.garments import GarmentShown
from reports.garments.words import garment_lines
from tests.make.others import OTHERS, installed, write_metadata

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from tests.reports.conftest import Ran

BROKEN = f'[project]\nname = "odd"\nversion = "1"\n[project.entry-points."{GROUP}"]\ncloak = "odd_cloak:CLOAK"\n'


@pytest.fixture
def others(monkeypatch: MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """The sewing room's package is installed, and one whose module is missing."""
    write_metadata((OTHERS / "pyproject.toml").read_text(encoding="utf-8"), tmp_path / "site")
    write_metadata(BROKEN, tmp_path / "site")
    with installed(monkeypatch, OTHERS, tmp_path / "site"):
        yield


@pytest.mark.usefixtures("others")
def test_list(run: Callable[..., Ran]) -> None:
    """All are listed, with what is measured for each; one that is broken is named in one line, with the reason."""
    said = run("garments")
    assert (said.code, said.err) == (0, "")
    lines = {line.split()[0]: line for line in said.out.splitlines() if line.strip()}
    assert all(name in lines for name in (*GARMENTS, "kerchief", "sarong"))
    assert ("waist" in lines["sarong"], "none" in lines["kerchief"]) == (True, True)
    reason = "ModuleNotFoundError: No module named 'odd_cloak'"
    assert f"not loaded: cloak, of the package odd 1: {reason}" in said.out
    plain = json.loads(run("garments", "--json").out)
    assert plain["not_loaded"] == [{"name": "cloak", "package": "odd 1", "reason": reason}]
    assert [each["name"] for each in plain["garments"]] == [*GARMENTS, "kerchief", "sarong"]


@pytest.mark.usefixtures("others")
def test_one(run: Callable[..., Ran]) -> None:
    """One is shown whole: how it is measured, its options with their defaults, what it measures once sewn."""
    said = run("garments", "sarong", "--units", "cm").out
    for words in ("round the middle, where", "76.2 cm", "how it is closed (or buttons)", "worked out; such as 2 in"):
        assert words in said
    plain = json.loads(run("garments", "sarong", "--json").out)
    (waist,) = plain["finished"]  # a waist of 940 * 8/9 mm, to 1/8 in, one and a half times
    assert waist["body"] == pytest.approx(32.875 * 25.4)
    assert waist["garment"] == pytest.approx(1.5 * waist["body"])
    assert "Nothing is measured for it." in run("garments", "kerchief").out


@pytest.mark.usefixtures("others")
def test_a_job_of_each(run: Callable[..., Ran], tmp_path: Path) -> None:
    """By others or not: a job is written, answered, checked from what was asked, and told of with its own words."""
    for name in ("kerchief", "sarong"):
        assert run("new", f"{name}.toml", "--garment", name).code == 0
        bought = run("buy", f"{name}.toml", "--effort", 0, "--out", name)
        assert (bought.code, bought.err) == (0, "")
        assert "rib" not in bought.out
        checked = run("check", f"{name}/marker-1.json", "--job", f"{name}.toml")
        assert (checked.code, "gives what was asked for" in checked.out) == (0, True)
    assert "Trims of this garment (kerchief) are not worked out" in run("buy", "kerchief.toml", "--effort", 0).out
    assert "no order of sewing is known of kerchief" in run("sew", "kerchief.toml").err
    assert "2. Waistband." in run("sew", "sarong.toml").out


@pytest.mark.usefixtures("others")
def test_questions_of_garments_without_a_bust(run: Callable[..., Ran]) -> None:
    """Sizes are called by what is measured; where nothing is, there is one size; no change of style is made up."""
    for name in ("kerchief", "sarong"):
        run("new", f"{name}.toml", "--garment", name)
    alone = ("--effort", 0, "--no-cache", "--workers", 1)
    chart = run("chart", "sarong.toml", "--widths", "60 in", "--nap", "without", *alone).out
    assert "size (waist)" in chart
    assert "graded: waist by 1 1/2 in a size" in chart
    assert "one size" in run("chart", "kerchief.toml", "--widths", "60 in", "--nap", "without", *alone).out
    saves = run("saves", "sarong.toml", *alone).out
    assert "1 in shorter" in saves
    assert "ease" not in saves


@pytest.mark.usefixtures("others")
def test_sizes_of_a_table_have_waists_of_their_own(run: Callable[..., Ran]) -> None:
    """A table without a waist gives one by its rule from each bust: that of the job's own body is not taken over."""
    run("new", "sarong.toml", "--garment", "sarong")
    plain = json.loads(run("sizes", "women-letters", "--job", "sarong.toml", "--json").out)
    waists = [size["garment"]["finished"][0]["body"] for size in plain["sizes"]]
    assert waists == pytest.approx([size["measures_mm"]["bust"] * 8 / 9 for size in plain["sizes"]])  # Hertzer, 1892


@pytest.mark.usefixtures("others")
def test_a_job_of_a_broken_one(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A job that asks for a garment that cannot be loaded is told so in one line; so is one of an unknown garment."""
    path = job_file('garment = "cloak"\n')
    for said in (run("draft", path), run("new", "b.toml", "--garment", "cloak"), run("garments", "cloak")):
        assert said.code == 2
        assert said.err.count("\n") == 1
        assert "garment 'cloak' of the package odd 1 is not loaded: ModuleNotFoundError" in said.err
    said = run("new", "b.toml", "--garment", "cape")
    assert (said.code, said.err.startswith("ellwand: unknown garment 'cape': choose rib-jacket, ")) == (2, True)


def test_installed_as_pip_does(shell: Callable[..., Ran], tmp_path: Path) -> None:
    """In a process of its own, with the package on the path alone, the command knows the garments."""
    write_metadata((OTHERS / "pyproject.toml").read_text(encoding="utf-8"), tmp_path / "site")
    path = ":".join(map(str, (tmp_path / "site", OTHERS, *filter(None, sys.path))))
    said = shell("garments", "--json", PYTHONPATH=path)
    assert [each["name"] for each in json.loads(said.out)["garments"]] == [*GARMENTS, "kerchief", "sarong"]


@pytest.mark.parametrize("name", GARMENTS)
def test_sketch(name: str) -> None:
    """Every garment has a sketch, and all of it lies in its box."""
    lines = list(sketch_lines(GARMENTS[name].sketch))
    assert lines
    for line in lines:
        assert (line >= 0).all()
        assert (line <= (100, 120)).all()


def test_sketch_that_is_no_path() -> None:
    """A path that makes no sense draws nothing."""
    assert list(sketch_lines("M10")) == list(sketch_lines("")) == []


def test_picture(run: Callable[..., Ran], tmp_path: Path) -> None:
    """The picture has each name and title, and grows with the garments."""
    assert run("garments", "--out", "out").code == 0
    svg = (tmp_path / "out" / "garments.svg").read_text(encoding="utf-8")
    assert all(f">{name}<" in svg for name in GARMENTS)
    few, many = (garments_page([GARMENTS["rib-jacket"]] * number).get_size_inches()[1] for number in (1, 13))
    assert many > few
    assert run("garments", "rib-jacket", "--out", "out").code == 0
    assert (tmp_path / "out" / "rib-jacket.png").exists()
    assert run("garments", "--out", "out").code == 2  # nothing is overwritten


def test_size_that_cannot_be_drafted() -> None:
    """Where defaults do not go together for the middle size it is said why."""
    shown = GarmentShown(GARMENTS["rib-jacket"], refused="too wide")
    assert "Size M of the table women-letters cannot be drafted" in " ".join(garment_lines(shown))
