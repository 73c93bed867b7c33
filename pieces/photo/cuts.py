"""Notches cut into the edge of paper: where table is seen within the edge, narrow, and along it paper again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.photo.lines import even

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.photo.paper import TableView

    Floats = NDArray[np.float64]

STEP = 0.4
"""From sample to sample along the edge and into the paper, mm."""

DEEP = 14.0
"""No notch is cut deeper, mm."""

LEAST_DEEP, LEAST_MOUTH, MOST_MOUTH = 3.0, 2.4, 22.0
"""How deep a cut is, and how wide at the edge, mm: what is narrower is not told from a drawn line."""

AROUND = 40.0
"""Paper is told by what lies so far to both sides, mm."""

CARRIED, SAG = (9.0, 22.0), 4.0
"""Of the edge so much on both sides tells how it runs between; and how far an outline may sag into a cut, mm."""

CORNER = 30.0
"""Where the edge turns by more, degrees, no notch is told from the corner."""

OUT = 3.0
"""Table is told by what lies so far without, mm."""


@dataclass(frozen=True, eq=False)
class EdgeCut:
    """A cut into the edge: its middle on the edge, how deep and how wide it is, and whether it is pointed."""

    point: Floats
    deep: float
    mouth: float
    is_pointed: bool


def cuts_at(view: TableView, outline: Floats) -> list[EdgeCut]:
    """Notches in the edge that an outline runs along, as if they were not there."""
    import cv2

    edge = _as_if_whole(even(outline, STEP, is_ring=True))
    along = np.roll(edge, -8, axis=0) - np.roll(edge, 8, axis=0)
    along /= np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    area = float(np.sum(edge[:, 0] * np.roll(edge[:, 1], -1) - edge[:, 1] * np.roll(edge[:, 0], -1)))
    inwards = np.column_stack([-along[:, 1], along[:, 0]]) * np.sign(area)
    depths = np.arange(-OUT - 2.0, DEEP + 4, STEP)
    at = ((edge[:, None] + depths[None, :, None] * inwards[:, None]) - view.first) / view.step
    seen: Any = cv2.remap(view.pixels, at[..., 1].astype(np.float32), at[..., 0].astype(np.float32), cv2.INTER_LINEAR)
    strip = np.asarray(seen, dtype=np.float64)
    paper = _usual(np.median(strip[:, depths > 4.0], axis=1))
    table = np.median(strip[:, depths < -OUT / 2], axis=1)
    apart = np.maximum(np.linalg.norm(paper - table, axis=1), 1.0)
    way = (table - paper) / apart[:, None]
    like = np.einsum("sdc,sc->sd", strip - paper[:, None], way) / apart[:, None]  # 0 for paper, 1 for table
    aside = np.linalg.norm(strip - paper[:, None] - like[..., None] * (way * apart[:, None])[:, None], axis=-1)
    is_table = (like > 0.5) & (aside < 0.6 * apart[:, None]) & (apart > 25)[:, None]
    far = round((MOST_MOUTH / 2 + 4.0) / STEP)
    turned = np.asarray(np.einsum("sd,sd->s", np.roll(along, 12, axis=0), np.roll(along, -12, axis=0)))
    turn = np.asarray(turned < np.cos(np.radians(CORNER)), dtype=bool)
    wide = np.pad(turn, far, mode="wrap")
    at_corner: Any = np.lib.stride_tricks.sliding_window_view(wide, 2 * far + 1).any(axis=-1)
    return [cut for cut, middle in _found(is_table, depths, edge) if not at_corner[middle]]


def _as_if_whole(edge: Floats) -> Floats:
    """The edge at each point as it runs on both sides of it, where that is near: an outline sags into cuts."""
    near, far = (round(mm / STEP) for mm in CARRIED)
    at = np.concatenate([np.arange(-far, -near + 1), np.arange(near, far + 1)])
    weights = np.linalg.pinv(np.vander(at * STEP, 3))[2]  # of each point, in the value in the middle
    kernel = np.zeros(2 * far + 1)
    kernel[at + far] = weights
    padded = np.pad(edge, ((far, far), (0, 0)), mode="wrap")
    whole = np.column_stack([np.convolve(column, kernel[::-1], mode="valid") for column in padded.T])
    is_near = np.hypot(*(whole - edge).T) < SAG
    return np.where(is_near[:, None], whole, edge)


def _usual(colours: Floats) -> Floats:
    """The colour of paper along the edge: the median of what lies on both sides."""
    half, each = round(AROUND / STEP), 10
    padded = np.pad(colours, ((half, half), (0, 0)), mode="wrap")
    windows = np.lib.stride_tricks.sliding_window_view(padded[::each], 2 * half // each + 1, axis=0)
    coarse = np.median(windows, axis=-1)
    at = np.minimum(np.arange(len(colours)) // each, len(coarse) - 1)
    return np.asarray(coarse[at])


def _found(is_table: NDArray[np.bool_], depths: Floats, edge: Floats) -> list[tuple[EdgeCut, int]]:
    """Narrow runs along the edge where table reaches into the paper; and the number of each one's middle."""
    first = int(np.flatnonzero(depths >= 0.6)[0])
    inner = is_table[:, first:]
    reach = np.where(inner.all(axis=1), inner.shape[1], inner.argmin(axis=1)) * STEP + 0.6  # without a break
    reach[~inner[:, 0]] = 0.0
    deep = reach > 0.0
    if deep.all() or not deep.any():
        return []
    count = len(deep)
    starts = np.flatnonzero(deep & ~np.roll(deep, 1)).tolist()
    found = []
    for start in starts:
        end = start
        while deep[end % count]:
            end += 1
        those = np.arange(start, end) % count
        mouth, most = (end - start) * STEP, float(reach[those].max())
        if LEAST_MOUTH <= mouth <= MOST_MOUTH and LEAST_DEEP <= most <= DEEP:
            wide_within = float((reach[those] > 0.6 * most).sum()) * STEP
            middle = int(those[len(those) // 2])
            found.append((EdgeCut(edge[middle], most, mouth, wide_within < 0.75 * mouth), middle))
    return found


def bridged(points: Floats, cuts: list[EdgeCut]) -> Floats:
    """The points of an edge, a millimetre apart, drawn straight over cuts."""
    import shapely

    if not cuts:
        return points
    ring: Any = shapely.LinearRing(points)
    at = shapely.line_locate_point(ring, shapely.points(points))
    kept = np.ones(len(points), dtype=bool)
    for cut in cuts:
        middle = float(ring.project(shapely.Point(*cut.point)))
        off = np.abs((at - middle + ring.length / 2) % ring.length - ring.length / 2)
        kept &= off > cut.mouth / 2 + 2.5
    return even(points[kept], 1.0, is_ring=True)
