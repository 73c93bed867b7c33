"""A document read without its points, which are put back, is the document that the library reads."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from ezdxf.filemanagement import read

from pieces.exchange.read.dxf_points import PLACEHOLDER, document_of
from tests.make.drawings import dxf

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

RING = [(10 * x, x * x % 17, 0.1 * (x % 3 == 0)) for x in range(20)]


def drawn(document: Drawing, space: Modelspace) -> None:
    """Lines with and without bulges and widths, in the drawing and in a block that is placed in mirror image."""
    space.add_lwpolyline([point[:2] for point in RING], close=True)
    space.add_lwpolyline(RING, format="xyb")
    space.add_lwpolyline([(x, y, 1, 2) for x, y, _ in RING], format="xyse")
    space.add_lwpolyline(RING[:4], format="xyb", close=True)
    block = document.blocks.new("B")
    block.add_lwpolyline(RING, format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1), "elevation": 2})
    block.add_lwpolyline([point[:2] for point in RING])
    space.add_blockref("B", (100, 50), {"xscale": -2, "yscale": 2, "rotation": 30})


@pytest.mark.parametrize("version", ["R2000", "R2018"])
def test_the_same_document(tmp_path: Path, version: str) -> None:
    """Every line has the same points and attributes, also where a block is placed."""
    text = dxf(tmp_path / "a.dxf", drawn, version=version).read_text(encoding="utf-8")
    ours, theirs = document_of(text), read(io.StringIO(text))
    pairs: list[Any] = list(zip(ours.query("LWPOLYLINE"), theirs.query("LWPOLYLINE"), strict=True))
    for placed, other in zip(ours.query("INSERT"), theirs.query("INSERT"), strict=True):
        pairs += zip(placed.virtual_entities(), other.virtual_entities(), strict=True)
    assert len(pairs) >= 6
    for line, other in pairs:
        assert np.array_equal(line.lwpoints.values, other.lwpoints.values)
        assert line.dxf.all_existing_dxf_attribs() == other.dxf.all_existing_dxf_attribs()


def test_a_file_that_has_the_placeholder(tmp_path: Path) -> None:
    """A file that holds the number by which points are put back is left to the library."""
    path = dxf(tmp_path / "a.dxf", drawn)
    text = path.read_text(encoding="utf-8").replace("20\n16.0", f"20\n{PLACEHOLDER}")
    lines: list[Any] = list(document_of(text).query("LWPOLYLINE"))
    heights = [float(line.lwpoints.values[:, 1].max()) for line in lines]
    assert max(heights) == float(PLACEHOLDER)
