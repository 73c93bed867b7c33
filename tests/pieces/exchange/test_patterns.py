"""Files of known pieces by general tools: every piece with its area, count and name, or a word of what was not read.

Those in ``patterns/`` were written by a vector editor, an office suite, a converter of geographic data and a drawing
library (``make_patterns.py``; versions in ``truth.json``); the others are made here by libraries that the tests have.
"""

from __future__ import annotations

import json
import math
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from matplotlib import rc_context
from matplotlib.figure import Figure
from matplotlib.patches import Polygon as Patch
from reportlab.graphics import renderSVG
from reportlab.graphics import shapes as drawn

from tests.make.drawings import FRONT, area, dxf, read

if TYPE_CHECKING:
    from collections.abc import Callable

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

FOLDER = Path(__file__).parent / "patterns"

TRUTH: list[dict[str, Any]] = json.loads((FOLDER / "truth.json").read_text(encoding="utf-8"))

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")

NEAR = 3e-3
"""How near to the truth an area must come: tools write curves and lengths to so many digits."""

BAND = [(300.0, 20.0), (360.0, 20.0), (360.0, 150.0), (300.0, 150.0)]
AREAS = [36_000.0, 7800.0]


def differences(found: Any, wanted: list[dict[str, Any]], told: dict[str, int]) -> list[Any]:
    """Pieces wanted that are not there, those there that were not wanted, and what the account does not tell."""
    left, missing = list(found.pieces), []
    for row in wanted:
        fits = [p for p in left if math.isclose(area(p), row["area"], rel_tol=NEAR) and row["name"] in ("", p.name)]
        fits = [p for p in fits if p.cut == row["cut"]]
        missing += [] if fits else [row]
        left = [p for p in left if p is not fits[0]] if fits else left
    places = found.report.account.places()
    untold = [f"{number} x {place}" for place, number in told.items() if places.get(place, 0) != number]
    assert sum(places.values()) == len(found.report.account.entries)
    return [*missing, *((p.name, p.cut, area(p)) for p in left), *untold]


@pytest.mark.parametrize("row", TRUTH, ids=[row["file"] for row in TRUTH])
def test_files_of_general_tools(row: dict[str, Any]) -> None:
    """Whatever tool wrote it, a drawing of known pieces is read as those, and nothing else."""
    assert not differences(read(FOLDER / row["file"], **row["asked"]), row["pieces"], row["told"])


def polylines(document: Drawing, space: Modelspace) -> None:
    """Two closed polylines, one in the old form."""
    space.add_polyline2d(FRONT, close=True)
    if document.dxfversion == "AC1009":
        space.add_polyline2d(BAND, close=True)
    else:
        space.add_lwpolyline(BAND, close=True)


def loose(_: Drawing, space: Modelspace) -> None:
    """Lines one by one, each other one backwards."""
    for points in (FRONT, BAND):
        for number, (start, end) in enumerate(pairwise([*points, points[0]])):
            space.add_line(*((end, start) if number % 2 else (start, end)))


def placed(document: Drawing, space: Modelspace) -> None:
    """Blocks drawn at half their size and placed at double, one turned over."""
    for number, points in enumerate((FRONT, BAND)):
        block = document.blocks.new(f"PIECE_{'AB'[number]}")
        block.add_polyline2d([(x / 2, y / 2) for x, y in points], close=True)
        space.add_blockref(block.name, (0, 0), {"xscale": 2 - 4 * number, "yscale": 2, "zscale": 2})


def crowded(document: Drawing, space: Modelspace) -> None:
    """A frame, a layer that is off, a frozen one, words, and marks, round the two pieces."""
    space.add_polyline2d([(-20, -20), (600, -20), (600, 400), (-20, 400)], close=True)
    for name in ("aside", "draft"):
        layer = document.layers.add(name)
        layer.off() if name == "aside" else layer.freeze()
        space.add_polyline2d([(400, 200), (500, 200), (500, 300)], close=True, dxfattribs={"layer": name})
    polylines(document, space)
    space.add_text("front", dxfattribs={"insert": (60, 60)})
    space.add_text("band", dxfattribs={"insert": (310, 60)})
    space.add_line((60, 40), (60, 160), {"layer": "grain"})


DRAWN: dict[str, tuple[Callable[[Any, Any], None], dict[str, int]]] = {
    "polylines": (polylines, {"piece": 2}),
    "loose": (loose, {"piece": 9}),
    "placed": (placed, {"piece": 2}),
    "crowded": (crowded, {"piece": 2, "frame": 1, "hidden": 2, "words read": 2, "grain": 1}),
}


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("how", DRAWN)
def test_dxf_of_all_versions(tmp_path: Path, version: str, how: str) -> None:
    """Each version of DXF that ezdxf writes, from 1992 to 2018, gives the same pieces."""
    draw, told = DRAWN[how]
    path = dxf(tmp_path / "a.dxf", draw, version=version)
    rows = [{"name": "", "area": size, "cut": 1} for size in AREAS]
    assert not differences(read(path, units="mm"), rows, told)


@pytest.mark.parametrize("unit", [25.4, 10.0, 1.0])
def test_svg_of_a_plotting_library(tmp_path: Path, unit: float) -> None:
    """Polygons that matplotlib draws at full size, on its white page and with its axes, are the pieces alone."""
    figure = Figure(figsize=(420 / 25.4, 297 / 25.4))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, 420 / unit)
    axes.set_ylim(0, 297 / unit)
    for points in (FRONT, BAND):
        axes.add_patch(Patch([(x / unit, y / unit) for x, y in points], closed=True, fill=False))
    with rc_context({"svg.fonttype": "none"}):
        figure.savefig(tmp_path / "a.svg")
    assert not differences(
        read(tmp_path / "a.svg"), [{"name": "", "area": size, "cut": 1} for size in AREAS], {"frame": 1}
    )


def test_svg_in_points(tmp_path: Path) -> None:
    """Reportlab writes bare numbers that count points: pixels of 72 to the inch, once asked for."""
    page = drawn.Drawing(420 * 72 / 25.4, 297 * 72 / 25.4)
    for points in (FRONT, BAND):
        flat = [value * 72 / 25.4 for point in points for value in point]
        page.add(drawn.Polygon(flat, fillColor=None, strokeColor=drawn.colors.black))
    renderSVG.drawToFile(page, str(tmp_path / "a.svg"))
    found = read(tmp_path / "a.svg", units="px", per_inch=72)
    assert not differences(found, [{"name": "", "area": size, "cut": 1} for size in AREAS], {"piece": 2})


def test_there_are_enough_files() -> None:
    """At least 60 files of known content are read, by five tools and more."""
    assert len(TRUTH) + len(VERSIONS) * len(DRAWN) + 4 >= 60
    assert len({row["tool"].split()[0] for row in TRUTH}) >= 4
