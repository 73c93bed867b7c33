"""Make the files in ``patterns/``: drawings of known pieces, by tools that the tests need not install.

Run by hand, with the tools on the path: ``python tests/pieces/exchange/make_patterns.py``. Each drawing is written
here as SVG,
with pieces whose areas are worked out by hand; the tools open it and write it again in their own way. ``truth.json``
names the tool and its version, and says what must be read of each file.
"""

from __future__ import annotations

import json
import math
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

OUT = Path(__file__).parent / "patterns"

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
    ' xmlns:xlink="http://www.w3.org/1999/xlink" {size}>'
)
MM = 'width="420mm" height="297mm" viewBox="0 0 420 297"'
LOOK = 'fill="none" stroke="#000" stroke-width="0.5"'
PENTAGON = "M 20 20 H 220 V 180 L 120 220 L 20 180 Z"
"""200 × 160 and a triangle of 200 × 40 on it: 36,000 mm²."""
SLEEVE = "M 260 30 H 380 L 400 120 L 320 160 L 240 120 Z"
"""A trapezium of 120 and 160 by 90, and a triangle of 160 × 40: 12,600 + 3,200 mm²."""
FRONT, SLEEVED, DISC, POCKET = 36_000.0, 15_800.0, math.pi * 900, 3000.0

DRAWINGS: dict[str, tuple[str, str, list[tuple[str, float, int]], dict[str, int]]] = {
    # size, what is in it, pieces (name, area, cut), and what else is told
    "plain": (
        MM,
        f'<rect id="background" width="420" height="297" fill="#fff"/><path id="front" d="{PENTAGON}" {LOOK}/>'
        f'<path id="sleeve" d="{SLEEVE}" {LOOK}/><circle id="collar" cx="320" cy="230" r="30" {LOOK}/>'
        '<g id="layer2" inkscape:groupmode="layer" inkscape:label="Construction" style="display:none">'
        '<rect id="old" x="5" y="230" width="200" height="60"/></g>',
        [("front", FRONT, 1), ("sleeve", SLEEVED, 1), ("collar", DISC, 1)],
        {"frame": 1},
    ),
    "pocket": (
        MM,
        f'<path id="front" d="{PENTAGON}" {LOOK}/><rect id="pocket" x="60" y="60" width="50" height="60" {LOOK}/>'
        '<text x="130" y="100" font-size="9" font-family="sans-serif">cut 2</text>',
        [("front", FRONT, 2), ("pocket", POCKET, 1)],
        {"words read": 1},
    ),
    "turned": (
        'width="10in" height="10in" viewBox="0 0 254 254"',
        f'<g transform="translate(127 127) rotate(30) scale(-0.5 0.5)"><path id="front" d="{PENTAGON}" {LOOK}/></g>'
        f'<g transform="skewX(20)"><rect id="band" x="5" y="5" width="60" height="40" {LOOK}/></g>',
        [("front", FRONT / 4, 1), ("band", 2400, 1)],
        {},
    ),
    "curved": (
        MM,
        f'<path id="half" d="M 20 100 A 60 60 0 0 1 140 100 Z" {LOOK}/>'
        f'<ellipse id="oval" cx="220" cy="100" rx="50" ry="30" {LOOK}/>'
        f'<path id="parabola" d="M 300 100 Q 350 0 400 100 Z" {LOOK}/>',
        [("half", math.pi * 1800, 1), ("oval", math.pi * 1500, 1), ("parabola", 2 / 3 * 100 * 50, 1)],
        {},
    ),
    "copies": (
        MM,
        f'<defs><path id="shape" d="M 0 0 H 60 V 80 H 0 Z" {LOOK}/></defs><use xlink:href="#shape" x="10" y="10"/>'
        f'<use xlink:href="#shape" transform="translate(120 10) scale(2)"/>',
        [("", 4800, 1), ("", 19_200, 1)],
        {},
    ),
    "layers": (
        MM,
        '<g id="layer1" inkscape:groupmode="layer" inkscape:label="Shell">'
        f'<path id="front" d="{PENTAGON}" {LOOK}/></g>'
        '<g id="layer2" inkscape:groupmode="layer" inkscape:label="Lining">'
        f'<path id="sleeve" d="{SLEEVE}" {LOOK}/></g>',
        [("front", FRONT, 1), ("sleeve", SLEEVED, 1)],
        {},
    ),
    "loose": (
        MM,
        f'<path d="M 20 20 H 220" {LOOK}/><path d="M 220 20 V 180" {LOOK}/>'
        f'<path d="M 20 180 L 120 220 L 220 180" {LOOK}/>'
        f'<path d="M 20 180 V 20" {LOOK}/>',
        [("", FRONT, 1)],
        {"piece": 4},
    ),
    "paper frame": (
        MM,
        f'<rect x="8" y="8" width="404" height="281" {LOOK}/><path d="{PENTAGON}" {LOOK}/><path d="{SLEEVE}" {LOOK}/>',
        [("", FRONT, 1), ("", SLEEVED, 1)],
        {"frame": 1},
    ),
}  # fmt: skip


