"""Random pieces in several sizes over one another, drawn as people draw them: otherwise in each size."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Corners = list[tuple[float, float]]

Twist = Literal["none", "points", "order", "missing", "mirrored", "begun", "turned"]
"""In what the sizes differ: points on curves, order, a piece that is missing or mirrored in one, where they begin, and
which way round they run."""

BESIDE = 700.0
"""From one piece to the next, mm."""


@dataclass(frozen=True)
class Nest:
    """A drawing of sizes.

    Parameters
    ----------
    sizes
        Their names, smallest first; empty ones where they have none.
    drawn
        The outline of each piece, by its number and that of its size, y upwards.
    """

    sizes: tuple[str, ...]
    drawn: dict[tuple[int, int], Floats]


def nest_of(path: Path, seed: int, twist: Twist) -> Nest:
    """Write a drawing of sizes in even steps."""
    rng = random.Random(f"{seed} {twist}")
    many, pieces = rng.randint(3, 5), rng.randint(1, 3)
    names = rng.choice((("S", "M", "L", "XL", "XXL"), ("",) * 5))[:many]
    shapes = [
        (rng.uniform(150, 400), rng.uniform(200, 500), rng.uniform(6, 12), rng.uniform(4, 10), rng.uniform(5, 40))
        for _ in range(pieces)
    ]
    odd = rng.randrange(pieces), rng.randrange(many)
    drawn: dict[tuple[int, int], Floats] = {}
    groups = []
    for size, name in enumerate(names):
        order = list(range(pieces))
        if twist == "order":
            rng.shuffle(order)
        paths = []
        for piece in order:
            if twist == "missing" and (piece, size) == odd:
                continue
            points = _panel(shapes[piece], size - many // 2, rng.randint(8, 40) if twist == "points" else 24)
            if twist == "mirrored" and (piece, size) == odd:
                points = [(max(x for x, _ in points) - x, y) for x, y in points]
            if twist == "begun":
                at = rng.randrange(len(points))
                points = points[at:] + points[:at]
            if twist == "turned" and rng.random() < 0.5:
                points.reverse()
            placed = [(x + piece * BESIDE, y) for x, y in points]
            drawn[piece, size] = np.array(placed) * (1, -1)
            paths.append(f'<path d="M{"L".join(f"{x:.4f} {y:.4f}" for x, y in placed)}Z"/>')
        own = f'id="{name}" ' if name else ""
        groups.append(f'<g {own}fill="none" stroke="#000">{"".join(paths)}</g>')
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="3000mm" height="900mm" viewBox="0 0 3000 900">'
    path.write_text(f"{head}{''.join(groups)}</svg>")
    return Nest(names, drawn)


def _panel(shape: tuple[float, float, float, float, float], step: int, many: int) -> Corners:
    """A panel with a hollow side and a curve, so many steps larger."""
    width, height, wider, higher, hollow = shape
    w, h = width + wider * step, height + higher * step
    side = _curve((w, 0), (w - hollow, 0.3 * h), (w - hollow, 0.6 * h), (w - 20, h), many)
    neck = _curve((0.3 * w, 1.05 * h), (0.1 * w, h), (0, 0.8 * h), (0, 0.7 * h), many)
    return [(0, 0), (w, 0), *side, (0.3 * w, 1.05 * h), *neck]


def _curve(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float],
           many: int) -> Corners:  # fmt: skip
    """Points of a cubic after its start."""
    at = np.linspace(0, 1, many + 1)[1:, np.newaxis]
    points = (1 - at) ** 3 * a + 3 * (1 - at) ** 2 * at * b + 3 * (1 - at) * at**2 * c + at**3 * d
    return [(float(x), float(y)) for x, y in points]
