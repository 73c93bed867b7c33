"""Rules of grading in DXF: a point on its layer, with the number of its rule beside it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.graded.rule_table import rule_mark
from pieces.exchange.standard import layer_of
from reports.export.dxf_entities import add_point, add_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ezdxf.layouts.base import BaseLayout
    from numpy.typing import NDArray

    from pieces.piece.curve import Point
    from reports.export.grades import Ruled, SpotRole
    from reports.export.lines import PieceLines

    Floats = NDArray[np.float64]

TURN_POINT, CURVE_POINT = "2", "3"
"""Layers of the points on corners, and of those where curves meet."""

RULE_LAYERS: Mapping[SpotRole, str] = {
    "turn": TURN_POINT,
    "curve": CURVE_POINT,
    "sew-point": layer_of("sew"),
    "drill": layer_of("drill"),
    "grain": layer_of("grain"),
}
"""Where the number of a rule stands; that of a notch stands on the layer of its kind."""

ASIDE = 1e-4
"""How far the number of a notch's rule is from its point, mm: its name is nearer, and so stays its name."""

LETTERS = 1.5
"""Height of the letters of a number, mm."""

SAME, ON = 0.05, 0.3
"""A corner this near to a graded point is the same; one is put into a line that it lies this near to, mm."""


def with_spots(lines: PieceLines, rules: Sequence[Ruled]) -> PieceLines:
    """The lines of a piece, its graded points among their corners."""
    return replace(lines, spots=tuple(one.point for one in rules if one.role in ("turn", "curve")))


def add_rules(layout: BaseLayout, rules: Sequence[Ruled], notch_layer: str) -> None:
    """Add the graded points of a piece, and beside each the number of its rule."""
    for role, (x, y), number in rules:
        layer = RULE_LAYERS.get(role, notch_layer)
        if role in ("turn", "curve"):
            add_point(layout, (x, y), layer)
        place = (x + ASIDE, y) if role == "notch" else (x, y)
        add_words(layout, rule_mark(number), place, LETTERS, layer)


def through(points: Floats, spots: Sequence[Point], *, is_closed: bool) -> Floats:
    """A polyline that has the given points among its corners, as far as they lie on it."""
    if not spots:
        return points
    starts = points if is_closed else points[:-1]
    steps = (np.roll(points, -1, axis=0) if is_closed else points[1:]) - starts
    squared = np.maximum((steps**2).sum(axis=1), 1e-18)
    kept, added = points.copy(), []
    for x, y in spots:
        away = np.hypot(*(points - (x, y)).T)
        near = int(away.argmin())
        if away[near] <= SAME:
            kept[near] = x, y
            continue
        share = np.clip(((np.array([x, y]) - starts) * steps).sum(axis=1) / squared, 0.0, 1.0)
        off = np.hypot(*(starts + share[:, np.newaxis] * steps - (x, y)).T)
        at = int(off.argmin())
        if off[at] <= ON:
            added.append((at + float(share[at]), x, y))
    if not added:
        return kept
    places = np.append(np.arange(len(points), dtype=np.float64), [place for place, _, _ in added])
    every = np.vstack([kept, [(x, y) for _, x, y in added]])
    merged: Floats = every[np.argsort(places, kind="stable")]
    return merged
