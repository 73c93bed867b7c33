"""Ease: whether a finished size leaves the body room, and an armhole lets the arm be lifted.

How much ease is little, and how low an armhole may lie, is common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.body.girths import to_waist
from pieces.piece.finished import Finished
from pieces.units import CM, INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

LOW, LOW_OF_CHILD, HIGH = 2.75 * INCH, 1.75 * INCH, 0.4 * CM
"""How far below the line of the arm an armhole is low, and how far is too little, mm."""


def little_ease(sizes: Iterable[Finished], least: Mapping[str, float], more: Mapping[str, str]) -> Iterator[str]:
    """A line for each finished size that leaves the body too little room.

    Parameters
    ----------
    least
        The least ease by the name of a size, mm.
    more
        The option that gives more there; ``ease`` does elsewhere.
    """
    for size in sizes:
        if size.ease is not None and size.ease < least.get(size.name, size.ease):
            than = f"only {format_both(size.ease)} more" if size.ease >= 0 else f"{format_both(-size.ease)} less"
            yield (
                f"{size.name}: {format_both(size.garment)} finished, {than} than the body: give more"
                f" {more.get(size.name, 'ease')}, or one hardly gets in"
            )


def armhole_notes(lower: float, body: Body, garment: str) -> Iterator[str]:
    """A line where an armhole lies too low, or too high.

    Parameters
    ----------
    lower
        How far it lies below the line of the arm, mm.
    garment
        What a lifted arm takes along.
    """
    if lower > (LOW_OF_CHILD if body.wearer == "children" else LOW):
        yield (
            f"armhole: {format_both(lower)} below the line of the arm: a lifted arm takes the {garment} along; choose a"
            " closer fit, or less armhole_depth"
        )
    elif lower < HIGH:
        where = "above" if lower < 0 else "below"
        yield f"armhole: {format_both(abs(lower))} {where} the line of the arm, so that it cuts in: more armhole_depth"


def at_the_waist(drafted: PieceSet, body: Body, top: float, length: float) -> Iterator[Finished]:
    """The finished size at a waist that was measured and is covered.

    Parameters
    ----------
    top, length
        Level of the neck point in the frame of back and front, and from there to the hem, mm.
    """
    if body.waist is None or to_waist(body) > length:
        return
    sides = [drafted[name].edge("side").points[::-1] for name in ("back", "front")]  # from the underarm down
    level = top + to_waist(body)
    yield Finished("waist", 2 * sum(float(np.interp(level, side[:, 0], side[:, 1])) for side in sides), body.waist)
