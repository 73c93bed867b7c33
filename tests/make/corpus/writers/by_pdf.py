"""Sheets as PDF by libraries, for programs that turn PDF into SVG; and as SVG where a library writes that as well."""

from __future__ import annotations

import sys
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import at_end, many_points, numbers, scaled, steps_placed
from tests.make.corpus.known import PAGE, SHEETS, Drawn
from tests.make.corpus.row import Row, say

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

POINTS = 72 / 25.4

WIDE, HIGH = PAGE


def in_points(line: Drawn) -> Iterator[tuple[str, list[float]]]:
    """A line's steps in points, y upwards; arcs and ellipses as Béziers of 15 degrees."""
    here = (0.0, 0.0)
    for step in steps_placed(line.steps, scaled(POINTS, POINTS)):
        if step[0] in ("A", "E"):
            many = many_points([("M", *here), step] if step[0] == "A" else [step], 192).tolist()
            if step[0] == "E":
                yield "M", many[-1]
            for point in many[step[0] == "A" :]:
                yield "L", point
        else:
            yield str(step[0]), numbers(step)
        here = at_end(step)


def by_reportlab(path: Path, sheet: str) -> None:
    """Reportlab's canvas: stroked paths, words as text."""
    canvas: Any = import_module("reportlab.pdfgen.canvas")
    page = canvas.Canvas(str(path), pagesize=(WIDE * POINTS, HIGH * POINTS), pageCompression=1, invariant=1)
    page.setLineWidth(0.5)
    for line in SHEETS[sheet].lines():
        if line.part == "words":
            page.setFont("Helvetica", 24)
            page.drawString(*(value * POINTS for value in numbers(line.steps[0])), line.words)
            continue
        shape = page.beginPath()
        for kind, values in in_points(line):
            {"M": shape.moveTo, "L": shape.lineTo, "C": shape.curveTo}[kind](*values)
        shape.close()
        page.drawPath(shape, stroke=1, fill=0)
    page.save()


def by_pymupdf(path: Path, sheet: str) -> None:
    """PyMuPDF's shapes: each line or curve a path of its own."""
    fitz: Any = import_module("fitz")
    document = fitz.open()
    page = document.new_page(width=WIDE * POINTS, height=HIGH * POINTS)
    shape = page.new_shape()
    for line in SHEETS[sheet].lines():
        here: Any = None
        for kind, values in in_points(line):
            points = [fitz.Point(values[i], HIGH * POINTS - values[i + 1]) for i in range(0, len(values), 2)]
            if kind == "L":
                shape.draw_line(here, points[-1])
            elif kind == "C":
                shape.draw_bezier(here, *points)
            here = points[-1]
        shape.finish(width=0.5, closePath=line.is_closed)
    shape.commit()
    if path.suffix == ".svg":
        path.write_text(page.get_svg_image(text_as_path=False), encoding="utf-8")
    else:
        document.save(str(path))


def by_pyx(path: Path, sheet: str) -> None:
    """PyX: paths in centimetres, as PDF or as SVG."""
    pyx: Any = import_module("pyx")
    canvas = pyx.canvas.canvas()
    for line in SHEETS[sheet].lines():
        parts: list[Any] = []
        for kind, values in in_points(line):
            cm = [value / POINTS / 10 for value in values]
            parts.append({"M": pyx.path.moveto, "L": pyx.path.lineto, "C": pyx.path.curveto}[kind](*cm))
        parts.append(pyx.path.closepath())
        canvas.stroke(pyx.path.path(*parts))
    box = pyx.bbox.bbox(0, 0, WIDE / 10, HIGH / 10)
    page = pyx.document.page(canvas, bbox=box)
    document = pyx.document.document([page])
    document.writetofile(str(path))


def by_skia(path: Path, sheet: str) -> None:
    """Skia: paths in pixels, as SVG."""
    skia: Any = import_module("skia")
    stream = skia.FILEWStream(str(path))
    scale = 96 / 25.4
    canvas = skia.SVGCanvas.Make((WIDE * scale, HIGH * scale), stream)
    paint = skia.Paint(Style=skia.Paint.kStroke_Style, StrokeWidth=1)
    for line in SHEETS[sheet].lines():
        shape = skia.Path()
        for kind, values in in_points(line):
            px = [v / POINTS * scale if i % 2 == 0 else (HIGH - v / POINTS) * scale for i, v in enumerate(values)]
            {"M": shape.moveTo, "L": shape.lineTo, "C": shape.cubicTo}[kind](*px)
        shape.close()
        canvas.drawPath(shape, paint)
    del canvas
    stream.flush()


SEWN: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}
PX72: dict[str, Any] = {"first": "in pixels", "asked": {"units": "px", "per_inch": 72}}
PX: dict[str, Any] = {"first": "in pixels", "asked": {"units": "px"}}

MADE: dict[str, list[tuple[str, Callable[[Path, str], None], str, str, dict[str, Any]]]] = {
    "old": [
        ("reportlab", by_reportlab, "plain", "pdf", {}),
        ("reportlab", by_reportlab, "words", "pdf", {}),
        ("pymupdf", by_pymupdf, "lines", "svg", {}),
        ("pyx", by_pyx, "plain", "svg", {}),
        ("skia-python", by_skia, "plain", "svg", PX),
    ],
    "mid": [
        ("reportlab", by_reportlab, "curves", "pdf", SEWN),
        ("pymupdf", by_pymupdf, "plain", "svg", PX72),
        ("pyx", by_pyx, "framed", "svg", {}),
    ],
    "new": [
        ("reportlab", by_reportlab, "framed", "pdf", {}),
        ("reportlab", by_reportlab, "sizes", "pdf", {}),
        ("pymupdf", by_pymupdf, "turned", "svg", PX72),
        ("pyx", by_pyx, "turned", "pdf", {}),
        ("skia-python", by_skia, "curves", "svg", PX | SEWN),
    ],
}


def main(out: Path, tag: str) -> None:
    """Write all files for one set of versions; PDF goes into a folder of its own, for others to turn into SVG."""
    rows = []
    (out / "pdf").mkdir(exist_ok=True)
    for name, how, sheet, kind, known in MADE[tag]:
        if kind == "pdf":
            how(out / "pdf" / f"{name} {tag} {sheet}.pdf", sheet)
        else:
            how(out / f"{name} {tag} {sheet}.svg", sheet)
            rows.append(Row(f"{name} {tag} {sheet}.svg", f"{name} {version(name)}", sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
