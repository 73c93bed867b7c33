"""Closed outlines out of lines, each once, and what was mended where lines were joined."""

from __future__ import annotations

from itertools import islice, product
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.mend.joining import join
from pieces.exchange.mend.tidy import is_beyond_mending
from pieces.exchange.sketch.sketch import printable_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import DrawnLine
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.mend.joining import JoinedLine

    Floats = NDArray[np.float64]

SAME = 0.1
"""Outlines that are nowhere farther apart are one, drawn twice, mm."""

MOST_COMPARED, MOST_CORNERS = 2000, 1000
"""Outlines that are held against one another, two by two, and corners of such an outline, at the most."""

NEAR = 5.0
"""A line that was dropped belongs to an outline that it is this near to, mm."""


def joined_outlines(strokes: Iterable[DrawnLine], tolerance: float, report: ImportReport) -> list[JoinedLine]:
    """Lines that may be outlines, joined; what was drawn twice is left out."""
    found = join((stroke for stroke in strokes if stroke.role == "outline"), tolerance)
    for joined in found:
        report.account.put(joined.dropped, "left out", why="drawn twice, or with no length")
    return found


def outlines_once(
    strokes: Iterable[DrawnLine], tolerance: float, report: ImportReport
) -> tuple[list[JoinedLine], list[JoinedLine]]:
    """Closed outlines, and the lines that stay open; of outlines drawn twice, one."""
    rings, chains = [], []
    known: dict[tuple[float, ...], list[tuple[Floats, str]]] = {}
    for joined in joined_outlines(strokes, tolerance, report):
        if not joined.closed:
            chains.append(joined)
            continue
        if is_beyond_mending(joined.points):
            why = f"it crosses itself and has {len(joined.points)} points: draw it again"
            report.leave("an outline", why, joined.numbers)
            continue
        box = (*joined.points.min(axis=0), *joined.points.max(axis=0), np.abs(joined.points).mean(axis=0).sum())
        key = tuple(round(float(side), 2) for side in box)
        spread, alike = _spread(joined.points), known.setdefault(key, [])
        name = printable_name(joined.called, "")
        under = name or printable_name(", ".join(sorted(joined.groups)), "no layer")
        same = next((called for other, called in alike if np.allclose(spread, other, atol=1e-6)), None)
        if same is not None:
            report.leave(f"the outline '{name}'" if name else "an outline", "it is drawn twice", joined.numbers)
            if under != same:
                report.guess(
                    f"the outline of '{under}' lies exactly on that of '{same}', and is taken for the same piece: if"
                    " both are to be cut, move one of them"
                )
            continue
        alike.append((spread, under))
        rings.append(joined)
    rings = _each_once(rings, report)
    for ring in rings:
        report.account.joined(ring.numbers)
    return rings, chains


def _each_once(rings: list[JoinedLine], report: ImportReport) -> list[JoinedLine]:
    """Outlines without those that lie on another but for a hair; the one that has a name is kept. That is told."""
    import shapely

    gone: dict[int, str] = {}
    for first, second in islice(_alike_boxes(rings), MOST_COMPARED):
        if first in gone or second in gone:
            continue
        one, other = (shapely.LinearRing(rings[at].points) for at in (first, second))
        apart = float(shapely.hausdorff_distance(one, other))
        if apart <= SAME:
            kept, lost = (second, first) if rings[second].called and not rings[first].called else (first, second)
            name = printable_name(rings[kept].called, "")
            on = f"that of '{name}'" if name else "another"
            far = f"{max(apart, 0.01):.2f} mm{' or less' * (apart < 0.01)}"
            gone[lost] = f"it lies on {on}, but for {far}, and is taken for the same, drawn twice"
    for at, why in gone.items():
        name = printable_name(rings[at].called, "")
        report.leave(f"the outline '{name}'" if name else "an outline", why, rings[at].numbers)
        report.guess(f"{f'the outline of {name!r}' if name else 'an outline'}: {why}: if both are to be cut, move one")
    return [ring for at, ring in enumerate(rings) if at not in gone]


def _alike_boxes(rings: Sequence[JoinedLine]) -> Iterator[tuple[int, int]]:
    """Two by two, outlines of lines whose boxes are the same but for a hair."""
    known: dict[tuple[int, ...], list[int]] = {}
    for at, ring in enumerate(rings):
        if len(ring.points) < 3 or len(ring.points) > MOST_CORNERS or ring.area:
            continue
        box = np.concatenate([ring.points.min(axis=0), ring.points.max(axis=0)]) / (2 * SAME)
        places = zip(np.floor(box - 0.5).astype(int).tolist(), np.floor(box + 0.5).astype(int).tolist(), strict=True)
        near = {other for key in product(*(set(pair) for pair in places)) for other in known.get(key, ())}
        for other in sorted(near):
            yield other, at
        known.setdefault(tuple(np.floor(box).astype(int).tolist()), []).append(at)


def _spread(ring: Floats) -> Floats:
    """What tells an outline from another in the same box, such as its mirror image, wherever it begins."""
    low, high = ring.min(axis=0), ring.max(axis=0)
    x, y = ((2 * ring - low - high) / np.maximum(high - low, 1e-9)).T
    return np.array([(x**i * y**j).mean() for i, j in ((1, 0), (0, 1), (1, 1), (2, 1), (1, 2), (3, 0), (0, 3))])


def note_joins(ring: JoinedLine, name: str, report: ImportReport) -> None:
    """Tell what was mended where lines were joined to an outline."""
    if ring.gap:
        report.mended(name, "gaps between its lines closed, the widest", ring.gap)
    doubled = sum(_lies_on(report.account.entries[number - 1].points, ring.points) for number in ring.dropped)
    if doubled:
        report.mended(name, f"{doubled} line{'s' * (doubled > 1)} dropped, drawn twice or with no length", 0.0)
    if ring.branched:
        report.guess(f"'{name}': other lines meet its outline; the outermost is used")


def _lies_on(points: Floats | None, ring: Floats) -> bool:
    """Whether a line lies on an outline, and not somewhere else in the file."""
    import shapely

    if points is None:
        return False
    return bool(shapely.dwithin(shapely.LinearRing(ring), shapely.points(points[0]), NEAR))
