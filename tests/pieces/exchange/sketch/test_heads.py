"""Arrowheads on grainlines: one on one end alone tells the top."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces.exchange.sketch.heads import heads_of, heads_of_outline, parted
from tests.make.drawings import FRONT, dxf, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

    from pieces.exchange.imported import Imported

SHAFT = np.array([[0.0, 0.0], [0.0, 100.0]])

LINE = '<path d="M120,60 V160"/>'
"""Drawn downwards: without a head its first end, above, is the top; the tip of `FRONT` lies below, in the page."""

DRAWN = {
    "a V below": (LINE + '<path d="M115,150 L120,160 L125,150"/>', True),
    "a V below, before its line": ('<path d="M115,150 L120,160 L125,150"/>' + LINE, True),
    "a V above": (LINE + '<path d="M115,70 L120,60 L125,70"/>', False),
    "a V at both ends": (LINE + '<path d="M115,70 L120,60 L125,70"/><path d="M115,150 L120,160 L125,150"/>', None),
    "two barbs below": (LINE + '<path d="M115,150 L120,160"/><path d="M120,160 L125,150"/>', True),
    "a triangle below": (LINE + '<path d="M115,150 L120,160 L125,150 Z"/>', True),
    "a triangle beyond": (LINE + '<path d="M115,160 L120,170 L125,160 Z"/>', True),
    "in one line": ('<path d="M120,60 V160 L115,150 M120,160 L125,150"/>', True),
    "feathers below": (LINE + '<path d="M115,170 L120,160 L125,170"/>', None),
    "a bar below": (LINE + '<path d="M115,160 H125"/>', None),
    "a marker below": (LINE.replace("/>", ' marker-end="url(#Arrow1)"/>'), True),
    "a marker above": (LINE.replace("/>", ' style="marker-start:url(#TriangleIn)"/>'), False),
    "dots": (LINE.replace("/>", ' marker-end="url(#DotL)"/>'), None),
    "two markers": (LINE.replace("/>", ' marker-start="url(#a)" marker-end="url(#b)"/>'), None),
    "an outline": ('<path d="M119,60 L121,60 L121,150 L126,150 L120,160 L114,150 L119,150 Z"/>', True),
}


def told(found: Imported) -> bool | None:
    """Whether the report says that an arrowhead tells the top, or that none does."""
    by_head = any("the arrowhead on the grainline of" in said for said in found.report.remarks)
    assert by_head != any("no single arrowhead tells the top of" in said for said in found.report.remarks)
    return by_head


@pytest.mark.parametrize(("drawn", "is_below"), DRAWN.values(), ids=DRAWN.keys())
def test_the_top_is_at_the_head(drawn: str, is_below: bool | None, tmp_path: Path) -> None:
    """A head on one end is the top; both or none, and the first end is; which of the two it was is said."""
    head = '<defs><marker id="Arrow1"/><marker id="TriangleIn"/><marker id="DotL"/></defs>'
    found = read(svg(tmp_path / "a.svg", f'{head}{path(FRONT)}<g id="grain" fill="none" stroke="black">{drawn}</g>'))
    (piece,) = found.pieces
    assert told(found) == (is_below is not None)
    drawn_piece = found.drawn[piece.name]
    assert drawn_piece.grain is not None
    assert (drawn_piece.angle % 360) == pytest.approx(90 if is_below else 270, abs=0.5)
    assert piece.length == pytest.approx(200, abs=0.5) and not piece.inner


def test_a_triangle_that_is_called_nothing(tmp_path: Path) -> None:
    """On the end of a grainline it is a head and no drill point; one elsewhere is a drill point."""
    more = '<path d="M115,150 L120,160 L125,150 Z"/><path d="M55,150 L60,160 L65,150 Z"/>'
    grain = LINE.replace("/>", ' class="grain" stroke="black"/>')
    found = read(svg(tmp_path / "a.svg", f'{path(FRONT)}{grain}<g fill="none" stroke="black">{more}</g>'))
    (piece,) = found.pieces
    assert told(found) and found.drawn[piece.name].angle % 360 == pytest.approx(90)
    assert len(piece.drill_points) == 1
    assert [entry.why for entry in found.report.account.entries if entry.place == "left out"] == [
        "it is an arrowhead of the grainline"
    ]


def test_a_block_as_an_arrow(tmp_path: Path) -> None:
    """In DXF a head may be a block on the layer of the grain."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.blocks.new("HEAD").add_lwpolyline([(-4, -10), (0, 0), (4, -10)], close=True)
        space.add_lwpolyline(FRONT, close=True, dxfattribs={"layer": "cut"})
        space.add_line((120, 160), (120, 60), dxfattribs={"layer": "grain"})
        space.add_blockref("HEAD", (120, 60), dxfattribs={"layer": "grain", "rotation": 180})

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert told(found) and found.drawn[found.pieces.pieces[0].name].angle % 360 == pytest.approx(90)


def test_shapes_of_heads() -> None:
    """By hand: a tip that lies at the end, and one that lies elsewhere; a thick end of an outline."""
    tip = np.array([[-5.0, 90.0], [0.0, 100.0], [5.0, 90.0]])
    assert heads_of(SHAFT, [tip]) == (False, True) and heads_of(SHAFT, [tip + (0, -40)]) == (False, False)
    shaft, rest = parted(np.array([[0.0, 0.0], [0.0, 40.0], [0.0, 100.0], [5.0, 90.0]]))
    assert (shaft.tolist(), len(rest)) == ([[0, 0], [0, 100]], 1)
    arrow = np.array([[-1.0, 0], [1, 0], [1, 90], [6, 90], [0, 100], [-6, 90], [-1, 90]])
    assert heads_of_outline(arrow, SHAFT) == (False, True)
