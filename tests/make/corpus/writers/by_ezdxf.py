"""Sheets as DXF by ezdxf: every entity that draws a line, blocks, layers, units and versions."""

from __future__ import annotations

import sys
from importlib import import_module
from itertools import pairwise
from math import cos, radians, sin, tan
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import Step, many_points, moved, numbers, product, scaled, steps_placed, turned
from tests.make.corpus.known import PIECES, SHEETS, Drawn
from tests.make.corpus.row import Row, say

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

ezdxf: Any = import_module("ezdxf")

TOOL = f"ezdxf {ezdxf.__version__}"

BEZIER = [0, 0, 0, 0, 1, 1, 1, 1]
"""Knots of a spline that is one Bézier curve."""


def start(version: str, units: int | None) -> tuple[Any, Any]:
    """A new drawing and its model space."""
    document = ezdxf.new(version)
    if units is not None:
        document.header["$INSUNITS"] = units
    return document, document.modelspace()


def entities(space: Any, line: Drawn, scale: float = 1.0, **look: Any) -> None:
    """A line by an entity for each of its steps: lines, arcs, ellipses and splines."""
    here = (0.0, 0.0)
    for step in steps_placed(line.steps, scaled(scale, scale)):
        values = numbers(step)
        if step[0] == "L":
            space.add_line(here, values, dxfattribs=look)
        elif step[0] == "C":
            spline = space.add_spline(dxfattribs=look)
            spline.dxf.degree = 3
            spline.control_points = [(*here, 0), *((*values[i : i + 2], 0) for i in (0, 2, 4))]
            spline.knots = BEZIER
        elif step[0] == "A":
            cx, cy, r, a, b = values
            space.add_arc((cx, cy), r, min(a, b), max(a, b), dxfattribs=look)
        elif step[0] == "E":
            cx, cy, rx, ry, angle = values
            axis = (rx * cos(radians(angle)), rx * sin(radians(angle)), 0)
            if rx == ry:
                space.add_circle((cx, cy), rx, dxfattribs=look)
            else:
                space.add_ellipse((cx, cy, 0), axis, ry / rx, dxfattribs=look)
        here = end_of(step)


def end_of(step: Step) -> tuple[float, float]:
    """Where a step ends."""
    values = numbers(step)
    if step[0] == "A":
        cx, cy, r, _, b = values
        return cx + r * cos(radians(b)), cy + r * sin(radians(b))
    return values[-2], values[-1]


def bulged(steps: Sequence[Step]) -> list[tuple[float, float, float]]:
    """A line as points with bulges: the tangent of a quarter of an arc's angle; Béziers as many points."""
    found: list[tuple[float, float, float]] = []
    here = (0.0, 0.0)
    for step in steps:
        values = numbers(step)
        if step[0] == "A":
            x, y, _ = found[-1]
            found[-1] = (x, y, tan(radians(values[4] - values[3]) / 4))
            found.append((*end_of(step), 0.0))
        elif step[0] == "E" and values[2] == values[3]:
            cx, cy, r = values[:3]
            found += [(cx - r, cy, 1.0), (cx + r, cy, 1.0)]
        elif step[0] in ("C", "E"):
            points = many_points([("M", *here), step] if step[0] == "C" else [step], 100)[step[0] == "C" :]
            found += [(x, y, 0.0) for x, y in points.tolist()]
        else:
            found.append((values[0], values[1], 0.0))
        here = end_of(step)
    if found[0][:2] == found[-1][:2]:
        found.pop()
    return found


def polyline(space: Any, line: Drawn, **look: Any) -> None:
    """A line as one polyline with bulges, in the form of the drawing's version."""
    rows = bulged(line.steps)
    if space.dxfversion == "AC1009":
        space.add_polyline2d(rows, format="xyb", close=line.is_closed, dxfattribs=look)
    else:
        space.add_lwpolyline(rows, format="xyb", close=line.is_closed, dxfattribs=look)


