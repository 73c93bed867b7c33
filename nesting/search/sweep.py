"""A sweep: one set of pieces laid again and again, and a table of what came of it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product
from numbers import Integral
from typing import TYPE_CHECKING, get_args

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import Spread
from nesting.errors import NestingError
from nesting.problem.lay import lay_pieces, require_garments
from nesting.search.solver import solve
from pieces import Piece
from pieces.length import length_in_mm, mm
from pieces.require import require_all, require_callable, require_one_of, require_whole

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from nesting.marker.marker import Result
    from nesting.search.stop import StopCriterion
    from pieces.length import Length, Written

    SweepRow = dict[str, str | float | bool]

NONE = math.nan
"""What a number is in a row whose pieces cannot be laid."""


def sweep(
    pieces: Iterable[Piece],
    fabrics: Fabric | Sequence[Fabric],
    spreads: Spread | Sequence[Spread],
    stop: Callable[[], StopCriterion],
    *,
    widths: Sequence[Written] = (),
    gaps: Sequence[Written] = (),
    seeds: Sequence[int] = (0,),
    garments: int = 1,
    workers: int = 1,
) -> list[SweepRow]:
    """Lay some pieces on each cloth, in each width, with each gap, in each spread, from each seed.

    Parameters
    ----------
    pieces, garments
        What is laid, and how many garments at once.
    fabrics, spreads
        A cloth or several; a spread or several.
    stop
        Makes a fresh criterion for each search, such as ``lambda: MaxIterations(100)``.
    widths, gaps
        Widths of cloth, and distances between pieces, to try in place of the cloth's own.
    seeds, workers
        Of each search, as of `solve`.

    Returns
    -------
    list of dict
        A row a search, in the order asked, all with the same keys, units in their names: ready for a data frame.
        Where pieces cannot be laid, ``refused`` says why, and lengths are no numbers (NaN).
    """
    require_callable(
        stop, "the stop of a sweep", "a function that makes a fresh stop, such as lambda: MaxIterations(100)", takes=0
    )
    seeds = require_all(seeds, Integral, "the seeds of a sweep", "whole numbers")
    pieces = require_all(pieces, Piece, "the pieces of a sweep", "pieces")
    several = [fabrics] if isinstance(fabrics, Fabric) else fabrics
    cloths = require_all(several, Fabric, "the fabrics of a sweep", "fabrics")
    require_garments(garments, "a sweep")
    for count, what, least in ((workers, "workers", 1), *((seed, "seed", 0) for seed in seeds)):
        require_whole(count, f"the {what} of a sweep", least=least)
    ways = require_all([spreads] if isinstance(spreads, str) else spreads, str, "the spreads of a sweep", "spreads")
    for way in ways:
        require_one_of(way, get_args(Spread), "a spread of a sweep")
    wide, apart = _lengths(widths, "width"), _lengths(gaps, "gap")
    rows = []
    for cloth in cloths:
        each = product(wide or [mm(cloth.width)], apart or [mm(cloth.gap)], ways)
        for width, gap, spread in each:
            fabric = replace(cloth, width=width, gap=gap)
            try:
                problem = lay_pieces(pieces, fabric, spread, garments=garments)
            except NestingError as error:
                rows += [_row(fabric, spread, seed, str(error)) for seed in seeds]
            else:
                found = ((seed, solve(problem, stop(), seed=seed, workers=workers)) for seed in seeds)
                rows += [_row(fabric, spread, seed, "", result) for seed, result in found]
    return rows


def _lengths(given: Sequence[Written], what: str) -> list[Length]:
    several = require_all(given, object, f"the {what}s of a sweep", "lengths")
    return [length_in_mm(one, f"a {what} of a sweep") for one in several]


def _row(fabric: Fabric, spread: Spread, seed: int, refused: str, result: Result | None = None) -> SweepRow:
    marker = result.marker if result else None
    return {
        "cloth": fabric.name,
        "width_mm": float(fabric.width),
        "gap_mm": float(fabric.gap),
        "spread": spread,
        "seed": seed,
        "length_mm": float(marker.length) if marker else NONE,
        "cloth_mm": float(marker.cloth_length) if marker else NONE,
        "density_percent": 100 * float(marker.density) if marker else NONE,
        "bound_mm": float(result.at_least) if result else NONE,
        "is_proved": result is not None and result.stopped_by == "proved",
        "seconds": result.seconds if result else NONE,
        "stopped_by": result.stopped_by if result else "",
        "refused": refused,
    }
