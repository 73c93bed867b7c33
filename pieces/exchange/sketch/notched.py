"""Notches whose points on the sew line are drawn beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.drawing import Mark
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.sketch import Sketch

REACH = 60.0
"""A point on the sew line belongs to a notch that is cut this near to it, mm: no allowance is wider."""


def put_on_sew_line(sketch: Sketch, points: Sequence[Mark], report: ImportReport) -> None:
    """Put each notch on the point that is drawn for it on the sew line: that of its name, and the nearest one."""
    free = list(range(len(sketch.notches)))
    apart = {
        (k, n): float(np.hypot(*np.subtract(point.place, sketch.notches[n][1])))
        for k, point in enumerate(points)
        for n in free
    }
    other = {(k, n): bool(points[k].name) and points[k].name != sketch.notches[n][0] for k, n in apart}
    left = set(range(len(points)))
    for k, n in sorted(apart, key=lambda pair: (other[pair], apart[pair])):
        if k in left and n in free and apart[k, n] <= REACH:
            sketch.notches[n] = sketch.notches[n][0], points[k].place
            report.account.put(points[k].numbers, "said again", sketch.name, "a notch, where it is on the sew line")
            free.remove(n)
            left.remove(k)
    for k in sorted(left):
        report.leave(f"a point on the sew line of '{sketch.name}'", "no notch is cut near it", points[k].numbers)
