"""Entities written as text are those that ezdxf writes: read back, all they say is there."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from ezdxf import units
from ezdxf.entities.insert import Insert
from ezdxf.entities.text import Text
from ezdxf.filemanagement import new, readfile
from ezdxf.lldxf.encoding import decode_dxf_unicode

from reports.export.dxf_entities import add_line, add_placed, add_point, add_polyline, add_words

if TYPE_CHECKING:
    from pathlib import Path


def test_read_back(tmp_path: Path) -> None:
    """Places, heights, thickness, angle, attributes and signs beyond Latin come back, and the audit finds nothing."""
    document = new("R2000", units=units.MM)
    block, space = document.blocks.new("one"), document.modelspace()
    add_words(block, "späť 裁断", (1.5, -2.25), 7.0, "1", centred=True)
    add_words(block, "beside", (3.0, 4.0), 2.0, "4")
    add_point(block, (5.0, 6.0), "4", thickness=3.0, angle=-90.0)
    add_placed(space, "one", (100.0, 50.0), "1", [("PIECE_NAME", "front"), ("MATERIAL", "rib")], "15")
    add_placed(space, "one", (0.0, 0.0), "1", [], "15")
    document.saveas(tmp_path / "it.dxf")
    read = readfile(tmp_path / "it.dxf")
    audit = read.audit()
    assert not audit.errors and not audit.fixes
    middle, beside = (entity for entity in read.blocks["one"] if isinstance(entity, Text))
    assert (decode_dxf_unicode(middle.dxf.text), middle.dxf.height, middle.dxf.halign) == ("späť 裁断", 7.0, 1)
    assert tuple(middle.dxf.align_point)[:2] == (1.5, -2.25)
    assert (beside.dxf.text, tuple(beside.dxf.insert)[:2], beside.dxf.layer) == ("beside", (3.0, 4.0), "4")
    (point,) = read.blocks["one"].query("POINT")
    assert (tuple(point.dxf.location)[:2], point.dxf.thickness, point.dxf.angle) == ((5.0, 6.0), 3.0, -90.0)
    first, second = (entity for entity in read.modelspace() if isinstance(entity, Insert))
    assert tuple(first.dxf.insert)[:2] == (100.0, 50.0)
    assert [(a.dxf.tag, a.dxf.text, a.is_invisible) for a in first.attribs] == [
        ("PIECE_NAME", "front", True),
        ("MATERIAL", "rib", True),
    ]
    assert not second.attribs
    handles = [entity.dxf.handle for entity in read.entitydb.values()]
    assert len(handles) == len(set(handles))


def test_lines_as_ezdxf_writes_them(tmp_path: Path) -> None:
    """Every digit of a line is there, and it is the one that ezdxf itself would write."""
    points = np.random.default_rng(7).uniform(-1e4, 1e4, (500, 2))
    document = new("R2000")
    space = document.modelspace()
    add_polyline(space, points, "1", close=True)
    space.add_lwpolyline(points.tolist(), close=True, dxfattribs={"layer": "1"})
    add_line(space, points[:2], "7")
    space.add_line(points[0].tolist(), points[1].tolist(), {"layer": "7"})
    document.saveas(tmp_path / "it.dxf")
    read: Any = readfile(tmp_path / "it.dxf").modelspace()
    ours, theirs = read.query("LWPOLYLINE")
    assert list(ours.get_points("xyseb")) == list(theirs.get_points("xyseb"))
    assert (np.array(ours.get_points("xy")) == points).all()
    assert ours.closed and len(ours) == 500
    one, other = ({key: value for key, value in line.dxfattribs().items() if key != "handle"}
                  for line in read.query("LINE"))  # fmt: skip
    assert one == other and one["layer"] == "7"
