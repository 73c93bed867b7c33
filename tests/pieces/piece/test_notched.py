"""Notches as they are cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces.piece.notched import SHALLOW, NotchCut, cut_notches
from tests.make.exported import square

if TYPE_CHECKING:
    from pieces import PieceSet


def test_on_the_edge(jacket: PieceSet) -> None:
    """By shapely every notch starts on the cut line and goes inside it, square to the sew line; on no fold."""
    for piece in jacket:
        cut, sewn = shapely.Polygon(piece.cut_line), [edge for edge in piece.edges if edge.kind != "fold"]
        for notch in cut_notches(piece):
            assert cut.exterior.distance(shapely.Point(notch.edge)) < 1e-6
            assert cut.buffer(1e-6).covers(shapely.Point(np.add(notch.edge, notch.inward)))
            near = min(sewn, key=lambda edge: shapely.LineString(edge.points).distance(shapely.Point(notch.sewn)))
            assert notch.apart >= near.allowance - 1e-6
            fold = piece.fold_edge
            if fold is not None and abs(notch.sewn[1] - fold.points[0, 1]) > 1:
                assert abs(notch.edge[1] - fold.points[0, 1]) > 1


@pytest.mark.parametrize(("asked", "deep"), [(3.0, 3.0), (6.0, 5.0)])
def test_depth(asked: float, deep: float) -> None:
    """A notch is as deep as asked, or half of the 10 mm of allowance; its slit, V and T end there."""
    (notch,) = cut_notches(square("patch"))
    assert (notch.edge, notch.sewn, notch.inward) == (pytest.approx((50, -10)), (50, 0), pytest.approx((0, 1)))
    (slit,), (v,), (stem, bar) = (NotchCut(kind, asked).strokes(notch) for kind in ("slit", "v", "t"))
    assert np.array([slit[1], v[1], stem[1]]) == pytest.approx(np.array([(50, deep - 10)] * 3))
    assert np.ptp(v[:, 0]) == pytest.approx(deep) == np.ptp(bar[:, 0])
    assert v[[0, 2], 1] == pytest.approx(-10)


def test_without_allowance() -> None:
    """Where nothing is cut beyond the sew line, a notch is shallow."""
    piece = square("patch")
    bare = type(piece)("bare", tuple(type(e)(e.name, e.points.copy(), 0.0) for e in piece.edges), notches=piece.notches)
    (notch,) = cut_notches(bare)
    assert notch.edge == notch.sewn
    assert notch.inward == pytest.approx((0, 1))
    assert NotchCut().depth_of(notch) == SHALLOW