def run(*command: str) -> None:
    """Run a tool; its own words are not wanted."""
    subprocess.run(command, check=True, capture_output=True, timeout=300)


def version(*command: str) -> str:
    """What a tool says of its version, in one line."""
    return (
        subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout.strip().splitlines()[0]
    )


class Maker:
    """Writes files, and the truth about each."""

    def __init__(self) -> None:
        self.truth: list[dict[str, Any]] = []
        self.work = Path(tempfile.mkdtemp())

    def source(self, name: str) -> Path:
        """A drawing as it is written here."""
        size, inside, *_ = DRAWINGS[name]
        path = self.work / f"{name}.svg"
        path.write_text(HEAD.format(size=size) + inside + "</svg>", encoding="utf-8")
        return path

    def keep(
        self, made: Path, file: str, tool: str, pieces: Any, told: dict[str, int] | None = None, **asked: Any
    ) -> None:
        """Keep a file with its truth."""
        shutil.copy(made, OUT / file)
        rows = [{"name": name, "area": round(area, 3), "cut": cut} for name, area, cut in pieces]
        self.truth.append({"file": file, "tool": tool, "asked": asked, "pieces": rows, "told": told or {}})


def unnamed(pieces: Any) -> list[tuple[str, float, int]]:
    """Pieces in a form that keeps no names."""
    return [("", area, cut) for _, area, cut in pieces]


def by_editor(maker: Maker) -> None:
    """A vector editor: its own SVG, plain SVG, objects made paths, and SVG out of PDF."""
    tool = version("inkscape", "--version")
    for name, (_, _, pieces, told) in DRAWINGS.items():
        source = maker.source(name)
        for kind, options in (("own", ["--export-type=svg"]), ("simple", ["--export-plain-svg"])):
            made = maker.work / f"{kind}.svg"
            run("inkscape", str(source), *options, f"--export-filename={made}")
            maker.keep(made, f"{name} {kind}.svg", tool, pieces, told)
        if name in ("plain", "turned", "curved", "loose", "paper frame"):
            pdf, made = maker.work / "a.pdf", maker.work / "pdf.svg"
            run("inkscape", str(source), f"--export-filename={pdf}")
            run("inkscape", str(pdf), "--pdf-poppler", "--export-plain-svg", f"--export-filename={made}")
            maker.keep(made, f"{name} out of PDF.svg", f"{tool}, PDF by poppler", unnamed(pieces), told)
        if name in ("turned", "curved", "plain"):
            made = maker.work / "paths.svg"
            actions = f"select-all:all;object-to-path;export-filename:{made};export-do"
            run("inkscape", str(source), f"--actions={actions}")
            maker.keep(made, f"{name} as paths.svg", tool, pieces, told)


def by_office(maker: Maker) -> None:
    """An office suite's drawing export: of SVG, by way of its own form, and of DXF."""
    tool = version("soffice", "--version")
    for name in ("plain", "turned", "curved", "loose", "paper frame"):
        pieces, told = DRAWINGS[name][2:]
        source = maker.source(name)
        run("soffice", "--headless", "--convert-to", "svg", "--outdir", str(maker.work / "svg"), str(source))
        maker.keep(maker.work / "svg" / f"{name}.svg", f"{name} office.svg", tool, unnamed(pieces), told)
        run("soffice", "--headless", "--convert-to", "odg", "--outdir", str(maker.work), str(source))
        run(
            "soffice",
            "--headless",
            "--convert-to",
            "svg",
            "--outdir",
            str(maker.work / "odg"),
            str(maker.work / f"{name}.odg"),
        )
        maker.keep(maker.work / "odg" / f"{name}.svg", f"{name} office twice.svg", tool, unnamed(pieces), told)


