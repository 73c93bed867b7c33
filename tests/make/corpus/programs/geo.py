"""Sheets by a converter of geographic data: DXF of lines and of polygons, GeoJSON, and tables with WKT or points."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points
from tests.make.corpus.known import SHEETS
from tests.make.corpus.programs.run import ASKS, SEWN, Maker, run, version

if TYPE_CHECKING:
    from pathlib import Path

    from tests.make.corpus.known import Drawn


def rings(line: Drawn) -> list[list[float]]:
    """A closed line as many points, the first once more at the end."""
    points: list[list[float]] = many_points(line.steps, 60).round(4).tolist()
    return points if points[0] == points[-1] else [*points, points[0]]


def features(sheet: str, kind: str) -> dict[str, Any]:
    """The lines of a sheet as features: lines, points, or polygons with their holes."""
    found = []
    lines = [line for line in SHEETS[sheet].lines() if line.part in ("cut", "hole")]
    for line in lines:
        if kind == "Polygon" and line.part == "hole":
            continue
        holes = [rings(other) for other in lines if other.part == "hole" and other.of == line.of]
        places: Any = [rings(line), *holes] if kind == "Polygon" else rings(line)
        several = places[:-1] if kind == "Point" else [places]
        layer = {"Layer": line.of, "piece": line.of}
        found += [
            {"type": "Feature", "properties": layer, "geometry": {"type": kind, "coordinates": each}}
            for each in several
        ]
    return {"type": "FeatureCollection", "features": found}


INCHES: dict[str, Any] = {"first": "is the unit right?", "asked": {"units": "mm"}}
"""It writes that all is in inches, whatever was meant: pieces of ten metres are asked about."""

MADE: list[tuple[str, str, str, list[str], dict[str, Any]]] = [
    ("lines.dxf", "plain", "LineString", ["-f", "DXF"], INCHES | {"names": True}),
    ("lines.dxf", "turned", "LineString", ["-f", "DXF"], INCHES | {"names": True}),
    ("polygons.dxf", "curves", "Polygon", ["-f", "DXF"], INCHES | {"names": True}),
    ("polygons.json", "curves", "Polygon", ["-f", "GeoJSON", "-a_srs", "EPSG:2056"], ASKS | {"names": True}),
    ("lines.json", "plain", "LineString", ["-f", "GeoJSON", "-lco", "RFC7946=NO"], ASKS | {"names": True}),
    ("polygons.csv", "plain", "Polygon", ["-f", "CSV", "-lco", "GEOMETRY=AS_WKT"], ASKS | {"names": True}),
    ("polygons semicolon.csv", "curves", "Polygon",
     ["-f", "CSV", "-lco", "GEOMETRY=AS_WKT", "-lco", "SEPARATOR=SEMICOLON"], ASKS | {"names": True}),
    ("points.csv", "plain", "Point", ["-f", "CSV", "-lco", "GEOMETRY=AS_XY"],
     {"first": "give --units", "asked": {"units": "mm"}, "names": True}),
]  # fmt: skip


def make(maker: Maker) -> None:
    """Write all files."""
    tool = version("ogr2ogr", "--version")
    for name, sheet, kind, options, known in MADE:
        source = maker.source(f"{kind} {sheet}.geojson", json.dumps(features(sheet, kind)))
        file = f"gdal {sheet} {name}"
        _again(maker.out / file)
        run("ogr2ogr", *options, maker.out / file, source)
        maker.keep(file, tool, sheet, **known)
    others: list[tuple[str, str, str, dict[str, Any]]] = [
        ("out of DXF.dxf", "ezdxf old polylines R2000.dxf", "curves", INCHES | SEWN),
        ("out of DXF.json", "ezdxf old polylines R12.dxf", "plain", ASKS),
    ]
    for name, source_name, sheet, known in others:
        file = f"gdal {sheet} {name}"
        _again(maker.out / file)
        kind = "DXF" if file.endswith("dxf") else "GeoJSON"
        run("ogr2ogr", "-f", kind, maker.out / file, maker.out / source_name)
        maker.keep(file, tool, sheet, **known)


def _again(path: Path) -> None:
    path.unlink(missing_ok=True)
