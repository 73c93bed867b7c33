"""Bias binding: strips at 45 degrees to the grain, joined, or one strip round and round out of a square.

A binding is cut four times as wide as it is finished (single fold: both edges to the middle, then doubled over the
edge that it binds; common practice). The ends of strips are cut along the grain, so that two of them are sewn with a
seam along the grain.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import ceil, floor, sqrt
from typing import TYPE_CHECKING

import numpy as np

from pieces.piece.outline import Edge
from pieces.shapes.cut import JOIN, joined_label
from pieces.shapes.flat import rectangle
from pieces.units import INCH, format_both, is_metric, need_both

if TYPE_CHECKING:
    from pieces.piece.piece import Piece
    from pieces.shapes.shape import PlainShape
    from pieces.shapes.shaped import ShapedPiece

TIMES = 4
"""How many times as wide as it is finished a binding is cut: both edges folded to the middle, and doubled."""

MOST_ROUNDS = 200
"""Nobody cuts a strip that goes round more often."""


def continuous_yield(side: float, width: float, seam: float) -> float:
    """Length of a continuous bias strip from one square, its ends cut square, mm.

    The square is cut from corner to corner, sewn to a parallelogram, and that to a tube: both seams take two
    allowances off the side, which leaves a - 2s. On the bias the tube is (a - 2s) / √2 deep, and holds as many whole
    rounds of the strip as that holds widths; each round is (a - 2s) √2 long. Cut square, the ends take a width.

    Parameters
    ----------
    side, width, seam
        Of the square, of the strip as it is cut, and the allowance of its seams, mm.
    """
    sewn = side - 2 * seam
    rounds = floor(sewn / (width * sqrt(2)) + 1e-9)
    return max(0.0, rounds * sewn * sqrt(2) - width)


def square_for(length: float, width: float, seam: float) -> float:
    """Side of the least square whose continuous strip is so long, mm; see `continuous_yield`."""
    return 2 * seam + min(
        max(rounds * width * sqrt(2), (length + width) / (rounds * sqrt(2))) for rounds in range(1, MOST_ROUNDS)
    )


def binding(shape: PlainShape, length: float, width: float) -> tuple[ShapedPiece, str]:
    """A binding of strips, so long and so wide when it is finished, mm; and a line on how wide it is cut."""
    shape.check_edges(())
    cut = TIMES * width
    piece = _strip(shape, length + cut, cut)
    ways = (partial(_strips, shape, length + cut, cut),)
    return replace(piece, ways=ways), _said(shape, length, width)


def square_binding(shape: PlainShape, length: float, width: float) -> tuple[ShapedPiece, str]:
    """A binding as one strip out of squares; as of `binding`."""
    shape.check_edges(())
    cut = TIMES * width
    whole = _square(shape, length, cut, 1)
    ways = (
        lambda number, widest: (replace(_square(shape, length, cut, number), label=joined_label(number, number - 1)),),
    )
    side = whole.length
    gives = continuous_yield(side, cut, shape.join)
    said = f"{_said(shape, length, width)}; a square of {format_both(side)} gives {format_both(floor(gives))}"
    return replace(whole, ways=ways), f"{said} (by its geometry, not by its area)"


def _said(shape: PlainShape, length: float, width: float) -> str:
    return (
        f"{shape.name}: bias binding {format_both(width)} finished, cut {format_both(TIMES * width)} wide"
        f" ({TIMES} times: single fold), {need_both(length)} long"
    )


def _square(shape: PlainShape, length: float, cut: float, number: int) -> ShapedPiece:
    """One of so many squares: the strips of all, joined, are long enough."""
    step = 1.0 if is_metric() else INCH / 8
    side = ceil(square_for((length + cut) / number - cut, cut, shape.join) / step - 1e-6) * step
    bare = replace(shape, grain="straight", seam=0.0, edges={"join": 0.0}, cut=shape.cut * number)
    return replace(rectangle(bare, side, side), ways=())


def _strips(shape: PlainShape, length: float, cut: float, number: int, widest: float) -> tuple[Piece, ...]:
    part = replace(shape, cut=shape.cut * number)
    return (replace(_strip(part, length / number, cut), label=joined_label(number, number - 1)),)


def _strip(shape: PlainShape, length: float, cut: float) -> ShapedPiece:
    """A strip so long between the seams at its ends, which run along the grain, at 45 degrees to it."""
    corners = np.array([(0.0, 0.0), (length, 0.0), (length + cut, cut), (cut, cut)])
    names = (("edge", 0.0), (JOIN, shape.join), ("edge", 0.0), (JOIN, shape.join))
    edges = tuple(
        Edge(name, np.array([corners[i], corners[(i + 1) % 4]]), allowance) for i, (name, allowance) in enumerate(names)
    )
    x, reach = (length + cut) / 2, cut * 0.35
    grain = ((x - reach, cut / 2 - reach), (x + reach, cut / 2 + reach))
    return replace(shape, grain="bias").piece(edges, grain=grain)


__all__ = ["TIMES", "binding", "continuous_yield", "square_binding", "square_for"]
