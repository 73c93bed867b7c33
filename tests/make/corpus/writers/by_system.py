"""Sheets as SVG by libraries of the system's Python: Qt, which GIS and CAD programs draw with, and cairo."""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points, numbers
from tests.make.corpus.known import PAGE, SHEETS, Drawn
from tests.make.corpus.row import Row, say

if TYPE_CHECKING:
    from collections.abc import Iterator

WIDE, HIGH = PAGE


def down(line: Drawn) -> Iterator[tuple[str, list[float]]]:
    """A line's steps, y downwards; arcs and ellipses as many points."""
    here = (0.0, 0.0)
    for step in line.steps:
        values = numbers(step)
        if step[0] in ("A", "E"):
            many = many_points([("M", *here), step] if step[0] == "A" else [step], 100).tolist()
            for number, (x, y) in enumerate(many[step[0] == "A" :]):
                yield "M" if number == 0 and step[0] == "E" else "L", [x, HIGH - y]
            here = (many[-1][0], many[-1][1])
        else:
            yield str(step[0]), [HIGH - value if at % 2 else value for at, value in enumerate(values)]
            here = (values[-2], values[-1])


def by_qt(path: Path, sheet: str, dots: int) -> str:
    """Qt's generator of SVG: painter paths, at so many dots to the inch."""
    svg: Any = import_module("PyQt5.QtSvg")
    core: Any = import_module("PyQt5.QtCore")
    gui: Any = import_module("PyQt5.QtGui")
    scale = dots / 25.4
    application = gui.QGuiApplication(["corpus", "-platform", "offscreen"])
    assert application
    generator = svg.QSvgGenerator()
    generator.setFileName(str(path))
    generator.setResolution(dots)
    size = core.QSize(round(WIDE * scale), round(HIGH * scale))
    generator.setSize(size)
    generator.setViewBox(core.QRect(core.QPoint(0, 0), size))
    painter = gui.QPainter(generator)
    painter.scale(scale, scale)
    painter.setPen(gui.QPen(gui.QColor("black"), 0.5))
    for line in SHEETS[sheet].lines():
        if line.part == "words":
            painter.setFont(gui.QFont("DejaVu Sans", 8))
            painter.drawText(core.QPointF(*next(down(line))[1]), line.words)
            continue
        shape = gui.QPainterPath()
        for kind, values in down(line):
            {"M": shape.moveTo, "L": shape.lineTo, "C": shape.cubicTo}[kind](*values)
        shape.closeSubpath()
        painter.drawPath(shape)
    painter.end()
    return f"Qt {core.QT_VERSION_STR}"


def by_cairo(path: Path, sheet: str, unit: str) -> str:
    """Cairo's SVG surface, in points or in millimetres."""
    cairo: Any = import_module("cairo")
    scale = 1.0 if unit == "mm" else 72 / 25.4
    surface = cairo.SVGSurface(str(path), WIDE * scale, HIGH * scale)
    if unit == "mm":
        surface.set_document_unit(cairo.SVG_UNIT_MM)
    context = cairo.Context(surface)
    context.scale(scale, scale)
    context.set_line_width(0.5)
    for line in SHEETS[sheet].lines():
        if line.part == "words":
            context.set_font_size(9)
            context.move_to(*next(down(line))[1])
            context.show_text(line.words)
            continue
        for kind, values in down(line):
            {"M": context.move_to, "L": context.line_to, "C": context.curve_to}[kind](*values)
        context.close_path()
        context.stroke()
    surface.finish()
    return f"cairo {cairo.cairo_version_string()}"


def main(out: Path) -> None:
    """Write all files."""
    sewn: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}
    letters: dict[str, Any] = {"told": ["letter"]}
    rows = []
    for sheet, dots, known in (
        ("plain", 96, {}),
        ("curves", 300, sewn),
        ("words", 90, {"cuts": {"band": 2, "bodice": 2}}),
        ("turned", 1200, {}),
    ):
        file = f"qt {dots} {sheet}.svg"
        rows.append(Row(file, by_qt(out / file, sheet, dots), sheet, **{"near": 0.4, **known}))
    for sheet, unit, known in (("words", "pt", letters), ("curves", "mm", sewn)):
        file = f"cairo {unit} {sheet}.svg"
        rows.append(Row(file, by_cairo(out / file, sheet, unit), sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