LINES = {"front": [(20, 20), (220, 20), (220, 180), (120, 220), (20, 180), (20, 20)],
         "sleeve": [(260, 30), (380, 30), (400, 120), (320, 160), (240, 120), (260, 30)]}  # fmt: skip


def by_geo(maker: Maker) -> None:
    """A converter of geographic data: DXF of lines with layers, DXF of DXF, and tables of points."""
    tool = version("ogr2ogr", "--version")
    pieces = [("front", FRONT, 1), ("sleeve", SLEEVED, 1)]

    def features(kind: str, make: Any) -> Path:
        path = maker.work / f"{kind}.geojson"
        rows = [
            {
                "type": "Feature",
                "properties": {"Layer": name, "piece": name},
                "geometry": {"type": kind, "coordinates": found},
            }
            for name, points in LINES.items()
            for found in make(points)
        ]
        path.write_text(json.dumps({"type": "FeatureCollection", "features": rows}), encoding="utf-8")
        return path

    lines = features("LineString", lambda points: [points])
    made = maker.work / "lines.dxf"
    run("ogr2ogr", "-f", "DXF", str(made), str(lines))
    maker.keep(made, "lines geo.dxf", tool, pieces, units="mm")
    parts = features("LineString", lambda points: [points[i : i + 2] for i in range(len(points) - 1)])
    made = maker.work / "parts.dxf"
    run("ogr2ogr", "-f", "DXF", str(made), str(parts))
    maker.keep(made, "parts geo.dxf", tool, pieces, units="mm")
    again = maker.work / "again.dxf"
    run("ogr2ogr", "-f", "DXF", str(again), str(maker.work / "lines.dxf"))
    maker.keep(again, "lines geo again.dxf", tool, pieces, units="mm")
    points = features("Point", lambda points: points[:-1])
    for sign in ("COMMA", "SEMICOLON", "TAB"):
        made = maker.work / f"{sign}.csv"
        options = ["-lco", "GEOMETRY=AS_XY", "-lco", f"SEPARATOR={sign}", "-select", "piece"]
        run("ogr2ogr", "-f", "CSV", str(made), str(points), *options)
        maker.keep(made, f"points {sign.lower()}.csv", tool, pieces, units="mm")


CAIRO = """
import cairo, sys
units = 1 if sys.argv[2] == "mm" else 72 / 25.4
surface = cairo.SVGSurface(sys.argv[1], 420 * units, 297 * units)
if sys.argv[2] == "mm": surface.set_document_unit(cairo.SVG_UNIT_MM)
context = cairo.Context(surface)
context.scale(units, units)
context.set_line_width(0.5)
if sys.argv[3] == "filled":
    context.set_source_rgb(1, 1, 1); context.paint(); context.set_source_rgb(0, 0, 0)
for x, y in ((20, 20), (220, 20), (220, 180), (120, 220), (20, 180)): context.line_to(x, y)
context.close_path(); context.stroke()
context.arc(320, 230, 30, 0, 6.283185307179586); context.close_path(); context.stroke()
surface.finish()
"""


def by_library(maker: Maker) -> None:
    """A drawing library that writes SVG in points or in mm."""
    tool = "cairo " + version("/usr/bin/python3", "-c", "import cairo; print(cairo.cairo_version_string())")
    for unit in ("pt", "mm"):
        for ground in ("bare", "filled"):
            made = maker.work / f"{unit}.svg"
            run("/usr/bin/python3", "-c", CAIRO, str(made), unit, ground)
            maker.keep(made, f"{ground} {unit} library.svg", tool, [("", FRONT, 1), ("", DISC, 1)])


def main() -> None:
    """Make all files anew."""
    shutil.rmtree(OUT, ignore_errors=True)
    OUT.mkdir()
    maker = Maker()
    by_editor(maker)
    by_office(maker)
    by_geo(maker)
    by_library(maker)
    (OUT / "truth.json").write_text(json.dumps(maker.truth, indent=1) + "\n", encoding="utf-8")
    print(f"{len(maker.truth)} files in {OUT}")


if __name__ == "__main__":
    main()
