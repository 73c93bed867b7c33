"""What a page shows of a file: nothing of it is missing, and each outline is where it lies in the file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces.exchange.imported import ReadingChoices
from pieces.exchange.listing import listing
from tests.make.layered import DECIDED, LAYERED, read, told

if TYPE_CHECKING:
    from pathlib import Path


def test_every_outline_is_listed(tmp_path: Path) -> None:
    """Eight outlines with their numbers, marks and parts; the pieces by their cut lines; it goes into JSON."""
    shown = listing(read(tmp_path, sidecar=told(DECIDED)), ReadingChoices())
    json.dumps(shown, allow_nan=False)
    assert {one["numbers"][0]: one["role"] for one in shown["outlines"]} == DECIDED
    assert {one["mark"]["layer"] for one in shown["outlines"]} == {"outer", "red", "blue", "grey"}
    assert shown["outlines"][2]["mark"] == {"layer": "red", "colour": "#ff0000", "dash": "6 3"}
    assert [piece["numbers"] for piece in shown["pieces"]] == [[1], [2]]
    assert shown["marks"]["program"] == "Drawing Desk"
    assert (shown["unlisted"], shown["alarms"], shown["left"]) == (0, [], ["8: <path>: you said so"])


def test_a_curve_keeps_its_shape_and_its_handles(tmp_path: Path) -> None:
    """Of a round of many points fewer are shown, nowhere 0.05 mm off; handles are corners that are still there."""
    text = LAYERED.replace("M20 20H320V420H20Z", "M20 20H320V420C220 480 120 480 20 420Z")
    found = read(tmp_path, text, told(DECIDED))
    outline = listing(found, ReadingChoices())["outlines"][0]
    (ring,) = outline["paths"]
    assert len(ring) < len(found.drawn["piece 1"].outline)
    import shapely

    drawn, shown = (shapely.LinearRing(points) for points in (found.drawn["piece 1"].outline, ring))
    assert shapely.hausdorff_distance(drawn, shown, densify=0.05) < 0.06
    corners = {tuple(np.round(ring[at]).tolist()) for at in outline["handles"]}
    assert {(20, -20), (320, -20), (320, -420), (20, -420)} <= corners


@pytest.mark.parametrize(("number", "roles"), [(1, 10), (5, 10)])
def test_what_a_line_may_be(tmp_path: Path, number: int, roles: int) -> None:
    """Any line of a drawing may be said to be anything."""
    shown = listing(read(tmp_path), ReadingChoices())
    assert len(next(one for one in shown["outlines"] if one["numbers"] == [number])["roles"]) == roles
