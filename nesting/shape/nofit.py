"""No-fit polygons: where one shape must not be put, seen from another.

The no-fit polygon of A and B is the set of offsets (B's position less A's) at which they overlap. It is the
union of the sums of A's convex parts with B's, turned over: sums of solid bodies, so that it has no false
holes, which a sum of the two borders would have.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np

from nesting.shape.grid import INSET, Grid
from nesting.shape.profile import Flips

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Sequence

    from numpy.typing import NDArray

    from nesting.shape.profile import BaseOutline
    from nesting.shape.shapes import Shapes

    Path = NDArray[np.int64]

T = TypeVar("T")

POLYGONS_KEPT = 10_000
"""No-fit polygons that are kept for other problems, as the same pieces on another cloth."""


class NoFit:
    """No-fit polygons of a problem's shapes, made when first asked for.

    They are drawn `INSET` steps too small, so that places where a piece just fits survive as slits.

    Attributes
    ----------
    twin
        For each shape, the first one with the same outline.
    """

    def __init__(self, shapes: Shapes) -> None:
        self.shapes = shapes
        self._paths: dict[tuple[int, int], list[Path]] = {}
        self._made: dict[Hashable, Any] = {}
        first: dict[tuple[BaseOutline, Flips], int] = {}
        self.twin = [first.setdefault((s.form, s.flips), i) for i, s in enumerate(shapes.all)]

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What was made of these polygons before under this key, or is made now."""
        if key not in self._made:
            self._made[key] = make()
        made: T = self._made[key]
        return made

    def paths(self, fixed: int, moved: int) -> list[Path]:
        """The no-fit polygon of two shapes, in steps: outer borders counter-clockwise, holes clockwise.

        Parameters
        ----------
        fixed, moved
            Shape numbers of A and B.

        Returns
        -------
        list of arrays
            Each of shape (n, 2).
        """
        key = self.twin[fixed], self.twin[moved]
        if key not in self._paths:
            mirror = self._paths.get(key[::-1])
            self._paths[key] = [-path for path in mirror] if mirror else self._make(*key)
        return self._paths[key]

    def _make(self, fixed: int, moved: int) -> list[Path]:
        """The polygon of the two forms, flipped as the fixed one is."""
        one, other, grid = self.shapes.all[fixed], self.shapes.all[moved], self.shapes.grid
        turned = Flips(one.flips.along ^ other.flips.along, one.flips.across ^ other.flips.across)
        paths = _no_fit(one.form, other.form, turned, grid.steps_per_mm)
        between = grid.to_steps(one.form.size) - grid.to_steps(other.form.size)
        flipped = [one.flips.of(path, between) for path in paths]
        return flipped if one.flips.along == one.flips.across else [path[::-1] for path in flipped]


@lru_cache(maxsize=POLYGONS_KEPT)
def _no_fit(fixed: BaseOutline, moved: BaseOutline, flips: Flips, steps_per_mm: float) -> list[Path]:
    """The no-fit polygon of two forms, of which the moved one is flipped."""
    grid = Grid.with_steps(steps_per_mm)
    outline, parts = moved.flipped(flips)
    moving = _bodies(-_moved_in(grid.to_steps(outline), INSET), parts)
    # Uniting part by part first keeps the number of crossings down.
    still = _bodies(grid.to_steps(fixed.outline), fixed.parts)
    return _union([_union([[path] for path in sums]) for sums in _convex_sums(still, moving)])


class _Bodies(NamedTuple):
    """Convex outlines, counter-clockwise: from the lowest corner of each its sides, with their directions.

    Shapes (n, 2), (n, most, 2) and (n, most); what an outline has fewer sides is filled with sides of no length that
    come last, directions of infinity.
    """

    start: Path
    sides: Path
    angles: NDArray[np.float64]


def _bodies(outline: Path, parts: Sequence[Sequence[int]]) -> _Bodies:
    """Convex parts of an outline, in steps."""
    most = max(map(len, parts))
    start = np.zeros((len(parts), 2), dtype=np.int64)
    sides = np.zeros((len(parts), most, 2), dtype=np.int64)
    for k, part in enumerate(parts):
        path = outline[list(part)]
        low = int(np.lexsort((path[:, 0], path[:, 1]))[0])
        path = np.concatenate([path[low:], path[: low + 1]])
        start[k], sides[k, : len(part)] = path[0], path[1:] - path[:-1]
    angles = np.arctan2(sides[..., 1].astype(np.float64), sides[..., 0].astype(np.float64))
    angles = np.where(angles < 0, angles + 2 * np.pi, angles)
    return _Bodies(start, sides, np.where((sides == 0).all(axis=-1), np.inf, angles))


def _convex_sums(one: _Bodies, other: _Bodies) -> list[list[Path]]:
    """Minkowski sums of each of the convex outlines `one` with each of `other`: their sides, merged by direction."""
    shape = len(one.sides), len(other.sides)
    angles = np.concatenate(
        [
            np.broadcast_to(one.angles[:, None], (*shape, one.angles.shape[1])),
            np.broadcast_to(other.angles[None], (*shape, other.angles.shape[1])),
        ],
        axis=2,
    )
    sides = np.concatenate(
        [
            np.broadcast_to(one.sides[:, None], (*shape, *one.sides.shape[1:])),
            np.broadcast_to(other.sides[None], (*shape, *other.sides.shape[1:])),
        ],
        axis=2,
    )
    order = np.argsort(angles, axis=2, kind="stable")
    merged = np.take_along_axis(sides, order[..., None], axis=2)
    corners = (one.start[:, None] + other.start[None])[:, :, None] + np.cumsum(merged, axis=2)
    number = np.isfinite(angles).sum(axis=2)
    return [[corners[i, j, : number[i, j]] for j in range(shape[1])] for i in range(shape[0])]


def _union(bodies: list[list[Path]]) -> list[Path]:
    if len(bodies) == 1:
        return bodies[0]
    import pyclipper

    clipper = pyclipper.Pyclipper()
    for paths in bodies:
        clipper.AddPaths([path.tolist() for path in paths], pyclipper.PT_SUBJECT, True)
    union = clipper.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return [np.array(path, dtype=np.int64) for path in union]


def _moved_in(outline: Path, distance: float) -> Path:
    """A counter-clockwise outline with all its edges moved inwards, corner by corner."""
    side = (np.roll(outline, -1, axis=0) - outline).astype(np.float64)
    side /= np.hypot(side[:, 0], side[:, 1])[:, None]
    before = np.roll(side, 1, axis=0)
    # The corner moves along the sum of both inward normals; at very sharp corners not further than four times.
    inward = np.stack([-(before + side)[:, 1], (before + side)[:, 0]], axis=1)
    scale = distance / np.maximum((inward * np.stack([-side[:, 1], side[:, 0]], axis=1)).sum(axis=1), 0.125)
    moved: Path = outline + np.rint(inward * scale[:, None]).astype(np.int64)
    return moved
