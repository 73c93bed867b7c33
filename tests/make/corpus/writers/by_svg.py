"""Sheets as SVG by libraries that write it: each by its own way of saying lines, units and names."""

from __future__ import annotations

import sys
from functools import reduce
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import at_end, many_points, numbers, scaled, steps_placed
from tests.make.corpus.known import PAGE, SHEETS, Drawn
from tests.make.corpus.row import Row, say
from tests.make.corpus.source import path_data

if TYPE_CHECKING:
    from collections.abc import Callable

WIDE, HIGH = PAGE

SEWN: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}


def data(line: Drawn, scale: float = 1.0) -> str:
    """A line as the ``d`` of a path, y downwards."""
    return path_data(line.steps, line.is_closed, scale, HIGH)


def down(line: Drawn, scale: float = 1.0) -> list[tuple[float, float]]:
    """A line as many points, y downwards."""
    points = many_points(line.steps, 100)
    return [(x * scale, (HIGH - y) * scale) for x, y in points.tolist()]


def by_svgwrite(path: Path, sheet: str, unit: str) -> None:
    """Svgwrite: paths with a name each, and a page in a unit."""
    svgwrite: Any = import_module("svgwrite")
    scale = {"mm": 1.0, "cm": 0.1, "in": 1 / 25.4}[unit]
    drawing = svgwrite.Drawing(str(path), size=(f"{WIDE * scale}{unit}", f"{HIGH * scale}{unit}"), profile="full")
    drawing.viewbox(0, 0, WIDE, HIGH)
    group = drawing.add(drawing.g(fill="none", stroke="black", stroke_width=0.5))
    for line in SHEETS[sheet].lines():
        if line.part == "words":
            x, y = numbers(line.steps[0])
            drawing.add(drawing.text(line.words, insert=(x, HIGH - y), font_size=9))
        else:
            group.add(drawing.path(d=data(line), id=line.of or "frame"))
    drawing.save()


def by_svgwrite_polygons(path: Path, sheet: str, unit: str) -> None:
    """Svgwrite: polygons of many points in pixels, without a unit."""
    svgwrite: Any = import_module("svgwrite")
    drawing = svgwrite.Drawing(str(path), size=(WIDE / 25.4 * 96, HIGH / 25.4 * 96))
    for line in SHEETS[sheet].lines():
        points = [(round(x, 3), round(y, 3)) for x, y in down(line, 96 / 25.4)]
        drawing.add(drawing.polygon(points, fill="none", stroke="black"))
    drawing.save()


def by_drawsvg(path: Path, sheet: str, unit: str) -> None:
    """Drawsvg: y upwards in the old versions, downwards in the new; pixels that are millimetres."""
    drawsvg: Any = import_module("drawsvg" if version("drawsvg")[0] != "1" else "drawSvg")
    is_old = version("drawsvg")[0] == "1"
    drawing = drawsvg.Drawing(WIDE, HIGH)
    for line in SHEETS[sheet].lines():
        # The old versions turn coordinates over by themselves.
        shape = drawsvg.Path(stroke="black", fill="none")
        for step in line.steps:
            values = numbers(step)
            y = values if is_old else [HIGH - v if i % 2 else v for i, v in enumerate(values)]
            {"M": shape.M, "L": shape.L, "C": shape.C}[str(step[0])](*y)
        shape.Z()
        drawing.append(shape)
    if is_old:
        drawing.setRenderSize(f"{WIDE}mm", f"{HIGH}mm")
        drawing.saveSvg(str(path))
    else:
        drawing.set_render_size(f"{WIDE}mm", f"{HIGH}mm")
        drawing.save_svg(str(path))


def by_svgpathtools(path: Path, sheet: str, unit: str) -> None:
    """Svgpathtools: paths read from text and written again."""
    tools: Any = import_module("svgpathtools")
    found = [tools.parse_path(data(line)) for line in SHEETS[sheet].lines()]
    page = {"viewBox": f"0 0 {WIDE} {HIGH}", "width": f"{WIDE}mm", "height": f"{HIGH}mm"}
    tools.wsvg(found, filename=str(path), svg_attributes=page)


def by_svgpathtools_fitted(path: Path, sheet: str, unit: str) -> None:
    """Svgpathtools as it writes by itself: a view box round the paths, and a size in pixels that is not theirs."""
    tools: Any = import_module("svgpathtools")
    tools.wsvg([tools.parse_path(data(line)) for line in SHEETS[sheet].lines()], filename=str(path))


def by_shapely(path: Path, sheet: str, unit: str) -> None:
    """Shapely: what a notebook shows of all shapes, in no unit, y turned over by a matrix."""
    shapely: Any = import_module("shapely.geometry")
    rings = [many_points(line.steps, 100) for line in SHEETS[sheet].lines() if line.part == "cut"]
    holes = {line.of: [many_points(line.steps, 100)] for line in SHEETS[sheet].lines() if line.part == "hole"}
    names = [line.of for line in SHEETS[sheet].lines() if line.part == "cut"]
    parts = [shapely.Polygon(ring, holes.get(name)) for ring, name in zip(rings, names, strict=True)]
    path.write_text(reduce(lambda one, other: one.union(other), parts)._repr_svg_(), encoding="utf-8")


