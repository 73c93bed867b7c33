"""What was read of a file of the corpus, held against the known pieces."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from shapely import affinity

from pieces.errors import PieceError
from pieces.exchange.imported import Imported, ReadingChoices
from pieces.exchange.read.reader import import_pieces
from tests.make.corpus.flat import area_of, many_points, product, scaled, steps_placed
from tests.make.corpus.known import SHEETS, Sheet

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces import Piece
    from tests.make.corpus.flat import Matrix
    from tests.make.corpus.known import Drawn, Known

    Floats = NDArray[np.float64]

MARK = 1.0
"""How far a mark may lie from where it is drawn, mm."""

UNLIKE = 3.0
"""Outlines whose boxes differ by more than this, mm, are not compared any further."""

SHARE = 2e-3
"""By how much an area may differ at any rate; more, as far as the tolerance of its outline allows, if by half of it."""


def polygon(steps: Any, hole: Any = ()) -> Any:
    """A closed line as a polygon of many points."""
    return shapely.Polygon(many_points(steps), [many_points(hole)] if hole else [])


def wanted(known: Known, matrix: Matrix, *, has_hole: bool = True) -> Any:
    """The outline of a piece as it lies on the sheet; turned or stretched after it is made of many points."""
    a, b, c, d, e, f = matrix
    return affinity.affine_transform(polygon(known.outline, known.hole if has_hole else ()), (a, c, b, d, e, f))


def read(piece: Piece) -> Any:
    """The outline of a piece that was read, without what is cut out of it."""
    holes = [np.array(line.points) for line in piece.inner if line.kind == "cutout"]
    return shapely.Polygon(piece.cut_line, holes)


def off(found: Any, truth: Any) -> float:
    """How far two outlines lie from one another at the most, mm, once their boxes lie in the same place."""
    low, here = np.array(truth.bounds[:2]), np.array(found.bounds[:2])
    sides = np.abs(np.subtract(truth.bounds[2:], low) - np.subtract(found.bounds[2:], here))
    if sides.max() > UNLIKE:
        return float(sides.max())
    found = affinity.translate(found, *(low - here))
    one, other = found.boundary, truth.boundary
    there = shapely.distance(other, shapely.points(shapely.get_coordinates(found))).max()
    back = shapely.distance(one, shapely.points(shapely.get_coordinates(truth))).max()
    return max(float(there), float(back))


def _turns(grain: Floats | None) -> tuple[float, ...]:
    """How a piece's own frame may be turned, degrees: as drawn, or its grainline along x, either way up."""
    if grain is None:
        return (0.0,)
    (x0, y0), (x1, y1) = grain[[0, -1]].tolist()
    angle = float(np.degrees(np.arctan2(y1 - y0, x1 - x0)))
    return (-angle, 180.0 - angle)


def _turned(shape: Any, turn: float) -> Any:
    return affinity.rotate(shape, turn, origin=(0, 0))


