"""Sheets by FreeCAD: wires of lines, arcs, Béziers and ellipses, as SVG and as DXF. Run within its own console."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Any

from tests.make.corpus.flat import at_end, numbers
from tests.make.corpus.known import SHEETS, Drawn
from tests.make.corpus.row import Row, say


def wire(line: Drawn, *, has_splines: bool) -> Any:
    """A line as one wire of edges that are what they are; Béziers as splines, or as they are."""
    cad: Any = import_module("FreeCAD")
    part: Any = import_module("Part")

    def at(x: float, y: float) -> Any:
        return cad.Vector(x, y, 0)

    edges, here = [], (0.0, 0.0)
    for step in line.steps:
        values = numbers(step)
        if step[0] == "L":
            edges.append(part.makeLine(at(*here), at(*values)))
        elif step[0] == "C":
            curve = part.BezierCurve()
            curve.setPoles([at(*here), *(at(*values[i : i + 2]) for i in (0, 2, 4))])
            edges.append((curve.toBSpline() if has_splines else curve).toShape())
        elif step[0] == "A":
            cx, cy, r, start, end = values
            up = cad.Vector(0, 0, 1)
            edges.append(part.makeCircle(r, at(cx, cy), up, min(start, end), max(start, end)))
        elif step[0] == "E":
            cx, cy, rx, ry, turn = values
            if rx == ry:
                edges.append(part.makeCircle(rx, at(cx, cy)))
            else:
                ellipse = part.Ellipse(at(0, 0), rx, ry).toShape()
                ellipse.rotate(at(0, 0), cad.Vector(0, 0, 1), turn)
                ellipse.translate(at(cx, cy))
                edges.append(ellipse)
        here = at_end(step)
    return part.Wire(part.__sortEdges__(edges)) if len(edges) > 1 else edges[0]


def main(out: str) -> None:
    """Write all files."""
    cad: Any = import_module("FreeCAD")
    tool = "FreeCAD " + ".".join(cad.Version()[:3])
    made: list[tuple[str, str, dict[str, Any]]] = [
        ("lines", "svg", {}),
        ("plain", "svg", {}),
        ("lines", "dxf", {}),
        # It leaves out Béziers: what is left of two pieces is open.
        ("plain", "dxf", {"only": ["pocket", "oval"], "told": ["an open line"]}),
        ("curves", "dxf", {"hole": "sew", "told": ["taken as sew line"]}),
    ]
    rows = []
    for sheet, kind, known in made:
        document = cad.newDocument(sheet)
        things: dict[str, list[Any]] = {}
        for line in SHEETS[sheet].lines():
            things.setdefault(line.of, []).append(wire(line, has_splines=sheet == "curves"))
        objects = [_added(document, name, wires) for name, wires in things.items()]
        document.recompute()
        file = f"freecad {sheet}.{kind}"
        if kind == "svg":
            import_module("importSVG").export(objects, str(Path(out) / file))
        else:
            import_module("Import").writeDXFObject(objects, str(Path(out) / file), 14, False)
        rows.append(Row(file, tool, sheet, **known))
    say(rows)


def _added(document: Any, name: str, wires: list[Any]) -> Any:
    part: Any = import_module("Part")
    thing = document.addObject("Part::Feature", name)
    thing.Shape = part.Compound(wires) if len(wires) > 1 else wires[0]
    return thing
