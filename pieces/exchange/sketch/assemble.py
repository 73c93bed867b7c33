"""Lines of a plain drawing made into pieces: closed outlines and all that lies in them."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.imported import WIDEST_JOIN
from pieces.exchange.sketch.deciding import Decider, long_way, note_material
from pieces.exchange.sketch.double import one_of_two
from pieces.exchange.sketch.explaining import explain, name_roles
from pieces.exchange.sketch.heads import heads_of_outline, parted
from pieces.exchange.sketch.letters import join_letters, lettering
from pieces.exchange.sketch.naming import name_pieces, words_of_pieces
from pieces.exchange.sketch.nested import choose_size, in_the_size
from pieces.exchange.sketch.notched import put_on_sew_line
from pieces.exchange.sketch.outline import outlines_of
from pieces.exchange.sketch.rings import note_joins, outlines_once
from pieces.exchange.sketch.sketch import Sketch, printable_name
from pieces.exchange.sketch.strokes import cut_at, joined_marks, joined_points
from pieces.exchange.sketch.within import MAY_BE_HOLE, sort_out

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import shapely
    from numpy.typing import NDArray

    from pieces.exchange.account import EntryRole
    from pieces.exchange.drawing import Drawing, DrawnLine, Mark
    from pieces.exchange.imported import ImportReport, ReadingChoices
    from pieces.exchange.mend.joining import JoinedLine
    from pieces.exchange.sketch.outline import Outline
    from pieces.piece.piece import InnerKind

    Floats = NDArray[np.float64]

BESIDE = 5.0
"""Marks this near to an outline belong to it, even if they lie without, mm."""

MOST_OUTLINES = 2000
"""No set of patterns has more."""

NEARLY_CLOSED = 0.05
"""Of the length of an open line, how far apart its ends are at the most where it may be meant to be closed."""

ON_EDGE = 0.5
"""A triangle this near to the edge is a notch, mm."""

MOST_OVERLAPS = 20

OVERLAP = 0.01
"""Share of the smaller of two pieces that they may cover of one another without a word."""


def assemble(drawing: Drawing, asked: ReadingChoices, report: ImportReport) -> list[Sketch]:
    """The pieces of a drawing, with all that lies in each."""
    decider = Decider(asked, report)
    decider.decide_drawing(drawing)
    strokes = _as_outlines(drawing.strokes, report)
    name_roles(replace(drawing, strokes=strokes), report)
    rings, chains = outlines_once(strokes, asked.join, report)
    more, chains = decider.closed(chains)
    rings += more
    if len(rings) > MOST_OUTLINES:
        raise FormatError(f"the file holds {len(rings)} closed outlines: at most {MOST_OUTLINES} are read at once")
    found = one_of_two(outlines_of(rings, drawing), report)
    for outline in found:
        outline.told = decider.says_piece(outline.ring.numbers)
        outline.size_told = decider.size(outline.ring.numbers)
    report.remarks += choose_size(found, asked.size, drawing.page, report)
    drawing, chains = in_the_size(drawing, chains, found, report)
    sort_out(found, drawing.page, lettering(found))
    join_letters(found)
    outlines = [outline for outline in found if outline.part == "piece"]
    sketches = [Sketch("", outline.ring.points) for outline in outlines]
    name_pieces(sketches, outlines, words_of_pieces(outlines, found, drawing.words, report), report)
    for sketch, outline in zip(sketches, outlines, strict=True):
        sketch.take("piece", outline.ring.numbers)
        note_material(sketch, report)
        note_joins(outline.ring, sketch.name, report)
    _place(found, dict(zip(map(id, outlines), sketches, strict=True)), report)
    _overlaps(outlines, sketches, report)
    finder = _Finder(sketches)
    for chain in chains:
        around = finder.around(chain.points)
        if around is None:
            report.leave(*_open(chain), chain.numbers)
        else:
            around.inner.append(("line", chain.points))
            around.take("inner line", chain.numbers)
            report.account.because(chain.numbers, "placed", "an open line within the piece")
            if _divides(chain.points, around.outline, asked.join):
                report.guess(
                    f"'{around.name}': a line from edge to edge is taken as a line on the piece: if two pieces share "
                    "it, draw each piece whole"
                )
    _mark(replace(drawing, strokes=joined_marks(strokes, asked.join, report)), finder, report)
    explain(found, report)
    decider.tell(sketches)
    return sketches


def _open(chain: JoinedLine) -> tuple[str, str]:
    """What an open line outside every piece is called, why it is left out, and what to do if it is nearly closed."""
    apart = float(np.hypot(*(chain.points[-1] - chain.points[0])))
    long = float(np.hypot(*np.diff(chain.points, axis=0).T).sum())
    name = printable_name(chain.called, "")
    why = f"it is outside every piece and its ends are {apart:.1f} mm apart"
    if len(chain.points) > 2 and apart <= min(WIDEST_JOIN, NEARLY_CLOSED * long):
        why += f": to have it closed give --join '{ceil(apart * 10) / 10:g} mm', or close it in the drawing"
    return f"the open line '{name}'" if name else "an open line", why


def _as_outlines(strokes: list[DrawnLine], report: ImportReport) -> list[DrawnLine]:
    """Lines as they are; where every one is called just a line, that says nothing, and they may be outlines."""
    drawn = [stroke for stroke in strokes if stroke.role not in ("grain", "fold", "notch")]
    if not drawn or any(stroke.role != "line" for stroke in drawn):
        return strokes
    report.guess("all that is drawn is called a line within a piece: closed ones are taken as outlines")
    return [replace(stroke, role="outline") if stroke.role == "line" else stroke for stroke in strokes]


def _place(found: Sequence[Outline], sketches: Mapping[int, Sketch], report: ImportReport) -> None:
    """Put every outline that is no piece into its place; what is guessed is told."""
    guessed: dict[tuple[str, str, str], int] = {}
    for outline in found:
        size = " × ".join(f"{side:.0f}" for side in np.ptp(outline.ring.points, axis=0))
        called = printable_name(outline.ring.called or outline.layer, "")
        what = f"'{called}', an outline of {size} mm" if called else f"an outline of {size} mm"
        if outline.part == "piece":
            if outline.why and outline.parent is not None and outline.why != "size":
                name = sketches[id(outline)].name
                report.remarks.append(f"'{name}' lies within another outline, and is a separate piece: {outline.why}")
        elif outline.part == "frame":
            report.account.put(outline.ring.numbers, "frame", why=outline.why)
            tell = report.remarks.append if outline.sure else report.guess
            tell(f"{what} is taken as a frame or background, and not cut: {outline.why}")
        elif outline.part in ("test square", "sign"):
            said = next((name for word in outline.words if (name := printable_name(word.text, ""))), "")
            report.leave(f"{what} ('{said}')" if said else what, outline.why, outline.ring.numbers)
            if not outline.sure:
                report.guess(f"{what}: {outline.why}?")
        elif outline.part == "another size":
            report.account.put(outline.ring.numbers, "another size", why=outline.why)
        elif outline.owner is not None:
            sketch = sketches[id(outline.owner)]
            _put_within(sketch, outline, report)
            if not outline.sure:
                if outline.why.endswith(MAY_BE_HOLE):
                    number = outline.ring.numbers[0]
                    report.alarms.append((number, f"number {number}, in '{sketch.name}': {outline.why}: say which"))
                key = (sketch.name, outline.part, outline.why)
                guessed[key] = guessed.get(key, 0) + 1
    for (name, part, why), times in guessed.items():
        what = "a closed outline" if times == 1 else f"{times} closed outlines"
        report.guess(f"'{name}': {what} within it taken as {part}{'s' * (times > 1)}: {why}")


def _divides(line: Floats, outline: Floats, tolerance: float) -> bool:
    """Whether a line runs through an outline, and both its ends lie on it."""
    import shapely

    ring = shapely.LinearRing(outline)
    on = shapely.dwithin(shapely.points(line[[0, -1]]), ring, tolerance)
    return bool(on.all()) and not shapely.LineString(line).within(ring.buffer(tolerance))


def _overlaps(outlines: Sequence[Outline], sketches: Sequence[Sketch], report: ImportReport) -> None:
    """Tell of pieces that overlap in the file, unless one lies on the other."""
    import shapely

    if len(outlines) < 2:
        return
    areas = np.array([outline.area for outline in outlines])
    pairs = shapely.STRtree(areas).query(areas, predicate="overlaps").T
    pairs = pairs[pairs[:, 0] < pairs[:, 1]]
    if len(pairs) > MOST_OVERLAPS:
        report.guess(f"{len(pairs)} pairs of pieces overlap in the file; the first {MOST_OVERLAPS} are listed")
    for i, j in pairs[:MOST_OVERLAPS].tolist():
        if areas[i].intersection(areas[j]).area > OVERLAP * min(outlines[i].size, outlines[j].size):
            report.guess(
                f"'{sketches[i].name}' and '{sketches[j].name}' overlap in the file, and are taken as two pieces"
            )


def _put_within(sketch: Sketch, outline: Outline, report: ImportReport) -> None:
    """A closed outline within a piece: a point, a cutout, or a line."""
    (x0, y0), (x1, y1) = outline.box.tolist()
    closed = np.vstack([outline.ring.points, outline.ring.points[:1]])
    if outline.part == "drill point" and _is_at_edge(outline.ring.points, sketch.outline):
        place = cut_at(sketch.outline, [closed])
        sketch.notches.append((f"notch {len(sketch.notches) + 1}", place))
        sketch.take("notch", outline.ring.numbers)
        report.guess_once(f"'{sketch.name}': small triangles on its edge are taken as notches")
    elif outline.part == "drill point":
        sketch.drills.append(((x0 + x1) / 2, (y0 + y1) / 2))
        sketch.take("drill point", outline.ring.numbers)
    else:
        role: InnerKind = "cutout" if outline.part == "cutout" else "sew" if outline.part == "sew line" else "line"
        sketch.inner.append((role, closed))
        sketch.take(_PLACES[role], outline.ring.numbers)


def _is_at_edge(mark: Floats, outline: Floats) -> bool:
    """Whether a mark is a triangle that touches the edge of a piece."""
    import shapely

    return len(mark) == 3 and bool(shapely.LinearRing(outline).distance(shapely.LinearRing(mark)) <= ON_EDGE)


class _Finder:
    """Which piece a line or a point belongs to."""

    def __init__(self, sketches: Sequence[Sketch]) -> None:
        self._sketches = sketches

    @cached_property
    def _outlines(self) -> list[shapely.Polygon]:
        import shapely

        return [shapely.Polygon(sketch.outline) for sketch in self._sketches]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        """The ground of each piece and a little around it: minutes of work where an outline is a fine saw."""
        import shapely

        return shapely.STRtree([outline.buffer(BESIDE) for outline in self._outlines])

    def around(self, points: Floats) -> Sketch | None:
        """The piece in which a line lies, or a point does; None if there is none."""
        import shapely

        line = shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])
        found = self._tree.query(line, predicate="covered_by").tolist()
        middle = shapely.Point(points.mean(axis=0))
        if not found:
            return None
        return self._sketches[min(found, key=lambda i: (self._outlines[i].distance(middle), self._outlines[i].area))]


def _mark(drawing: Drawing, finder: _Finder, report: ImportReport) -> None:
    """Put lines and points that play a part into the pieces they lie in."""
    for stroke in drawing.strokes:
        if stroke.role == "outline":
            continue
        if stroke.role in ("known", "unknown", "note"):
            report.account.put(
                stroke.numbers, "said again", why=f"layer '{stroke.group[:40]}' does not belong to a piece"
            )
            continue
        found = finder.around(stroke.points)
        if found is None:
            report.leave(f"a line for {stroke.role}", "it is outside every piece", stroke.numbers)
        else:
            add_line(found, stroke, report)
    sewn: dict[int, tuple[Sketch, list[Mark]]] = {}
    for mark in joined_points(drawing.points, report):
        role, name, place, numbers, lines = mark
        found = finder.around(np.array([place]))
        if found is None:
            report.leave(f"a point for {role}", "it is outside every piece", numbers)
        elif role == "sew point":
            sewn.setdefault(id(found), (found, []))[1].append(mark)
        elif role == "notch":
            place = cut_at(found.outline, lines) if lines else place
            found.notches.append((name or f"notch {len(found.notches) + 1}", place))
            found.take("notch", numbers)
        else:
            found.drills.append(place)
            found.take("drill point", numbers)
    for found, marks in sewn.values():
        put_on_sew_line(found, marks, report)


_PLACES: dict[InnerKind, EntryRole] = {"line": "inner line", "cutout": "cutout", "sew": "sew line"}


def add_line(sketch: Sketch, stroke: DrawnLine, report: ImportReport) -> None:
    """Give a piece a line that plays a part."""
    role = stroke.role
    if role == "grain" or role == "fold":
        _add_direction(sketch, stroke, role, report)
    elif role == "notch":
        place = cut_at(sketch.outline, [stroke.points, *stroke.others])
        sketch.notches.append((f"notch {len(sketch.notches) + 1}", place))
        sketch.take("notch", stroke.numbers)
    elif role == "drill":
        points = np.vstack([stroke.points, *stroke.others])
        low, high = points.min(axis=0), points.max(axis=0)
        sketch.drills.append(tuple(((low + high) / 2).tolist()))
        sketch.take("drill point", stroke.numbers)
    elif role == "line" or role == "cutout" or role == "sew":
        points = np.vstack([stroke.points, stroke.points[:1]]) if stroke.closed else stroke.points
        sketch.inner.append((role, points))
        sketch.take(_PLACES[role], stroke.numbers)
    else:
        report.account.put(stroke.numbers, "said again", sketch.name, "a note does not affect cutting")


def _add_direction(sketch: Sketch, stroke: DrawnLine, role: Literal["grain", "fold"], report: ImportReport) -> None:
    """Give a piece its grainline or its fold: of several the longest, if nobody said which."""
    heads = stroke.heads
    marks: list[Floats] = []
    if stroke.closed:
        line = long_way(stroke)
        heads = heads_of_outline(stroke.points, line)
    elif role == "grain":
        line, marks = parted(stroke.points)
    else:
        line = stroke.points[[0, -1]]
    longest = float(np.hypot(*(line[-1] - line[0])))
    known = sketch.grain if role == "grain" else sketch.fold
    if known is not None and role == "fold":
        report.guess(
            f"'{sketch.name}': two lines for fold are drawn, and the longer is used: if it is to be cut on both,"
            " draw it opened out once"
        )
    before = [number for kind, those in sketch.taken if kind == role for number in those]
    told = report.account.is_told(stroke.numbers), report.account.is_told(before)
    why = f"a longer line for {role} is drawn" if told[0] == told[1] else f"you said that another line is its {role}"
    if known is not None and (told[0], longest) <= (told[1], float(np.hypot(*np.subtract(known[1], known[0])))):
        report.account.put(stroke.numbers, "left out", sketch.name, why)
        drawn = np.vstack([stroke.points, stroke.points[:1]]) if stroke.closed else stroke.points
        sketch.grain_marks += [drawn] if role == "grain" else []
        return
    report.account.put(sketch.release(role), "left out", sketch.name, why)
    if role == "grain":
        sketch.grain_marks += [*marks, *report.account.drawn(before)]
        sketch.grain_heads = heads
    start, end = (tuple(line[at].tolist()) for at in (0, -1))
    setattr(sketch, role, (start, end))
    sketch.take(role, stroke.numbers)
