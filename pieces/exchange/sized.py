"""All sizes of a file side by side, and the grade rules that lead from the one that is read to the others.

A rule moves each corner by the same way from size to size. Sizes that were drawn need not grow so evenly: how far the
rules miss them at the worst is measured, piece by piece, and told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError, PieceError
from pieces.exchange.own.grading import grading_text
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sketch.moved import CORNER, handles_of
from pieces.exchange.sketch.sketch import turning
from pieces.piece.grade import PointGrade, grade

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.exchange.imported import DrawnPiece, Imported, ImportReport, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.piece.piece import Piece

    Floats = NDArray[np.float64]

SAME = 0.1
"""An outline as it was drawn is that of the piece if nowhere farther off, mm."""

WORST = 10.0
"""Rules that miss a drawn size by more are none, mm."""

PARTS = 8
"""Points that a rule gives between two corners of a curve."""

SHARP = (CORNER, 25.0, 40.0)
"""Degrees by which a corner turns: the least that gives all sizes as many is used."""

LEAST_STEP = 0.005
"""A point that moves less from size to size stays, mm."""


@dataclass(frozen=True)
class SizedPiece:
    """A piece in all sizes: how long and wide each is, mm; its rules, how far they miss at the worst, and why none."""

    name: str
    measured: Mapping[str, tuple[float, float]]
    rules: tuple[PointGrade, ...] = ()
    off: float | None = None
    why: str = ""


@dataclass(frozen=True)
class SizedFile:
    """All sizes of a file, in order; the one that the pieces have; each piece in them; sizes left out, and why."""

    sizes: tuple[str, ...]
    base: str
    pieces: tuple[SizedPiece, ...]
    without: tuple[str, ...] = ()

    def text(self, source: str) -> str:
        """The grade rules as a file; FormatError if no piece has any."""
        rules = {piece.name: piece.rules for piece in self.pieces if piece.rules}
        if not rules:
            raise FormatError("there are no grade rules: " + "; ".join(f"'{p.name}': {p.why}" for p in self.pieces))
        return grading_text(self.sizes, self.base, source, rules)

    def words(self) -> list[str]:
        """What there is to say of it."""
        said = [f"size {left_out}" for left_out in self.without]
        said += [f"'{piece.name}' has no rules: {piece.why}" for piece in self.pieces if piece.why]
        for piece in self.pieces:
            unseen = [size for size in self.sizes if size not in piece.measured] if piece.rules else []
            said += [f"'{piece.name}' is not drawn in size {size}: it is made by the rules alone" for size in unseen]
        offs = [(piece.off, piece.name) for piece in self.pieces if piece.off is not None]
        if offs:
            off, name = max(offs)
            said.insert(0, f"Rules made of the drawn sizes miss them by {off:.1f} mm at the worst, in '{name}'.")
        return said


def read_sizes(path: Path, asked: ReadingChoices, told: Sidecar, found: Imported) -> SizedFile:
    """Read each size of a file, and hold its pieces against those of the size that was read.

    Raises
    ------
    FormatError
        If the file has no sizes.
    """
    sizes = found.report.sizes
    base = found.report.size
    if len(sizes) < 2 or base not in sizes:
        raise FormatError("the file has no second size to compare with")
    nests = found.report.nests
    others: dict[str, dict[int | str, Floats]] = {}
    missing: dict[str, str] = {}
    for size in sizes:
        if size == base:
            continue
        try:
            one = import_pieces(path, replace(asked, size=size, lines=told.lines))
        except FormatError as error:  # such as a size that not all pieces have
            missing[size] = str(error)
            continue
        others[size] = {_key(drawn, nests): drawn.outline for drawn in one.drawn.values()}
    if not others:
        size, why = next(iter(missing.items()))
        raise FormatError(f"no second size can be compared with: size {size} is left out: {why}")
    read = [at for at, size in enumerate(sizes) if size == base or size in others]
    sizes = sizes[read[0] : read[-1] + 1]  # one between others stays: from size to size the steps are even
    without = [
        f"{size} is made by the rules alone: {why}" if size in sizes else f"{size} is left out: {why}"
        for size, why in missing.items()
    ]
    pieces = tuple(_piece(piece, found, sizes, base, others) for piece in found.pieces)
    return SizedFile(sizes, base, pieces, tuple(without))


def _doubted(drawn: DrawnPiece, report: ImportReport) -> str:
    """Why the sizes of a piece are not certain; empty if they are."""
    if not report.nests:
        return ""
    nest = next((nest for nest in report.nests if drawn.numbers[0] in nest), None)
    if nest is None:
        return "it is drawn once, and lies over no other size of itself"
    if report.sizes_are_counted and len(nest) < max(map(len, report.nests)):
        return f"it is drawn in {len(nest)} sizes and others in more, without names: name the sizes"
    if nest in report.mirrored:
        return "an outline over it is like the mirror image of one of its sizes: turn that over in the file"
    return ""


def _key(drawn: DrawnPiece, nests: Sequence[frozenset[int]]) -> int | str:
    """By what a piece is found in another size: its nest, for names may be counted in another order there."""
    if not nests:
        return drawn.called
    return next((min(nest) for nest in nests if drawn.numbers[0] in nest), drawn.numbers[0])


def _piece(
    piece: Piece, found: Imported, sizes: Sequence[str], base: str, others: Mapping[str, Mapping[int | str, Floats]]
) -> SizedPiece:
    drawn = found.drawn.get(piece.name)
    if drawn is None:
        return SizedPiece(piece.name, {base: (piece.length, piece.width)}, why="it is a copy of another piece")
    turned = turning(drawn.angle)
    key = _key(drawn, found.report.nests)
    rings = {size: turned(rings[key]) for size, rings in others.items() if key in rings}
    ring = turned(drawn.outline)
    measured = {size: _size(rings[size] if size != base else ring) for size in sizes if size in rings or size == base}
    if not rings:
        return SizedPiece(piece.name, measured, why="it is drawn in one size")
    if why := _doubted(drawn, found.report):
        return SizedPiece(piece.name, measured, why=why)
    if _off(ring, piece.sew_line) > SAME:
        return SizedPiece(piece.name, measured, why="it is not as it was drawn: corrected, opened out, or mended")
    steps = {size: sizes.index(size) - sizes.index(base) for size in rings}
    try:
        rules = _rules(ring, [(rings[size], step) for size, step in steps.items()])
        off = max(
            _off(grade(piece, rules, step).sew_line if rules else ring, rings[size]) for size, step in steps.items()
        )
    except PieceError as error:
        return SizedPiece(piece.name, measured, why=str(error))
    if off > WORST:
        return SizedPiece(piece.name, measured, why=f"no even step leads to the drawn sizes (off by {off:.0f} mm)")
    return SizedPiece(piece.name, measured, rules, off)


def _size(ring: Floats) -> tuple[float, float]:
    long, wide = np.ptp(ring, axis=0).tolist()
    return long, wide


def _rules(ring: Floats, others: Sequence[tuple[Floats, int]]) -> tuple[PointGrade, ...]:
    """How each corner, and points on curves between them, move from one size to the next: by least squares."""
    turned = [(other if _turns(other) == _turns(ring) else other[::-1], step) for other, step in others]
    corners, theirs = _corners(ring, [other for other, _ in turned])
    shares = _shares(ring, corners)
    base = _at(ring, corners, shares)
    moves, weight = np.zeros_like(base), 0.0
    for (other, step), matched in zip(turned, theirs, strict=True):
        moves += step * (_at(other, matched, shares) - base)
        weight += step * step
    moves /= weight
    if not (np.hypot(*moves.T) > LEAST_STEP).any():
        return ()
    return tuple(
        PointGrade((x, y), along, across)
        for (x, y), (along, across) in zip(base.tolist(), np.round(moves, 3).tolist(), strict=True)
    )


def _corners(ring: Floats, others: Sequence[Floats]) -> tuple[list[int], list[list[int]]]:
    """The corners of an outline, and those of other sizes that stand for them.

    A curve of few points has corners of its own: where their numbers differ, only sharper ones count.
    """
    refused: PieceError | None = None
    for sharp in SHARP:
        corners = handles_of(ring, sharp)
        try:
            return corners, [_matched(ring, corners, other, sharp) for other in others]
        except PieceError as error:
            refused = refused or error
    assert refused is not None
    raise refused


def _shares(ring: Floats, corners: Sequence[int]) -> list[list[float]]:
    """Between each two corners, at which shares of the way points are taken: none where it runs straight."""
    found = []
    for first, last in zip(corners, [*corners[1:], corners[0] + len(ring)], strict=True):
        found.append([0.0] if last - first < 3 else [part / PARTS for part in range(PARTS)])
    return found


def _at(ring: Floats, corners: Sequence[int], shares: Sequence[Sequence[float]]) -> Floats:
    """The points at these shares of the way between corners."""
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(np.vstack([ring, ring[:1]]), axis=0).T))))
    closed = np.vstack([ring, ring[:1]])
    places = []
    for at, (first, parts) in enumerate(zip(corners, shares, strict=True)):
        start, end = along[first], along[corners[(at + 1) % len(corners)]]
        end += float(along[-1]) * (end <= start)
        places += [(start + part * (end - start)) % float(along[-1]) for part in parts]
    return np.column_stack([np.interp(places, along, closed[:, axis]) for axis in (0, 1)])


def _matched(ring: Floats, corners: Sequence[int], other: Floats, sharp: float) -> list[int]:
    """The corners of another size that stand for those of the base, in the order of these."""
    theirs = handles_of(other, sharp)
    if len(theirs) != len(corners):
        raise PieceError(f"it has {len(corners)} corners in one size and {len(theirs)} in another")
    ours, found = ring[list(corners)], other[theirs]
    best = min(range(len(theirs)), key=lambda turn: _spread(np.roll(found, -turn, axis=0) - ours))
    return theirs[best:] + theirs[:best]


def _turns(ring: Floats) -> bool:
    """Whether an outline runs counter-clockwise."""
    x, y = ring.T
    return bool((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() > 0)


def _spread(moves: Floats) -> float:
    return float(((moves - moves.mean(axis=0)) ** 2).sum())


def _off(one: Floats, other: Floats) -> float:
    """How far two outlines are apart at the worst, mm."""
    import shapely

    a, b = shapely.LinearRing(one), shapely.LinearRing(other)
    return float(shapely.hausdorff_distance(a, b, densify=0.01))