def all_polylines(_: Any, space: Any, sheet: str) -> None:
    """Everything as polylines, each on the layer of its part; a piece's outline on one with its name."""
    for line in SHEETS[sheet].lines():
        polyline(space, line, layer=line.of if line.part in ("cut", "hole") else line.part)


def all_entities(_: Any, space: Any, sheet: str) -> None:
    """Everything by single entities."""
    for line in SHEETS[sheet].lines():
        entities(space, line, layer=line.of or line.part)


def in_centimetres(_: Any, space: Any, sheet: str) -> None:
    """Everything by single entities, ten times smaller."""
    for line in SHEETS[sheet].lines():
        entities(space, line, 0.1, layer=line.of or line.part)


def backwards(_: Any, space: Any, sheet: str) -> None:
    """Lines one by one: every other one backwards, and every third drawn twice."""
    for line in SHEETS[sheet].lines():
        for number, (one, other) in enumerate(pairwise(many_points(line.steps).tolist())):
            ends = (other, one) if number % 2 else (one, other)
            space.add_line(*ends)
            if number % 3 == 0:
                space.add_line(*ends[::-1])


def inserted(document: Any, space: Any, _: str) -> None:
    """The sheet of turned pieces, each a block: mirrored, turned and enlarged as it is placed, one within another."""
    for name in ("sleeve", "pocket", "bodice"):
        block = document.blocks.new(name.upper())
        for line in PIECES[name].drawn():
            polyline(block, line)
    space.add_blockref("SLEEVE", (280, 100), {"rotation": 30, "xscale": -1})
    outer = document.blocks.new("OUTER")
    outer.add_blockref("POCKET", (10, 20), {"rotation": -75, "xscale": 0.6, "yscale": 0.6})
    space.add_blockref("OUTER", (400, 80), {"xscale": 2, "yscale": 2})
    space.add_blockref("BODICE", (60, 280), {"rotation": 8, "xscale": 1.5, "yscale": 0.5})


def from_behind(_: Any, space: Any, sheet: str) -> None:
    """Everything drawn from behind: in the entities' own frame x counts the other way."""
    look = {"extrusion": (0, 0, -1)}
    for line in SHEETS[sheet].lines():
        polyline(space, Drawn(line.part, line.of, tuple(steps_placed(line.steps, scaled(-1, 1))), line.is_closed),
                 **look)  # fmt: skip


def lettered(_: Any, space: Any, sheet: str) -> None:
    """Polylines, with words as one-line and as many-line texts."""
    for number, line in enumerate(SHEETS[sheet].lines()):
        if line.part != "words":
            polyline(space, line)
        elif number % 2:
            space.add_mtext("{\\fArial|b0|i0;" + line.words + "}", {"insert": numbers(line.steps[0]), "char_height": 8})
        else:
            space.add_text(line.words, dxfattribs={"insert": numbers(line.steps[0]), "height": 8})


def crowded(document: Any, space: Any, sheet: str) -> None:
    """Polylines among what drawings hold besides: hatches, dimensions, a hidden layer, a leader, a sheet of paper."""
    all_polylines(document, space, sheet)
    document.layers.add("construction").off()
    space.add_lwpolyline([(500, 300), (580, 300), (580, 400)], close=True, dxfattribs={"layer": "construction"})
    hatch = space.add_hatch()
    hatch.paths.add_polyline_path([(40, 40), (60, 40), (60, 60)], is_closed=True)
    space.add_linear_dim(base=(30, 10), p1=(30, 30), p2=(100, 30)).render()
    space.add_leader([(400, 300), (420, 320)])
    document.layout("Layout1").add_lwpolyline([(0, 0), (100, 0), (100, 100)], close=True)


