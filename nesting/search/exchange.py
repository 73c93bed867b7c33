"""Items that others may stand in for, exchanged in a layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.shape.layout import Layout
    from nesting.shape.shapes import Shapes


def exchange(layout: Layout, shapes: Shapes, rng: np.random.Generator) -> None:
    """Let others stand in for one outline of a layout, or the other way about, at random; outlines may overlap then."""
    item_of = shapes.item_of[layout.shape]
    ways: list[tuple[NDArray[np.int64], tuple[int, ...]]] = []
    for choice in shapes.problem.choices:
        ways += [(np.array([i]), choice.instead) for i in np.flatnonzero(item_of == choice.item)]
        groups = [rng.permutation(np.flatnonzero(item_of == other)) for other in choice.instead]
        if len(set(choice.instead)) < len(choice.instead):
            groups = list(groups[0][: len(groups[0]) // len(groups) * len(groups)].reshape(-1, len(groups)).T)
        ways += [(np.array(outlines), (choice.item,)) for outlines in zip(*groups, strict=True)]
    gone, items = ways[int(rng.integers(len(ways)))]
    numbers = np.array([int(rng.choice(shapes.of_item[item])) for item in items], dtype=np.int64)
    x, y = float(layout.x[gone].mean()), [shapes.all[number].low for number in numbers]
    layout.shape = np.concatenate([np.delete(layout.shape, gone), numbers])
    layout.x = np.concatenate([np.delete(layout.x, gone), np.full(len(numbers), x)])
    layout.y = np.concatenate([np.delete(layout.y, gone), y])
