"""No-fit polygons: where one shape must not be put, seen from another.

The no-fit polygon of A and B is the set of offsets (B's position less A's) at which they overlap. It is the
union of the sums of A's convex parts with B's, turned over: sums of solid bodies, so that it has no false
holes, which a sum of the two borders would have.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np

from nesting.grid import INSET

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from numpy.typing import NDArray

    from nesting.shapes import Shapes

    Path = NDArray[np.int64]

T = TypeVar("T")


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
        self._parts: dict[tuple[int, int], list[_Body]] = {}
        self._made: dict[Hashable, Any] = {}
        first: dict[bytes, int] = {}
        self.twin = [first.setdefault(s.outline.tobytes(), i) for i, s in enumerate(shapes.all)]

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
        moving = self._bodies(moved, -1)
        # Uniting part by part first keeps the number of crossings down.
        sums = [_union([[_convex_sum(a, b)] for b in moving]) for a in self._bodies(fixed, 1)]
        return _union(sums)

    def _bodies(self, number: int, sign: int) -> list[_Body]:
        """A shape's convex parts in steps; with sign -1 the moving ones, drawn too small and turned about."""
        key = number, sign
        if key not in self._parts:
            shape = self.shapes.all[number]
            outline = self.shapes.grid.to_steps(shape.outline)
            if sign < 0:
                outline = -_moved_in(outline, INSET)
            self._parts[key] = [_body(outline[list(part)]) for part in shape.parts]
        return self._parts[key]


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


class _Body(NamedTuple):
    """A convex outline, counter-clockwise: its lowest corner, and its sides from there with their directions."""

    start: Path
    sides: Path
    angles: NDArray[np.float64]


def _body(path: Path) -> _Body:
    path = np.roll(path, -int(np.lexsort((path[:, 0], path[:, 1]))[0]), axis=0)
    sides = np.roll(path, -1, axis=0) - path
    sides = sides[(sides != 0).any(axis=1)]
    angles = np.arctan2(sides[:, 1].astype(np.float64), sides[:, 0].astype(np.float64))
    return _Body(path[0], sides, np.where(angles < 0, angles + 2 * np.pi, angles))


def _convex_sum(a: _Body, b: _Body) -> Path:
    """Minkowski sum of two convex outlines: their sides, merged by direction."""
    order = np.argsort(np.concatenate([a.angles, b.angles]), kind="stable")
    corners: Path = a.start + b.start + np.cumsum(np.concatenate([a.sides, b.sides])[order], axis=0)
    return corners
