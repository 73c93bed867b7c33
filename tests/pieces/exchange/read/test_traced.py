"""Pieces measured with a ruler."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.read.traced import Corner, drawn, sketch_traced

if TYPE_CHECKING:
    from pathlib import Path


def write(folder: Path, text: str) -> Path:
    """A file of measured points."""
    path = folder / "pocket.toml"
    path.write_text(text, encoding="utf-8")
    return path


def piece(points: str, more: str = "") -> str:
    """One piece, in inches."""
    return f"units = \"in\"\n[[piece]]\nname = \"pocket\"\n{more}points = '''\n{points}\n'''\n"


def test_points_and_facts(tmp_path: Path) -> None:
    """Six by seven and a half inches, cut twice, with a note after a point."""
    path = write(tmp_path, piece("0, 0\n6, 0  # hem\n6, 7 1/2\n0, 7 1/2", "cut = 2\n"))
    (sketch,), report = sketch_traced(path, ReadingChoices())
    assert (sketch.name, sketch.cut) == ("pocket", 2)
    assert np.ptp(sketch.outline, axis=0) == pytest.approx([6 * 25.4, 7.5 * 25.4])
    assert report.units == "in, as it says"


@pytest.mark.parametrize("turned", [1, -1])
def test_a_bulge_goes_outwards_whichever_way_the_points_run(turned: int) -> None:
    """A square whose one side bulges by half of itself has half a disc more; a hollow has it less."""
    ring = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
    disc = np.pi * 50**2 / 2
    for sign in (1, -1):
        corners = [Corner(x, y, bulge=sign * 50.0 if at == 2 else 0.0) for at, (x, y) in enumerate(ring[::turned])]
        assert shapely.Polygon(drawn(corners)).area == pytest.approx(10_000 + sign * disc, rel=1e-3)


def test_a_point_on_the_way() -> None:
    """A curve through a point passes it."""
    outline = drawn([Corner(0, 0), Corner(100, 0, by=(50, -20)), Corner(50, 80)])
    assert shapely.LinearRing(outline).distance(shapely.Point(50, -20)) < 0.1


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("units = 'ell'\n", "'ell' is not one of"),
        ("units = 'px'\n", "in pixels"),
        ("unit = 'in'\n", "did you mean 'units'"),
        ("units = 'in'\n", "needs 1 to 1000 entries"),
        (piece("0, 0"), "'pocket' has 1 points"),
        (piece("0, 0\n6\n6, 6"), "cannot read the point '6'"),
        (piece("0, 0\n6, 0\n6, 6", "couleur = 1\n"), "unknown key 'couleur'"),
        (piece("0, 0\n6, 0\n6, 6") + piece("0, 0\n6, 0\n6, 6").split("\n", 1)[1], "two pieces are called 'pocket'"),
        (piece("0, 0\n6, 0\n6, 6").replace('units = "in"', ""), 'units = "in" once'),
    ],
)
def test_what_cannot_be_read_names_piece_and_point(tmp_path: Path, text: str, why: str) -> None:
    """The error names the file, and what is wrong."""
    with pytest.raises(FormatError, match=f"(?s)^pocket.toml.*{why}"):
        sketch_traced(write(tmp_path, text), ReadingChoices())
