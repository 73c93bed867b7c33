"""Lines of a drawing that a person decided on, or a legend: given their part before anything is guessed of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.decided.decisions import ROLE_WORDS
from pieces.exchange.decided.legend import best_legend
from pieces.exchange.drawing import DrawnLine
from pieces.exchange.mend.joining import join
from pieces.exchange.sketch.sketch import printable_name

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import EntryRole, FileEntry, Sureness
    from pieces.exchange.decided.decisions import LineDecision, LineRole
    from pieces.exchange.drawing import Drawing, Mark
    from pieces.exchange.imported import ImportReport, ReadingChoices
    from pieces.exchange.mend.joining import JoinedLine
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.exchange.standard import StandardRole

    Floats = NDArray[np.float64]

STANDARD: Mapping[LineRole, StandardRole] = {
    "piece": "outline", "sew line": "sew", "inner line": "line", "cutout": "cutout", "grain": "grain", "fold": "fold",
    "notch": "notch", "drill point": "drill",
}  # fmt: skip

MOST_ALARMS = 10
"""Outlines that a legend may have taken wrongly which are named."""

EVEN = 400
"""Parts of an outline that its middle line is found by."""

MOST_IDLE = 8
"""Entries of a legend that are named where the file has nothing for them."""

LARGE = 20.0
"""An outline that measures less is no piece, mm: common practice, no source."""


class Decider:
    """What is decided of the lines of one file.

    Attributes
    ----------
    pieces
        Numbers of lines that are cut lines because a person, or a legend, says so.
    """

    def __init__(self, asked: ReadingChoices, report: ImportReport) -> None:
        self._legend = report.legend = asked.legend or best_legend(asked.legends, report.marks)
        report.is_drawing = True
        self._report, self._account = report, report.account
        self.pieces: dict[int, Sureness] = {}
        self._told: dict[int, LineRole] = {}
        self._of_legend: dict[int, LineRole] = {}
        self._join = asked.join
        self._waiting = sorted((one for one in asked.lines if one.role or one.size), key=lambda one: one.numbers[-1])
        self._sizes: dict[int, str] = {}

    def settle(self, *, is_all: bool = False) -> None:
        """Find the lines that were decided on among those that were entered since; `is_all` if no more will be."""
        entries, left = self._account.entries, []
        if not is_all and all(one.numbers[-1] > len(entries) for one in self._waiting[:1]):
            return
        for one in self._waiting:
            if one.numbers[-1] > len(entries) and not is_all:
                left.append(one)
                continue
            numbers = one.found(entries)
            fixed = [entries[number - 1] for number in numbers if entries[number - 1].is_fixed]
            if not numbers:
                self._missing(one)
            elif len(fixed) == len(numbers):
                why = fixed[0].why or f"it is {fixed[0].place}"
                self._report.guess(f"what was decided of {one.words()} is not used: {why}")
                continue
            for number in numbers:
                if one.role and self._told.setdefault(number, one.role) != one.role:
                    self._twice(number, ROLE_WORDS.get(one.role, one.role))
                if one.size and self._sizes.setdefault(number, one.size) != one.size:
                    self._twice(number, f"size {one.size}")
        self._waiting = left

    def _twice(self, number: int, other: str) -> None:
        """Tell of two decisions that, in the file as it is now, mean one line."""
        self._report.guess(f"line {number} is decided on twice: {other} is not used")

    def end(self) -> None:
        """Tell of decisions about lines that the file does not have."""
        for one in self._waiting:
            numbers = one.found(self._account.entries)
            if not numbers:
                self._missing(one)
            else:
                self._report.guess(
                    f"what was decided of {one.words()} is not used: it has number {numbers[0]} in the file as it is "
                    "now: write that number"
                )
        self._waiting = []

    def _missing(self, one: LineDecision) -> None:
        self._report.guess(
            f"what was decided of {one.words()} is not used: {one.missing(self._report.account.entries)}"
        )

    def size(self, numbers: Iterable[int]) -> str:
        """The size that lines were said to be; empty if nothing was said."""
        return next((self._sizes[number] for number in numbers if number in self._sizes), "")

    def role(self, number: int) -> LineRole | None:
        """What is decided of a line: by a person, or else by the legend; None if nothing is."""
        if number in self._told:
            self._account.because([number], "told")
            return self._told[number]
        entry = self._account.entries[number - 1]
        if self._legend is None or entry.points is None or entry.kind in ("words", "other"):
            return None
        rule = self._legend.rule_of(entry.mark)
        if rule is None or rule.role is None or (rule.role == "piece" and entry.kind == "point"):
            return None
        self._of_legend[number] = rule.role
        self._account.because([number], "legend", rule.mark.words())
        return rule.role

    def drop(self, numbers: Sequence[int], role: LineRole) -> bool:
        """Account for lines that are no part of a piece; False if they are."""
        if role not in ("frame", "left out"):
            return False
        by: Sureness = "legend" if numbers[0] in self._of_legend else "told"
        place: EntryRole = "frame" if role == "frame" else "left out"
        self._account.put(numbers, place, why="by your legend" if by == "legend" else "you said so")
        self._account.because(numbers, by)
        return True

    def decide(self, strokes: Iterable[DrawnLine]) -> list[DrawnLine]:
        """Lines with the parts that are decided; those of one part are joined, and those left out are gone."""
        kept: list[DrawnLine] = []
        parts: dict[StandardRole, list[DrawnLine]] = {}
        for stroke in strokes:
            role = self.role(stroke.numbers[0]) if stroke.numbers else None
            if role is None:
                kept.append(stroke)
            elif not self.drop(stroke.numbers, role):
                by: Sureness = "legend" if stroke.numbers[0] in self._of_legend else "told"
                self._account.because(stroke.numbers, by)
                if role == "piece":
                    self.pieces |= dict.fromkeys(stroke.numbers, by)
                    kept.append(replace(stroke, role="outline"))
                else:
                    parts.setdefault(STANDARD[role], []).append(stroke)
        for part, those in parts.items():
            kept += self._joined(those, part)
        return kept

    def _joined(self, strokes: Sequence[DrawnLine], role: StandardRole) -> list[DrawnLine]:
        """Lines of one part, end to end; a grainline or a fold stays as it is drawn."""
        if role in ("grain", "fold"):
            return [replace(stroke, role=role) for stroke in strokes]
        made = []
        for line in join(strokes, self._join):
            self._account.put(line.dropped, "left out", why="drawn twice, or with no length")
            self._account.joined(line.numbers)
            made.append(DrawnLine(line.points, role, "", line.closed, line.numbers))
        return made

    def decide_drawing(self, drawing: Drawing) -> None:
        """Decide on the lines and the points of a plain drawing."""
        self._account.fix()
        self.settle(is_all=True)
        points: list[Mark] = []
        strokes = list(drawing.strokes)
        for mark in drawing.points:
            role = self.role(mark.numbers[0]) if mark.numbers else None
            if role is None or STANDARD.get(role) == mark.role:
                points.append(mark)
            elif not self.drop(mark.numbers, role):
                lines = [self._account.entries[number - 1] for number in mark.numbers]
                if role in ("notch", "drill point") or any(_is_point(entry) for entry in lines):
                    points.append(mark._replace(role="notch" if role == "notch" else "drill"))
                else:
                    strokes += [_stroke(entry) for entry in lines]
        drawing.strokes, drawing.points = self.decide(strokes), points

    def closed(self, chains: Iterable[JoinedLine]) -> tuple[list[JoinedLine], list[JoinedLine]]:
        """Lines that are said to be cut lines and are not closed, closed; and the others."""
        rings, rest = [], []
        for chain in chains:
            if not chain.closed and len(chain.points) > 2 and any(number in self.pieces for number in chain.numbers):
                apart = float(np.hypot(*(chain.points[-1] - chain.points[0])))
                self._account.joined(chain.numbers)
                rings.append(replace(chain, closed=True, gap=max(chain.gap, apart)))
            else:
                rest.append(chain)
        return rings, rest

    def says_piece(self, numbers: Iterable[int]) -> Sureness | None:
        """Who says that an outline is a cut line; None if nobody does."""
        found = {self.pieces[number] for number in numbers if number in self.pieces}
        return "told" if "told" in found else next(iter(found), None)

    def tell(self, sketches: Sequence[Sketch]) -> None:
        """Tell how often the legend was used, and of large outlines that it takes for no piece where there is none."""
        self.end()
        entries = self._account.entries
        if self._legend is not None and not self._legend.marks.fits(self._report.marks) and self._legend.marks.form:
            ours, theirs = self._legend.marks.words(), self._report.marks.words()
            self._report.remarks.append(f"your legend is for {ours}, and this file is {theirs}; it is used as asked")
        self._tell_idle()
        many: dict[tuple[str, LineRole], list[FileEntry]] = {}
        for number, role in self._of_legend.items():
            if number not in self._told:
                many.setdefault((entries[number - 1].reason, role), []).append(entries[number - 1])
        for (mark, role), those in many.items():
            lines = "1 line" if len(those) == 1 else f"{len(those)} lines"
            self._report.remarks.append(f"by your legend: {mark}: {ROLE_WORDS.get(role, role)}, {lines}")
        lost = sorted(self._lost(sketches, many), key=lambda each: -float(np.ptp(each[1], axis=0).max()))
        for number, ring in lost[:MOST_ALARMS]:
            wide, high = np.ptp(ring, axis=0).tolist()
            said = (
                f"your legend takes number {number}, a closed outline of {wide:.0f} × {high:.0f} mm "
                f"({entries[number - 1].mark.words()}), as {self._of_legend[number]}, and it lies in no piece: see "
                "whether it is a cut line"
            )
            self._report.guess(said)
            self._report.alarms.append((number, said))

    def _tell_idle(self) -> None:
        """Tell of entries of the legend for which the file has nothing."""
        marks = {entry.mark for entry in self._account.entries}
        rules = self._legend.rules if self._legend is not None else ()
        idle = [rule.mark.words() for rule in rules if not any(rule.is_of(mark) for mark in marks)]
        if idle:
            more = f"; and {len(idle) - MOST_IDLE} more" if len(idle) > MOST_IDLE else ""
            named = "; ".join(idle[:MOST_IDLE])
            self._report.remarks.append(f"in your legend, and not in this file: {named}{more}")

    def _lost(
        self, sketches: Sequence[Sketch], many: Mapping[tuple[str, LineRole], Sequence[FileEntry]]
    ) -> Iterable[tuple[int, Floats]]:
        """Closed outlines, as large as pieces, that the legend takes for something else, in no piece and round none."""
        import shapely

        areas = np.array([shapely.Polygon(sketch.outline) for sketch in sketches])
        grounds = shapely.STRtree([shapely.box(*_bounds(sketch.outline)) for sketch in sketches])
        for (_, role), those in many.items():
            for number, ring in self._rings(those) if role != "piece" else ():
                box = shapely.box(*_bounds(ring)).buffer(-1.0)
                near = grounds.query(box, predicate="covered_by")  # their boxes alone: a piece may be hollow there
                within = any(shapely.dwithin(areas[at], shapely.points(ring), 1.0).all() for at in near.tolist())
                around = role == "frame" and len(grounds.query(box, predicate="covers"))
                if not within and not around:
                    yield number, ring

    def _rings(self, entries: Sequence[FileEntry]) -> Iterable[tuple[int, Floats]]:
        """Closed outlines as large as pieces, of one line or of several end to end, with the number of their first."""
        lines = [entry for entry in entries if entry.points is not None and len(entry.points) > 1]
        rings = [(e.number, e.points) for e in lines if e.kind == "closed outline" and e.points is not None]
        open_lines = [_stroke(entry) for entry in lines if entry.kind == "open line"]
        rings += [(line.numbers[0], line.points) for line in join(open_lines, self._join) if line.closed]
        return [(number, ring) for number, ring in rings if float(np.ptp(ring, axis=0).max()) >= LARGE]


def _bounds(points: Floats) -> tuple[float, float, float, float]:
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return x0, y0, x1, y1


def _is_point(entry: FileEntry) -> bool:
    return entry.points is None or len(entry.points) < 2


def long_way(stroke: DrawnLine) -> Floats:
    """A line as it is drawn; of an outline, such as an arrow, the middle line of it, the long way."""
    import shapely

    if not stroke.closed:
        return stroke.points
    ring = shapely.LinearRing(stroke.points)
    even = shapely.get_coordinates(shapely.segmentize(ring, ring.length / EVEN))[:-1]
    middle = even.mean(axis=0)
    way = np.linalg.eigh(np.cov((even - middle).T))[1][:, -1]  # the axis of what is the same on both sides of it
    along = np.sort((stroke.points - middle) @ way)[[0, -1]]
    ends: Floats = middle + along[:, np.newaxis] * way
    first = (stroke.points[0] - middle) @ way
    return ends if first <= along.mean() else ends[::-1]


def _stroke(entry: FileEntry) -> DrawnLine:
    """A line that was read as a mark, as it is drawn."""
    assert entry.points is not None
    return DrawnLine(entry.points, closed=entry.kind == "closed outline", numbers=(entry.number,))


def note_material(sketch: Sketch, report: ImportReport) -> None:
    """Take the material of a piece from the legend, if nothing on the piece says it; what says another is told."""
    legend = report.legend
    if legend is None:
        return
    numbers = [number for place, those in sketch.taken if place == "piece" for number in those]
    marks = [report.account.entries[number - 1].mark for number in numbers]
    rule = next((rule for mark in marks if (rule := legend.rule_of(mark)) is not None and rule.material), None)
    known = (sketch.material, *(cut.material for cut in sketch.also))
    if rule is None or rule.material is None or rule.material in known:
        return
    name = printable_name(sketch.name, "a piece")
    if sketch.material_by:
        said = (
            f"'{name}' is {sketch.material} by its words, '{printable_name(sketch.material_by, '')}', and "
            f"{rule.material} by your legend ({rule.mark.words()}): its words are used"
        )
        report.guess(said)
        report.alarms.append((numbers[0], said))
        return
    sketch.material = rule.material
    report.remarks.append(f"by your legend: {rule.mark.words()}: '{name}' is {sketch.material}")
