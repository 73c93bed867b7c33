"""Spreads: how cloth lies on the table, and the bands that makes of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, get_args

from nesting.cloth.band import Band
from nesting.cloth.repeat import Repeat
from nesting.errors import SpreadError
from pieces.units import format_both

if TYPE_CHECKING:
    from nesting.cloth.fabric import Fabric

Spread = Literal[
    "open",
    "folded",
    "double-folded",
    "part-folded",
    "fold-then-open",
    "crosswise",
    "face-to-face",
    "face-up",
    "tube",
]

STACKS: tuple[Spread, ...] = ("face-to-face", "face-up")
"""The spreads of several lengths of cloth on one another."""

MOST_PLIES = 1000
"""No knife cuts a higher stack; common practice, no source."""

SEARCHED: tuple[Spread, ...] = ("part-folded", "fold-then-open")
"""The spreads of which more is to be settled before anything is laid: how deep, or which piece lies where."""

FLAT_SPREADS: tuple[Spread, ...] = ("folded", "open", "double-folded")
"""The spreads of cloth with two selvedges, simplest first: folded, fewer outlines are marked and cut."""


def lengths_of_cloth(spread: Spread, plies: int = 2) -> int:
    """How many times a marker's length of cloth lies on the table."""
    return plies if spread in STACKS else 2 if spread == "crosswise" else 1


def laid_width(fabric: Fabric, spread: Spread, depth: float | None = None) -> float:
    """How wide the cloth lies on the table, selvedges included, mm; `depth` as for `spread_cloth`."""
    if spread == "part-folded":
        return fabric.width - (depth or 0.0)
    return fabric.width if spread in ("open", "fold-then-open", "crosswise", *STACKS) else fabric.width / 2


def pattern(fabric: Fabric, spread: Spread) -> Repeat | None:
    """The lines of a fabric's pattern on the laid cloth.

    One lies along the middle of the cloth or, where it is folded, along the fold: common practice, no source.

    Raises
    ------
    SpreadError
        If the pattern across cannot lie on both folds.
    """
    if not (fabric.repeat_along or fabric.repeat_across):
        return None
    if spread == "crosswise":
        raise SpreadError(f"'{fabric.name}' has a pattern, which a crosswise fold cannot match: lay the cloth open")
    if fabric.repeat_across and spread == "double-folded":
        raise SpreadError(
            f"'{fabric.name}' has a pattern across, which cannot match at both folds: fold it once, or lay it open"
        )
    low = fabric.width / 2 if spread in ("open", *STACKS) else 0.0
    return Repeat(float(fabric.repeat_along), float(fabric.repeat_across), low=low)


def spread_cloth(fabric: Fabric, spread: Spread, depth: float | None = None, plies: int = 2) -> tuple[Band, ...]:
    """The bands of a fabric laid in one way.

    Parameters
    ----------
    depth
        For ``"part-folded"``: how far the one selvedge is folded over, mm.
    plies
        For stacks: how many lengths of cloth lie on one another.

    ``"open"``
        A single layer, right side up, between its selvedges.
    ``"folded"``
        Folded lengthwise, right sides together: the fold along the lower edge, the selvedges along the upper.
    ``"double-folded"``
        Both selvedges folded to the middle: a fold along either edge. The selvedges meet in the middle of the
        upper layer, so that no piece may lie across it: two bands.
    ``"part-folded"``
        One selvedge folded over as far as `depth`, right sides together: folded cloth, and a single layer beside it.
    ``"crosswise"``
        Folded across its length, right sides together: no fold along it, twice the length of cloth, and the nap of
        the upper layer running the other way.
    ``"face-up"``, ``"face-to-face"``
        A stack of cut lengths, right sides up, or right sides together two by two, each second one turned round so
        that naps agree.
    ``"tube"``
        A circular knit laid flat, uncut: a fold along either edge, and no selvedge.

    Raises
    ------
    SpreadError
        If the fabric cannot lie that way.
    """
    width, selvedge = float(fabric.width), float(fabric.selvedge)
    whole = selvedge, width - selvedge
    if spread in STACKS:
        return (_stack(fabric, spread, plies),)
    if spread == "crosswise":
        if fabric.nap:
            raise SpreadError(
                f"'{fabric.name}' has a nap, which would run the other way in the upper layer of a crosswise fold:"
                " cut it at the fold and turn the layer (spread 'face-to-face'), or fold it lengthwise"
            )
        return (Band("folded crosswise", *whole, 2, True, selvedge=selvedge, nap_turned=True),)
    if spread == "open":
        return (Band("single layer", *whole, selvedge=selvedge),)
    if spread == "folded":
        return (Band("folded cloth", 0.0, width / 2 - selvedge, 2, True, "fold", "selvedge", selvedge),)
    if spread == "tube":
        if selvedge:
            raise SpreadError(f"'{fabric.name}' is laid as a tube, and a tube has no selvedge: leave selvedge out")
        return (Band("tube", 0.0, width / 2, 2, True, "fold", "fold"),)
    if spread == "double-folded":
        return _both_to_the_middle(fabric)
    if spread == "part-folded":
        return _in_part(fabric, depth)
    if spread == "fold-then-open":
        raise SpreadError(f"'{fabric.name}' folded and then opened out has two stretches: lay them one by one")
    raise SpreadError(f"unknown spread {spread!r}: choose one of {', '.join(get_args(Spread))}")


def _both_to_the_middle(fabric: Fabric) -> tuple[Band, Band]:
    width, selvedge = fabric.width, fabric.selvedge
    quarter = width / 4
    if selvedge >= quarter:
        raise SpreadError(f"'{fabric.name}' is too narrow to fold both selvedges to the middle: lay it open")
    return (
        Band("first fold", 0.0, quarter - selvedge, 2, True, "fold", "selvedge", selvedge),
        Band("second fold", quarter + selvedge, width / 2, 2, True, "selvedge", "fold", selvedge),
    )


def _in_part(fabric: Fabric, depth: float | None) -> tuple[Band, Band]:
    width, selvedge = fabric.width, fabric.selvedge
    if depth is None or not selvedge < depth < width / 2:
        least, most = format_both(selvedge), format_both(width / 2)
        given = "none" if depth is None else format_both(depth)
        raise SpreadError(
            f"'{fabric.name}' folded in part needs a fold_depth of more than {least} and less than {most}, not {given}"
        )
    return (
        Band("folded part", 0.0, depth - selvedge, 2, True, "fold", "selvedge", selvedge),
        Band("single part", depth, width - depth - selvedge, 1, False, "free", "selvedge", selvedge),
    )


def _stack(fabric: Fabric, spread: Spread, plies: int) -> Band:
    is_mirrored = spread == "face-to-face"
    if plies > MOST_PLIES:
        raise SpreadError(f"a stack has {MOST_PLIES} plies at most, not {plies}: lay several")
    if plies < 2 or (is_mirrored and plies % 2):
        least = "an even number of plies" if is_mirrored else "2 plies or more"
        raise SpreadError(f"a stack laid {spread} needs {least}, not {plies}")
    low, high = fabric.selvedge, fabric.width - fabric.selvedge
    return Band(f"{plies} plies {spread}", low, high, plies, is_mirrored, selvedge=fabric.selvedge)
