"""A second look at a marker file by shapely alone: nothing of the project but the two JSON objects."""

from __future__ import annotations

from collections import Counter
from typing import Any

import numpy as np
from shapely import Polygon, STRtree, affinity, box

TINY = 0.05
"""What is forgiven, mm: the layout's grid and rounding."""


def recheck(marker: dict[str, Any], drafted: dict[str, Any], *, nap: bool = False) -> None:
    """Assert that a marker can be cut, and gives each shell piece as often as the draft wants it."""
    shell = {piece["name"]: piece for piece in drafted["pieces"] if piece["material"] == "shell"}
    bands = {band["name"]: band for band in marker["bands"]}
    shapes = [Polygon(placement["outline"]) for placement in marker["placements"]]
    cut: Counter[tuple[str, bool | str]] = Counter()
    for placement, shape in zip(marker["placements"], shapes, strict=True):
        band, piece = bands[placement["band"]], shell[placement["piece"]]
        assert shape.is_valid
        assert box(band["x0"], band["y0"], band["x1"], band["y1"]).buffer(TINY).covers(shape), placement["piece"]
        assert placement["turn"] == 0 if nap else placement["turn"] in (0, 180)
        _is_that_piece(shape, placement, piece)
        if placement["on_fold"]:
            _is_on_fold(shape, band, piece)
            cut[piece["name"], "any"] += 1
        elif band["layers"] == 2:
            cut.update([(piece["name"], True), (piece["name"], False)])
        else:
            cut[piece["name"], placement["mirrored"] if piece["mirrored_pair"] else "any"] += 1
    wanted: Counter[tuple[str, bool | str]] = Counter()
    for piece in shell.values():
        hands = (True, False) if piece["mirrored_pair"] else ("any",)
        wanted.update({(piece["name"], hand): piece["cut"] // len(hands) for hand in hands})
    assert cut == wanted
    _lie_apart(shapes, marker["gap"])
    assert max(shape.bounds[2] for shape in shapes) <= marker["length"] + TINY


def _is_that_piece(shape: Polygon, placement: dict[str, Any], piece: dict[str, Any]) -> None:
    """The outline in place is the drafted cut line: mirrored, turned and moved, or opened out."""
    drawn = Polygon(piece["cut_line"])
    if piece["on_fold"] and not placement["on_fold"]:
        low = drawn.bounds[1]
        drawn = drawn.union(affinity.scale(drawn, 1, -1, origin=(0, low))).buffer(0.001).buffer(-0.001)
    if placement["mirrored"]:
        drawn = affinity.scale(drawn, 1, -1)
    drawn = affinity.rotate(drawn, placement["turn"], origin=(0, 0))
    move = np.subtract(shape.bounds[:2], drawn.bounds[:2])
    assert shape.symmetric_difference(affinity.translate(drawn, *move)).area < 1e-4 * shape.area, placement["piece"]


def _is_on_fold(shape: Polygon, band: dict[str, Any], piece: dict[str, Any]) -> None:
    """One whole side of the piece lies on an edge of its band that is a fold."""
    side = max(np.ptp(np.array(e["points"])[:, 0]) for e in piece["edges"] if e["kind"] == "fold")
    folds = [band[f"y{i}"] for i, edge in enumerate(("low_edge", "high_edge")) if band[edge] == "fold"]
    strips = [shape.intersection(box(band["x0"], y - TINY, band["x1"], y + TINY)).bounds for y in folds]
    assert max(strip[2] - strip[0] for strip in strips if strip) >= side - TINY


def _lie_apart(shapes: list[Polygon], gap: float) -> None:
    for first, second in STRtree(shapes).query(shapes, predicate="dwithin", distance=gap + TINY).T:
        if first < second:
            a, b = shapes[first], shapes[second]
            assert a.intersection(b).area < TINY * min(a.length, b.length), (first, second)
            assert a.distance(b) >= gap - TINY