class Judged:
    """The differences between what was read and what is on the sheet.

    Parameters
    ----------
    row
        What is known of the file.
    """

    def __init__(self, imported: Imported, row: dict[str, Any]) -> None:
        self.wrong: list[str] = []
        self._imported, self._row = imported, row
        self._near, sheet = row.get("near", 0.15), SHEETS[row["sheet"]]
        self._left = list(imported.pieces)
        self._sheet = sheet
        only = row.get("only", ())
        for known, matrix in sheet.pieces:
            if not only or known.name in only:
                self._piece(known, matrix)
        for piece in self._left:
            self.wrong.append(f"a piece too many: {piece!r}")
        said = "\n".join([*imported.report.lines(), *imported.report.account.listed()])
        self.wrong += [f"not told: {words}" for words in row.get("told", ()) if words not in said]

    def _piece(self, known: Known, matrix: Matrix) -> None:
        if self._row.get("is_upside"):
            matrix = product(scaled(1, -1), matrix)
        truth = wanted(known, matrix, has_hole=self._row.get("hole", "hole") == "hole")
        has_grain = self._row.get("marks") == "named" and "grain" in self._sheet.parts and known.grain
        line = many_points(steps_placed(known.grain, matrix)) if has_grain else None
        if not self._left:
            self.wrong.append(f"missing: {known.name}")
            return
        apart, number, turn = min(
            (off(read(piece), _turned(truth, turn)), number, turn)
            for number, piece in enumerate(self._left)
            for turn in _turns(line)
        )
        piece = self._left[number]
        if apart > self._near:
            self.wrong.append(f"missing: {known.name}: the nearest, '{piece.name}', is {apart:.3g} mm off")
            return
        del self._left[number]
        self._numbers(piece, known, truth)
        if self._row.get("marks", "none") != "none":
            self._marks(piece, known.drawn(matrix, self._sheet.parts), _turned(truth, turn), turn)

    def _marks(self, piece: Piece, drawn: list[Drawn], truth: Any, turn: float) -> None:
        """Where its marks lie: each that is drawn must have one of the piece's in its place."""
        x, y = np.subtract(read(piece).bounds[:2], truth.bounds[:2]).tolist()
        is_named = self._row["marks"] == "named"
        lines = [shapely.LineString(line.points) for line in piece.inner]
        there = {"notch": [shapely.Point(notch.point) for notch in piece.notches],
                 "drill": [shapely.Point(point) for point in piece.drill_points]}  # fmt: skip
        for mark in drawn:
            if mark.part in ("cut", "hole") or (is_named and mark.part in ("grain", "fold")):
                continue
            line = affinity.translate(_turned(shapely.LineString(many_points(mark.steps)), turn), x, y)
            if mark.part == "drill" or (is_named and mark.part == "notch"):
                place = shapely.Point(line.centroid) if mark.part == "drill" else shapely.MultiPoint(line.coords)
                apart = min((place.distance(point) for point in there[mark.part]), default=np.inf)
            else:
                apart = min((line.hausdorff_distance(other) for other in lines), default=np.inf)
            if apart > MARK:
                self.wrong.append(f"{mark.of}: a mark ({mark.part}) is {apart:.3g} mm off")

    def _numbers(self, piece: Piece, known: Known, truth: Any) -> None:
        """Its name, its area, how often it is cut, and its marks."""
        size, real = float(read(piece).area), float(truth.area)
        if abs(size - real) > max(SHARE, 0.5 * self._near * truth.length / real) * real:
            self.wrong.append(f"{known.name}: an area of {size:.1f} mm², not {real:.1f}")
        if self._row.get("names") and piece.name != known.name:
            self.wrong.append(f"{known.name}: it is called '{piece.name}'")
        cut = self._row.get("cuts", {}).get(known.name, 1)
        if piece.cut != cut:
            self.wrong.append(f"{known.name}: cut {piece.cut}, not {cut}")
        has_fold = self._row.get("marks") == "named" and "fold" in self._sheet.parts and bool(known.fold)
        if piece.on_fold != has_fold:
            self.wrong.append(f"{known.name}: it {'lies' if piece.on_fold else 'does not lie'} on a fold")
        there = Counter(line.kind for line in piece.inner)
        many = {"notch": len(piece.notches), "drill": len(piece.drill_points), "line": there["line"],
                "hole": there["cutout"], "sew": there["sew"]}  # fmt: skip
        expected = _marks(known, self._sheet, self._row.get("marks", "none"))
        if known.hole:
            expected[self._row.get("hole", "hole")] += 1
        for what, count in many.items():
            if count != expected.get(what, 0):
                self.wrong.append(f"{known.name}: {count} x {what}, not {expected.get(what, 0)}")


def _marks(known: Known, sheet: Sheet, marks: str) -> Counter[str]:
    """How many marks of each kind a piece must have."""
    many = {
        "notch": len(known.notches) * ("notch" in sheet.parts),
        "drill": len(known.drills) * ("drill" in sheet.parts),
        "line": len(known.internal) * ("internal" in sheet.parts),
        "grain": bool(known.grain) * ("grain" in sheet.parts),
        "fold": bool(known.fold) * ("fold" in sheet.parts),
    }
    if marks == "none":
        return Counter()
    if marks == "lines":
        return Counter({"line": many["line"] + many["notch"] + many["grain"] + many["fold"], "drill": many["drill"]})
    return Counter({key: many[key] for key in ("notch", "drill", "line")})


def judge(path: Path, row: dict[str, Any]) -> list[str]:
    """What is wrong with what is read of a file; nothing, if all is as it must be."""
    if words := row.get("first") or row.get("refused"):
        try:
            found = import_pieces(path)
        except PieceError as error:
            if words not in str(error) or "\n" in str(error):
                return [f"it is refused in other words: {error}"]
            if row.get("refused"):
                return []
        else:
            said = found.report.lines()
            if row.get("refused") or not any(words in line for line in said):
                return [f"it is not refused, but read: {list(found.pieces)}"]
    try:
        found = import_pieces(path, ReadingChoices(**row.get("asked", {})))
    except PieceError as error:
        return [f"it is refused: {error}"]
    return Judged(found, row).wrong


def areas() -> dict[str, tuple[float, float]]:
    """The area of every known piece by the integral along its lines, and as shapely measures its many points."""
    every = {f"{known.name} on {name}": known for name, sheet in SHEETS.items() for known, _ in sheet.pieces}
    return {
        name: (
            area_of(known.outline) - (area_of(known.hole) if known.hole else 0.0),
            float(polygon(known.outline, known.hole).area),
        )
        for name, known in every.items()
    }
