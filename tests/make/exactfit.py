"""Test data: strips, panels and bindings that fill cloth exactly, cut out of it by straight cuts from edge to edge.

So a marker is known by construction, and nothing is left of it but the gaps.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, get_args

import numpy as np
import shapely

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import Spread
from nesting.errors import CheckError
from nesting.folds.fold_then_open import fold_then_open
from nesting.marker.opinion import check
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.tolerance import TOLERANCE
from pieces import Piece
from pieces.length import mm
from pieces.units import Units
from reports.chalk.chalk import chalk
from tests.make.outlines import sides

if TYPE_CHECKING:
    from numpy.random import Generator

    from nesting.problem.problem import Problem

UNITS = {"in": (25.4 / 8, 160, 500), "cm": (5.0, 100, 320)}
"""Millimetres in the unit that all sizes are whole numbers of, and the narrowest and widest cloth in it."""

SPREADS: tuple[Spread, ...] = get_args(Spread)

MOST_PIECES = 12


class Rectangle(NamedTuple):
    """What a straight cut left, in units: its size, whether it lies on a fold, and whether in several layers."""

    length: int
    height: int
    folded: bool
    double: bool


@dataclass(frozen=True, eq=False)
class ExactFit:
    """Pieces that fill a length of cloth exactly.

    `length` is that of a marker known by construction, mm; None where pieces may choose their stretch. `beside` says
    that all lie beside one another in it, in one band: in whatever order, they fit.
    """

    pieces: tuple[Piece, ...]
    fabric: Fabric
    spread: Spread
    depth: float | None
    length: float | None
    beside: bool

    def problem(self) -> Problem:
        """The layout problem."""
        if self.spread == "fold-then-open":
            return fold_then_open(self.pieces, self.fabric, most=0)
        return lay_pieces(self.pieces, self.fabric, self.spread, depth=None if self.depth is None else mm(self.depth))

    def __str__(self) -> str:
        sizes = ", ".join(
            f"{p.cut}{' pair' if p.mirrored_pair else ''}{' on fold' if p.on_fold else ''} {p.length:g}x{p.width:g}"
            for p in self.pieces
        )
        return f"{self.fabric}, {self.spread}, depth {self.depth}, length {self.length}: {sizes}"


def exact_fit(seed: int, spread: Spread) -> ExactFit:
    """One set of pieces, on one spread; the same each time."""
    rng = np.random.default_rng([seed, SPREADS.index(spread)])
    unit, least, most = UNITS[str(rng.choice(list(UNITS)))]
    quarter = int(rng.integers(least, most + 1)) // 4
    width, selvedge = 4 * quarter, int(rng.choice([0, 0, 2, 4])) if spread != "tube" else 0
    gap = int(rng.choice([0, 0, 0, 1, 2]))
    depth, bands = _bands(spread, width, selvedge, rng)
    if len(bands) > 1 and gap > selvedge:  # pieces of two bands would be too near to one another
        gap = 0
    length = int(rng.integers(quarter // 2, 10 * quarter))
    rectangles = [cut for band in bands for cut in _cut_band(band, length, gap, MOST_PIECES // len(bands), rng)]
    nap = bool(rng.random() < 0.3) and spread != "crosswise"
    fabric = Fabric("cloth", mm(width * unit), mm(selvedge * unit), nap, mm(gap * unit))
    pieces = _pieces(rectangles, spread, unit, rng)
    known = None if spread == "fold-then-open" else length * unit
    beside = len(bands) == 1 and known is not None and all(cut.length == length for cut in rectangles)
    return ExactFit(pieces, fabric, spread, None if depth is None else depth * unit, known, beside)


def amiss(case: ExactFit, iterations: int) -> str | None:
    """What is wrong with the marker that a little search finds for some pieces, if anything is.

    No error may end the search, and the marker passes the check; it is no shorter than the pieces' area allows, and
    no bound is above a marker that is known. Pieces that just fill the width are found to lie beside one another.
    """
    try:
        result = solve(case.problem(), MaxIterations(iterations))
        check(result.marker)
        check(chalk(result.marker, Units.INCHES).marker)
    except CheckError as error:
        return f"CheckError: {error}"
    marker, known = result.marker, case.length
    layers = [band.layers for band in marker.problem.bands]
    area = sum(shapely.Polygon(outline).area * layers[v.band] for _, _, v, outline in marker.outlines())
    if not case.fabric.gap and area > marker.length * marker.problem.cloth_width * (1 + 1e-6):
        return f"{marker.length} mm is too short for {area} mm² of pieces"
    if result.bound > marker.length:
        return f"the bound, {result.bound} mm, is above the marker, {marker.length} mm ({result.bound_held})"
    if known is not None and result.bound > known:
        return f"the bound, {result.bound} mm, is above a known marker, {known} mm ({result.bound_held})"
    if known is not None and case.beside and marker.length > known + TOLERANCE:
        return f"pieces that fill the width do not lie beside one another: {marker.length} mm, not {known} mm"
    return None


class _Band(NamedTuple):
    width: int
    fold_below: bool
    fold_above: bool
    double: bool


def _bands(spread: Spread, width: int, selvedge: int, rng: Generator) -> tuple[int | None, list[_Band]]:
    """How deep the cloth is folded, and the bands it gives, worked out here by hand."""
    if spread in ("folded", "fold-then-open"):
        return None, [_Band(width // 2 - selvedge, True, False, True)]
    if spread == "tube":
        return None, [_Band(width // 2, True, True, True)]
    if spread == "double-folded":
        half = width // 4 - selvedge
        return None, [_Band(half, True, False, True), _Band(half, False, True, True)]
    if spread == "part-folded":
        depth = int(rng.integers(selvedge + 8, width // 2 - selvedge - 4))
        return depth, [_Band(depth - selvedge, True, False, True), _Band(width - 2 * depth - selvedge, *[False] * 3)]
    return None, [_Band(width - 2 * selvedge, False, False, spread != "open")]


def _cut_band(band: _Band, length: int, gap: int, most: int, rng: Generator) -> list[Rectangle]:
    """A band cut across into columns, and each of these along the cloth, again and again."""
    parts = [(0, 0, length, band.width)]
    wanted = int(rng.integers(2, most + 1))
    for _ in range(4 * wanted):
        if len(parts) >= wanted:
            break
        i = int(rng.integers(len(parts)))
        x, y, long, high = parts[i]
        across = bool(rng.random() < 0.4)
        size = long if across else high
        times = int(rng.choice([2, 2, 2, 3, 4]))
        if (size - gap * (times - 1)) < 2 * times:
            continue
        sizes = _shares(size - gap * (times - 1), times, rng)
        starts = np.cumsum([0, *(s + gap for s in sizes)])[:-1].tolist()
        parts[i : i + 1] = [
            (x + at, y, own, high) if across else (x, y + at, long, own) for at, own in zip(starts, sizes, strict=True)
        ]
    folded = [(band.fold_below and y == 0) or (band.fold_above and y + high == band.width) for _, y, _, high in parts]
    return [Rectangle(long, high, on, band.double) for (_, _, long, high), on in zip(parts, folded, strict=True)]


def _shares(size: int, times: int, rng: Generator) -> list[int]:
    """A size in so many parts, all but equal or at random."""
    if rng.random() < 0.4:
        return [size // times + (k < size % times) for k in range(times)]
    cuts = np.sort(rng.choice(np.arange(1, size), times - 1, replace=False))
    shares: list[int] = np.diff([0, *cuts.tolist(), size]).tolist()
    return shares


def _pieces(rectangles: list[Rectangle], spread: Spread, unit: float, rng: Generator) -> tuple[Piece, ...]:
    """The rectangles as pieces: halves on a fold, pairs, or single ones; equal ones now and then under one name."""
    counted: Counter[tuple[Rectangle, bool, bool, int]] = Counter()
    for number, rectangle in enumerate(rectangles):
        halves = rectangle.folded and bool(rng.random() < 0.5)
        if spread == "open" and rectangle.height % 2 == 0 and rng.random() < 0.2:
            halves, rectangle = True, rectangle._replace(height=rectangle.height // 2)
        pair = rectangle.double and spread != "face-up" and not halves and bool(rng.random() < 0.5)
        counted[rectangle, halves, pair, 0 if rng.random() < 0.7 else number] += 1
    return tuple(_piece(f"piece {i}", *key[:3], times, unit, rng) for i, (key, times) in enumerate(counted.items(), 1))


def _piece(name: str, rectangle: Rectangle, halves: bool, pair: bool, times: int, unit: float, rng: Generator) -> Piece:
    # Drafted somewhere, as by a person: sizes are differences of numbers, and not whole to the last bit.
    x, y = (float(value) for value in rng.integers(0, 80, 2) * unit)
    far, top = x + rectangle.length * unit, y + rectangle.height * unit
    edges = sides([(x, y), (far, y), (far, top), (x, top)], [0.0] * 4, fold=0 if halves else None)
    return Piece(name, edges, cut=times if halves or not rectangle.double else 2 * times, mirrored_pair=pair)
