"""Paths read at once are what the library makes of them."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements  # type: ignore[import-untyped]
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces.exchange.read.svg import _lines
from pieces.exchange.read.svg_paths import KnownPaths, path_parts

NUMBERS = st.sampled_from(["1", "-2", ".5", "-.25", "3.75", "1e2", "4E-1", "+7", "0"])
BETWEEN = st.sampled_from([" ", ",", " , ", "\n"])


@st.composite
def paths(draw: st.DrawFn) -> str:
    """A path of lines and cubics in any way of writing."""
    parts = [f"{draw(st.sampled_from('Mm'))}{draw(NUMBERS)}{draw(BETWEEN)}{draw(NUMBERS)}"]
    for _ in range(draw(st.integers(0, 8))):
        command = draw(st.sampled_from("MmLlHhVvCcZz"))
        each = {"Z": 0, "H": 1, "V": 1, "C": 6}.get(command.upper(), 2)
        many = each * draw(st.integers(1, 3))
        parts.append(command + draw(BETWEEN).join(draw(NUMBERS) for _ in range(many)))
    return draw(BETWEEN).join(parts)


@settings(max_examples=150)
@given(paths())
def test_as_the_library(path: str) -> None:
    """Each part of a path has the library's points, to the bit, and is closed where the library's is."""
    wanted = [(points, closed) for points, closed in _lines(svgelements.Path(path), 1.0)]
    parts = path_parts(path)
    assert parts is not None
    placed = (part._replace(nodes=part.nodes * (1, -1) + 0.0) for part in parts)
    drawn = [
        (line, part.closed and len(line) > 2)
        for part in placed
        for line in [part.line()]
        if part.closed or len(line) > 1
    ]
    assert len(drawn) == len(wanted)
    for (points, closed), (others, is_closed) in zip(drawn, wanted, strict=True):
        assert np.array_equal(points, others) and closed == is_closed


@pytest.mark.parametrize(
    "path",
    [
        "",
        "L1 2",
        "M1",
        "M1 2L3",
        "M1 2C3 4 5 6 7",
        "M1 2Q3 4 5 6",
        "M1 2 x",
        "M1 2.L3 4",
        "M1 2L3 4 5Z",
        "M1 2 H",
        "z",
        "M 1 nan",
    ],
)
def test_left_to_the_library(path: str) -> None:
    """Other curves, and what is not sound, are not read at once."""
    assert path_parts(path) is None


def test_long_nonsense() -> None:
    """What is no path is found out in one go."""
    for path in ("M0 0" + "1" * 200_000 + "x", "M0 0" + " " * 200_000 + "x", "M0 0" + "L1 1" * 100_000 + "L"):
        assert path_parts(path) is None


def test_transformed() -> None:
    """A shape lies where its own transform puts it, and where that of its groups does."""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg"><g transform="translate(10 20)">'
        '<path data-n="1" d="M0 0L2 0L2 3Z" transform="rotate(90)"/><polyline data-n="2" points="1,1 2,2,3,1"/>'
        "</g></svg>"
    )
    root = ElementTree.fromstring(text)
    shapes = KnownPaths(root, "data-n")
    made = [svgelements.Path("M0 0L0 0"), svgelements.Polyline("0,0 0,0")]
    for shape, number in zip(made, "12", strict=True):
        shape.values["data-n"] = number
        shape.transform = svgelements.Matrix("translate(10 20)" + ("rotate(90)" if number == "1" else ""))
    found = [shapes.lines(shape.values, shape.transform, 1.0) for shape in made]
    (corners, closed), (others, is_open) = (lines[0] for lines in found if lines)
    assert np.allclose(corners, [(10, -20), (10, -22), (7, -22)]) and closed
    assert np.allclose(others, [(11, -21), (12, -22), (13, -21)]) and not is_open
