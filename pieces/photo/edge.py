"""The edge of paper to a tenth of a millimetre: looked for across a rough outline, where colours change most."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.photo.look import across_edge

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.look import SeenPhoto

    Floats = NDArray[np.float64]

APART = 1.0
"""From point to point along the outline, mm."""

STEP = 0.1
"""From sample to sample across it, mm."""

FAR, NEAR = 5.0, 1.6
"""How far across the edge is looked for, at first and then, mm."""

SIDE = 1.2
"""What is compared on both sides of an edge, mm."""

BARE = 0.8
"""So near to an edge nothing is compared to say whether it is one: paper is seldom cut cleaner, mm."""

FAINT = 0.15
"""Where colours change by less, in shares of their usual change across the same outline, there is hardly an edge."""

AFAR, SOFT, HOLE = (3.0, 7.0), 0.6, 4
"""Where colours change by less than this share of what they change so far away, mm, it is the edge of a shadow, which
comes slowly: paper in shadow may look as the table does in light. A clear edge of so few points among faint ones is
chance. Where both sides are alike so far away, it is a crease, dark on one side and bright on the other. By rendered
photos; common practice, no source."""

STIFF = 0.6
"""How much a jump of the edge from point to point costs, in shares of the usual change of colour a millimetre."""


def sharp_outline(rough: Floats, looks: Sequence[SeenPhoto]) -> Floats:
    """The outline of paper, a point every millimetre.

    Parameters
    ----------
    rough
        The outline to some millimetres, mm.
    looks
        Photos in which it is looked for; nothing is looked at but the strip along the outline.
    """
    outline = _even(_smooth(_even(rough, APART), 4.0), APART)
    for reach, soft in ((FAR, 1.5), (NEAR, 0.7), (NEAR, 0.0)):
        across = _normals(outline, 3.0 if reach == FAR else 2.0)
        moved = outline + _offsets(outline, across, reach, looks)[:, None] * across
        outline = _even(_smooth(moved, soft) if soft else moved, APART)
    return outline


def faint_length(outline: Floats, looks: Sequence[SeenPhoto]) -> float:
    """The longest stretch, mm, along which an outline is hardly an edge: a shadow's, a crease's, or but a guess."""
    line = _even(outline, APART)
    across = _normals(line, 2.0)
    near, far = (
        np.linalg.norm(np.median(seen[:, :5], axis=1) - np.median(seen[:, 5:], axis=1), axis=-1)
        for away in (np.linspace(BARE, BARE + SIDE, 5), np.linspace(*AFAR, 5))
        for seen in [across_edge(looks, line[:, None] + np.concatenate([-away, away])[None, :, None] * across[:, None])]
    )
    is_crease = _has_room(line, across) & (far < FAINT * float(np.median(far)))
    faint = _closed((near < FAINT * float(np.median(near))) | (near < SOFT * far) | is_crease)
    if faint.all() or not faint.any():
        return APART * float(faint.sum())
    runs = np.diff(np.flatnonzero(~np.concatenate([faint, faint]))) - 1
    return APART * float(runs.max())


def _has_room(line: Floats, across: Floats) -> NDArray[np.bool_]:
    """Where the paper lies on one side alone, as far as is looked: it does not in tips, and in narrow notches."""
    import shapely

    area = shapely.Polygon(line)
    sides = [[shapely.contains_xy(area, *(line + by * far * across).T) for far in AFAR] for by in (-1, 1)]
    left, right = (np.sum(side, axis=0) for side in sides)
    return np.asarray((left + right == len(AFAR)) & (left * right == 0))


def _closed(faint: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The same, round the outline, with its small holes filled."""
    windows = np.lib.stride_tricks.sliding_window_view
    wide = windows(np.pad(faint, HOLE, mode="wrap"), HOLE + 1).any(axis=-1)
    return np.asarray(windows(wide, HOLE + 1).all(axis=-1))


def seen_offsets(outline: Floats, look: SeenPhoto, within: float) -> tuple[Floats, Floats]:
    """Points of an outline, one a millimetre, and how far across it one photo shows the edge, mm.

    Parameters
    ----------
    within
        How far from the rim of the picture it must lie, in shares of its shorter side; nan where it does not.
    """
    line = _even(outline, APART)
    across = _normals(line, 2.0)
    rim = FAR + SIDE
    is_in = np.min([look.central(look.pixels(line + by * across)) for by in (-rim, 0.0, rim)], axis=0) > within
    if not is_in.any():
        return line, np.full(len(line), np.nan)
    return line, np.where(is_in, _offsets(line, across, FAR, (look,)), np.nan)