def by_svg_py(path: Path, sheet: str, unit: str) -> None:
    """Svg.py: elements with lengths of their own units."""
    svg: Any = import_module("svg")
    shapes = []
    for line in SHEETS[sheet].lines():
        if line.steps[0][0] == "E":
            cx, cy, rx, ry, turn = numbers(line.steps[0])
            moves = [svg.Rotate(-turn, cx, HIGH - cy)]
            shapes.append(svg.Ellipse(cx=cx, cy=HIGH - cy, rx=rx, ry=ry, transform=moves, fill="none", stroke="red"))
        else:
            shapes.append(svg.Path(d=_commands(svg, line), id=line.of, fill="none", stroke="black"))
    page = svg.SVG(width=svg.mm(WIDE), height=svg.mm(HIGH), viewBox=svg.ViewBoxSpec(0, 0, WIDE, HIGH), elements=shapes)
    path.write_text(page.as_str(), encoding="utf-8")


def _commands(svg: Any, line: Drawn) -> list[Any]:
    """A line as commands of svg.py."""
    found = []
    for step in line.steps:
        values = numbers(step)
        flat = [HIGH - value if at % 2 else value for at, value in enumerate(values)]
        if step[0] == "A":
            _, _, r, start, end = values
            x, y = at_end(step)
            found.append(svg.Arc(r, r, 0, abs(end - start) > 180, end < start, x, HIGH - y))
        else:
            found.append({"M": svg.M, "L": svg.L, "C": svg.C}[str(step[0])](*flat))
    return [*found, svg.Z()] if line.is_closed else found


def by_svgelements(path: Path, sheet: str, unit: str) -> None:
    """Svgelements: paths moved and scaled, and written as their ``d``."""
    library: Any = import_module("svgelements")
    shapes = []
    for line in SHEETS[sheet].lines():
        shape = abs(
            library.Path(path_data(line.steps, line.is_closed)) * library.Matrix(f"scale(1 -1) translate(0 {-HIGH})")
        )
        shapes.append(f'<path id="{line.of}" d="{shape.d()}" fill="none" stroke="black"/>')
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm" viewBox="0 0 {WIDE} {HIGH}">'
    path.write_text(head + "".join(shapes) + "</svg>", encoding="utf-8")


def by_reportlab(path: Path, sheet: str, unit: str) -> None:
    """Reportlab's drawings: polygons and Béziers in points, y upwards."""
    shapes: Any = import_module("reportlab.graphics.shapes")
    renderer: Any = import_module("reportlab.graphics.renderSVG")
    scale = 72 / 25.4
    page = shapes.Drawing(WIDE * scale, HIGH * scale)
    for line in SHEETS[sheet].lines():
        shape = shapes.Path(strokeWidth=0.5, fillColor=None)
        for step in steps_placed(line.steps, scaled(scale, scale)):
            {"M": shape.moveTo, "L": shape.lineTo, "C": shape.curveTo}[str(step[0])](*numbers(step))
        shape.closePath()
        page.add(shape)
    renderer.drawToFile(page, str(path))


PX72 = {"first": "in pixels", "asked": {"units": "px", "per_inch": 72}, "near": 0.3}
"""Reportlab rounds its view box to whole points, and not its size: all is 0.05 % larger."""
PX = {"first": "in pixels", "asked": {"units": "px"}}

MADE: dict[str, list[tuple[str, Callable[[Path, str, str], None], str, str, dict[str, Any]]]] = {
    "old": [
        ("svgwrite", by_svgwrite, "plain", "mm", {"names": True}),
        ("drawsvg", by_drawsvg, "lines", "mm", {}),
        ("svgpathtools", by_svgpathtools, "plain", "mm", {}),
        ("reportlab", by_reportlab, "lines", "pt", PX72),
        ("shapely", by_shapely, "lines", "", {"first": "give --units", "asked": {"units": "mm"}}),
    ],
    "mid": [
        ("svgwrite", by_svgwrite, "words", "cm", {"names": True, "cuts": {"band": 2, "bodice": 2}}),
        ("svgwrite px", by_svgwrite_polygons, "plain", "px", PX),
        ("drawsvg", by_drawsvg, "sizes", "mm", {"first": "choose one with --size", "asked": {"size": "2"},
                                                "only": ["M"]}),
        ("svgpathtools", by_svgpathtools, "turned", "mm", {}),
        ("reportlab", by_reportlab, "sizes", "pt", PX72 | {"asked": {"units": "px", "per_inch": 72, "size": "3"},
                                                            "only": ["L"]}),
        ("shapely", by_shapely, "curves", "", {"first": "give --units", "asked": {"units": "mm"}}),
    ],
    "new": [
        ("svgwrite", by_svgwrite, "framed", "in", {"names": True}),
        ("drawsvg", by_drawsvg, "framed", "mm", {}),
        ("svgpathtools", by_svgpathtools, "curves", "mm", SEWN),
        ("svgpathtools fitted", by_svgpathtools_fitted, "lines", "", {"first": "in pixels", "asked": {"units": "mm"}}),
        ("svgwrite drafted", by_svgwrite, "drafted", "mm", {"marks": "lines"}),
        ("svgpathtools drafted", by_svgpathtools, "drafted", "mm", {"marks": "lines"}),
        ("svg.py", by_svg_py, "plain", "mm", {}),
        ("svg.py", by_svg_py, "framed", "mm", {}),
        ("svgelements", by_svgelements, "turned", "mm", {"names": True}),
        ("reportlab", by_reportlab, "framed", "pt", PX72),
        ("shapely", by_shapely, "plain", "", {"first": "give --units", "asked": {"units": "mm"}}),
    ],
}  # fmt: skip


def main(out: Path, tag: str) -> None:
    """Write all files for one set of versions."""
    rows = []
    for name, how, sheet, unit, known in MADE[tag]:
        file = f"{name.split()[0] if sheet in name else name} {tag} {sheet}.svg"
        library = "svg.py" if name.startswith("svg.py") else name.split()[0]
        how(out / file, sheet, unit)
        rows.append(Row(file, f"{library} {version(library)}", sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