def splined(_: Any, space: Any, sheet: str) -> None:
    """Outlines of Béziers as one rational spline each, as CAD programs write a closed curve."""
    for line in SHEETS[sheet].lines():
        if any(step[0] == "A" for step in line.steps):
            polyline(space, line)
            continue
        if line.steps[0][0] == "E":
            entities(space, line)
            continue
        poles, here = [numbers(line.steps[0])], numbers(line.steps[0])
        for step in line.steps[1:]:
            values = numbers(step)
            if step[0] == "L":
                a, b = here, values
                values = [
                    (2 * a[0] + b[0]) / 3,
                    (2 * a[1] + b[1]) / 3,
                    (a[0] + 2 * b[0]) / 3,
                    (a[1] + 2 * b[1]) / 3,
                    *b,
                ]
            poles += [values[i : i + 2] for i in (0, 2, 4)]
            here = values[-2:]
        spans = (len(poles) - 1) // 3
        spline = space.add_spline()
        spline.dxf.degree = 3
        spline.control_points = [(*pole, 0) for pole in poles]
        spline.knots = [0.0, *(float(i) for i in range(spans + 1) for _ in range(3)), float(spans)]
        spline.weights = [1.0] * len(poles)


SEWN: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}
"""What a circle in a circle on one layer is taken for, and that it is told."""

MADE: dict[str, list[tuple[str, str, int | None, Callable[[Any, Any, str], None], str, dict[str, Any]]]] = {
    # for each writer's tag: name, version, unit, how, sheet and what else is known
    "old": [
        ("polylines R12", "R12", None, all_polylines, "plain", {"first": "give --units", "asked": {"units": "mm"},
                                                                 "names": True}),
        ("polylines R2000", "R2000", 4, all_polylines, "curves", {"names": True, **SEWN}),
        ("entities R2000", "R2000", 4, all_entities, "plain", {"names": True}),
        ("backwards R2000", "R2000", 4, backwards, "lines", {}),
        ("inserted R2004", "R2004", 4, inserted, "turned", {"names": False}),
        ("entities R2007 cm", "R2007", 5, in_centimetres, "curves", {"names": True, **SEWN}),
    ],
    "mid": [
        ("marked R2010", "R2010", 4, all_polylines, "marked", {"names": True, "marks": "named"}),
        ("behind R2010", "R2010", 4, from_behind, "curves", SEWN),
        ("words R2013", "R2013", 4, lettered, "words", {"cuts": {"band": 2, "bodice": 2}}),
        ("splines R2013", "R2013", 4, splined, "plain", {}),
        ("framed R2013", "R2013", 4, all_polylines, "framed", {"names": True}),
        ("inserted R12", "R12", None, inserted, "turned", {"first": "give --units", "asked": {"units": "mm"}}),
    ],
    "new": [
        ("crowded R2018", "R2018", 4, crowded, "plain", {"names": True, "told": ["HATCH", "DIMENSION", "LEADER"]}),
        ("drafted R2018", "R2018", 4, all_polylines, "drafted", {"names": True, "marks": "named"}),
        ("sizes R2018", "R2018", 4, all_polylines, "sizes", {"first": "choose one with --size", "only": ["M"],
                                                              "asked": {"size": "M"}}),
        ("entities R2018", "R2018", 4, all_entities, "curves", {"names": True, **SEWN}),
        ("marked entities R2018", "R2018", 4, all_polylines, "marked", {"names": True, "marks": "named"}),
        ("splines R12", "R2000", 0, splined, "curves", {"first": "give --units", "asked": {"units": "mm"}, **SEWN}),
        ("inserted R2018", "R2018", 4, inserted, "turned", {}),
    ],
}  # fmt: skip


def main(out: Path, tag: str) -> None:
    """Write all files for one version of the library."""
    assert SHEETS["turned"].pieces[1][1] == product(moved(420, 120), turned(-75), scaled(1.2, 1.2))
    rows = []
    for name, version, units, how, sheet, known in MADE[tag]:
        document, space = start(version, units)
        how(document, space, sheet)
        file = f"ezdxf {tag} {name}.dxf"
        document.saveas(out / file)
        rows.append(Row(file, TOOL, sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