def _offsets(outline: Floats, across: Floats, reach: float, looks: Sequence[SeenPhoto]) -> Floats:
    """How far across each point the edge lies, mm."""
    rim = reach + SIDE
    steps = np.arange(-rim, rim + STEP / 2, STEP)
    lines = outline[:, None, :] + steps[None, :, None] * across[:, None, :]
    colours = across_edge(looks, lines)
    width = round(SIDE / STEP)
    summed = np.concatenate([np.zeros((len(colours), 1, 3)), np.cumsum(colours, axis=1)], axis=1)
    means = (summed[:, width:] - summed[:, :-width]) / width
    change = np.linalg.norm(means[:, width:] - means[:, :-width], axis=-1)
    places = -rim + STEP * (np.arange(change.shape[1]) + width - 0.5)
    usual = float(np.median(change.max(axis=1))) or 1.0
    gain = np.minimum(change / usual, 1.5) - 0.1 * (places / reach) ** 2
    best = _smoothest(gain, STIFF * STEP / SIDE * 2)
    return places[best] + STEP * _between(change, best)


def _smoothest(gain: Floats, stiff: float) -> NDArray[np.int64]:
    """The way along a closed strip that gains most, where every step aside costs: the algorithm of Viterbi."""
    count, wide = gain.shape
    aside = np.arange(-6, 7)
    costs = stiff * np.abs(aside)
    start = min(count, 60)
    order = np.concatenate([np.arange(count), np.arange(start)])  # round, and a little further
    total = gain[0].copy()
    came = np.zeros((len(order), wide), dtype=np.int64)
    for step, at in enumerate(order[1:], 1):
        padded = np.pad(total, 6, constant_values=-np.inf)
        ways = np.stack([padded[6 + by : 6 + by + wide] - cost for by, cost in zip(aside, costs, strict=True)])
        came[step] = ways.argmax(axis=0)
        total = ways.max(axis=0) + gain[at]
    found = np.zeros(len(order), dtype=np.int64)
    found[-1] = int(total.argmax())
    for step in range(len(order) - 1, 0, -1):
        found[step - 1] = found[step] + aside[came[step, found[step]]]
    half = start // 2
    return np.concatenate([found[count : count + half], found[half:count]])


def _between(change: Floats, best: NDArray[np.int64]) -> Floats:
    """Where between samples the change is greatest, by a parabola; in samples, half of one at most."""
    rows = np.arange(len(best))
    inner = np.clip(best, 1, change.shape[1] - 2)
    before, here, after = (change[rows, inner + by] for by in (-1, 0, 1))
    bend = before - 2 * here + after
    with np.errstate(divide="ignore", invalid="ignore"):
        found = 0.5 * (before - after) / bend
    return np.where((bend < 0) & (inner == best), np.clip(found, -0.5, 0.5), 0.0)


def _normals(outline: Floats, soft: float) -> Floats:
    """Directions across a closed outline, to its right as it runs."""
    calm = _smooth(outline, soft)
    along = np.roll(calm, -1, axis=0) - np.roll(calm, 1, axis=0)
    along /= np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    return np.column_stack([along[:, 1], -along[:, 0]])


def _smooth(outline: Floats, soft: float) -> Floats:
    """A closed outline smoothed by a bell curve of so many points."""
    half = int(np.ceil(3 * soft))
    bell = np.exp(-0.5 * (np.arange(-half, half + 1) / soft) ** 2)
    bell /= bell.sum()
    padded = np.pad(outline, ((half, half), (0, 0)), mode="wrap")
    return np.column_stack([np.convolve(column, bell, mode="valid") for column in padded.T])


def _even(outline: Floats, apart: float) -> Floats:
    """A closed outline with its points so far apart."""
    closed = np.vstack([outline, outline[:1]])
    way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    at = np.linspace(0, way[-1], max(8, round(way[-1] / apart)), endpoint=False)
    return np.column_stack([np.interp(at, way, column) for column in closed.T])
