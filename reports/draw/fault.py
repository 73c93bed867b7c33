"""Places in the cloth on which no piece may lie."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import shapely

from reports.draw.kit.label import block_size, find_spot, write_block
from reports.draw.kit.sheet import GREY

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    from reports.draw.kit.sheet import Sheet

WORDS, SIZES = ("keep clear", "clear"), (7.0, 6.0)

HATCH = 5.0
"""Points from one line of the hatching to the next."""


def draw_faults(sheet: Sheet, faults: Sequence[NDArray[np.float64]], window: BaseGeometry) -> None:
    """Hatch outlines both ways, and name them where there is room; `window` is what of the cloth is in sight."""
    for fault in faults:
        seen = shapely.intersection(shapely.Polygon(fault), window)
        if seen.is_empty:
            continue
        sheet.lines(hatch(seen, HATCH * sheet.pt), 0.4, GREY)
        sheet.line(fault, 0.9, closed=True)
        _name(sheet, seen)


def _name(sheet: Sheet, seen: BaseGeometry) -> None:
    for words in WORDS:
        for size in SIZES:
            spot = find_spot(seen, *block_size((words,), size, sheet.pt))
            if spot is not None:
                write_block(sheet, spot, (words,), size)
                return


def hatch(area: BaseGeometry, step: float, *, both: bool = True) -> list[NDArray[np.float64]]:
    """Lines at 45 degrees, both ways or rising only, cut to an area."""
    x0, y0, x1, y1 = area.bounds
    height = y1 - y0
    starts = np.arange(np.floor((x0 - height) / step) * step, x1 + step, step)
    rising = [[(x, y0), (x + height, y1)] for x in starts]
    falling = [[(x, y1), (x + height, y0)] for x in starts]
    cut = shapely.intersection(area, shapely.MultiLineString([*rising, *(falling if both else ())]))
    return [shapely.get_coordinates(part) for part in shapely.get_parts(cut) if part.geom_type == "LineString"]
