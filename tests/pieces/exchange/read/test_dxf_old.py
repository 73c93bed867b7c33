"""Old polylines in their short form hold the same points; what is not plain stays as it was."""

from __future__ import annotations

import io

import pytest
from ezdxf import filemanagement
from ezdxf.entities.lwpolyline import LWPolyline

from pieces.exchange.read.dxf_old import with_short_polylines

POINTS = [(0.0, 0.0, 0.0), (100.0, 0.0, 0.5), (100.0, 50.0, 0.0), (0.0, 50.0, 0.0)]


def written(*, smoothed: bool = False) -> str:
    """A file of the oldest form with one closed polyline on a layer of its own."""
    document = filemanagement.new("R12")
    line = document.modelspace().add_polyline2d(POINTS, format="xyb", close=True, dxfattribs={"layer": "cut"})
    if smoothed:
        line.dxf.flags |= 4
    file = io.StringIO()
    document.write(file)
    return file.getvalue()


def test_a_plain_polyline_is_one_entity_with_the_same_points() -> None:
    """Points, bulges, layer and closing are those of the old form, by another reader of DXF."""
    text = with_short_polylines(written())
    assert "VERTEX" not in text.split("ENTITIES")[1]
    (line,) = filemanagement.read(io.StringIO(text)).modelspace()
    assert isinstance(line, LWPolyline)
    assert (line.dxftype(), line.closed, line.dxf.layer) == ("LWPOLYLINE", True, "cut")
    assert [tuple(row) for row in line.get_points("xyb")] == POINTS


@pytest.mark.parametrize("change", [lambda t: t.replace("SEQEND", "SOQUEND"), lambda t: t.split("SEQEND")[0]])
def test_what_is_damaged_stays(change: object) -> None:
    """A polyline that does not end is not touched."""
    text = change(written())  # type: ignore[operator]
    assert with_short_polylines(text) == text


def test_a_smoothed_line_stays() -> None:
    """Its points are those of a frame, not of the line: it is read in full."""
    text = written(smoothed=True)
    assert with_short_polylines(text) == text
