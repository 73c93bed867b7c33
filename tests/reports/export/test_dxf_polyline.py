"""Polylines written in one go."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from ezdxf import filemanagement

from reports.export.dxf_polyline import add_polyline

if TYPE_CHECKING:
    from pathlib import Path


def test_as_ezdxf_writes_it(tmp_path: Path) -> None:
    """Read back by ezdxf, every digit is there, and the polyline is the one that ezdxf itself would write."""
    points = np.random.default_rng(7).uniform(-1e4, 1e4, (500, 2))
    document = filemanagement.new("R2000")
    add_polyline(document.modelspace(), points, {"layer": "1"}, close=True)
    document.modelspace().add_lwpolyline(points.tolist(), close=True, dxfattribs={"layer": "1"})
    document.saveas(tmp_path / "it.dxf")
    found: Any = filemanagement.readfile(tmp_path / "it.dxf").modelspace().query("LWPOLYLINE")
    ours, theirs = found
    assert list(ours.get_points("xyseb")) == list(theirs.get_points("xyseb"))
    assert (np.array(ours.get_points("xy")) == points).all()
    assert ours.closed and len(ours) == 500
