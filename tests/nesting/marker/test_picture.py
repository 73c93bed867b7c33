"""A marker in a notebook."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest
import shapely

from nesting import Fabric, MaxIterations, lay_pieces, solve
from pieces.length import inches

if TYPE_CHECKING:
    from pieces import PieceSet

SVG = "{http://www.w3.org/2000/svg}"
INCH = 25.4


def test_a_marker_draws_itself(jacket: PieceSet) -> None:
    """The drawing shows the cloth and every piece in its place, as densely as the marker has them."""
    problem = lay_pieces(jacket.of("shell"), Fabric("canvas", inches(60), inches(0.5)), "open")
    result = solve(problem, MaxIterations(0))
    marker = result.marker
    root = ElementTree.fromstring(marker._repr_svg_())
    cloth, *pieces = (
        shapely.Polygon([tuple(map(float, at.split(","))) for at in node.attrib["points"].split()])
        for node in root.iter(f"{SVG}polygon")
    )
    assert len(pieces) == len(marker.placements)
    assert sum(piece.area for piece in pieces) / cloth.area == pytest.approx(marker.density, abs=2e-3)
    assert all(cloth.buffer(0.02).covers(piece) for piece in pieces)
    assert root.findtext(f"{SVG}title") == repr(marker)
    assert {node.text for node in root.iter(f"{SVG}text")} == {item.name for item in problem.items}
    up, down = math.ceil(marker.length) / 1000, math.floor(result.bound) / 1000  # a need up, a bound down
    assert repr(result) == f"<Result: {up:.3f} m, at least {down:.3f} m, iterations>"
    assert result._repr_svg_() == marker._repr_svg_()
