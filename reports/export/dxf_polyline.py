"""Polylines of many points into DXF: ezdxf writes them number by number, and that took most of the time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from ezdxf.entities.lwpolyline import LWPolylinePoints

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from ezdxf.layouts.base import BaseLayout
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class _Written:
    """All corners of a polyline, as they stand in the file: a tag as far as ezdxf's writer sees."""

    def __init__(self, points: Floats) -> None:
        self._points = points

    def dxfstr(self) -> str:
        """The text."""
        return " 10\n%r\n 20\n%r\n" * len(self._points) % tuple(self._points.ravel().tolist())


class _Corners(LWPolylinePoints):
    """Corners without widths or bulges, written in one go."""

    def dxftags(self) -> Iterator[Any]:
        """The one tag that they are written as."""
        yield _Written(self.values[:, :2])


def add_polyline(layout: BaseLayout, points: Floats, attributes: Mapping[str, Any], *, close: bool) -> None:
    """Add a polyline, shape (n, 2), closed or not."""
    polyline = layout.add_lwpolyline([], close=close, dxfattribs=dict(attributes))
    polyline.lwpoints = corners = _Corners()
    corners.values = np.column_stack([points, np.zeros((len(points), 3))])
