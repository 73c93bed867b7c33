"""Sheets as DXF, GeoJSON and tables by libraries of shapes: trimesh, geopandas and shapely, dxfwrite."""

from __future__ import annotations

import json
import sys
from importlib import import_module
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points
from tests.make.corpus.known import SHEETS
from tests.make.corpus.row import Row, say

if TYPE_CHECKING:
    from collections.abc import Callable


def polygons(sheet: str) -> dict[str, Any]:
    """The pieces of a sheet as polygons of many points."""
    shapely: Any = import_module("shapely.geometry")
    found: dict[str, list[Any]] = {}
    for line in SHEETS[sheet].lines():
        found.setdefault(line.of, []).append(many_points(line.steps, 100))
    return {name: shapely.Polygon(rings[0], rings[1:]) for name, rings in found.items() if name}


def by_trimesh(path: Path, sheet: str) -> None:
    """Trimesh: a planar path of all polygons, with its own unit."""
    loading: Any = import_module("trimesh.path.exchange.load")
    creation: Any = import_module("trimesh.path.exchange.misc")
    trimesh: Any = import_module("trimesh")
    parts = [loading.load_path(ring) for polygon in polygons(sheet).values()
             for ring in ([*polygon.exterior.coords], *([*inner.coords] for inner in polygon.interiors))]  # fmt: skip
    whole = trimesh.path.util.concatenate(parts)
    assert creation
    whole.units = "mm"
    whole.export(str(path))


def by_geopandas(path: Path, sheet: str) -> None:
    """Geopandas: a frame of pieces with their names, as GeoJSON or as a table with WKT."""
    geopandas: Any = import_module("geopandas")
    found = polygons(sheet)
    frame = geopandas.GeoDataFrame({"name": list(found)}, geometry=list(found.values()))
    if path.suffix == ".csv":
        table: Any = import_module("pandas").DataFrame({"name": frame["name"], "WKT": frame.geometry.to_wkt()})
        table.to_csv(path, index=False)
    else:
        path.write_text(frame.to_json(drop_id=True), encoding="utf-8")


def by_shapely(path: Path, sheet: str) -> None:
    """Shapely: what `mapping` gives of each polygon, as features of GeoJSON."""
    shapely: Any = import_module("shapely.geometry")
    features = [{"type": "Feature", "properties": {"name": name}, "geometry": shapely.mapping(polygon)}
                for name, polygon in polygons(sheet).items()]  # fmt: skip
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")


def by_dxfwrite(path: Path, sheet: str) -> None:
    """Dxfwrite: closed polylines of the old form."""
    engine: Any = import_module("dxfwrite").DXFEngine
    drawing = engine.drawing(str(path))
    for name, polygon in polygons(sheet).items():
        for ring in (polygon.exterior, *polygon.interiors):
            line = engine.polyline(points=list(ring.coords)[:-1], layer=name)
            line.close(True)
            drawing.add(line)
    drawing.save()


SEWN: dict[str, Any] = {"hole": "sew", "told": ["taken as sew line"]}
ASKS: dict[str, Any] = {"first": "give --units", "asked": {"units": "mm"}}

MADE: dict[str, list[tuple[str, Callable[[Path, str], None], str, str, dict[str, Any]]]] = {
    "old": [
        ("dxfwrite", by_dxfwrite, "plain", "dxf", ASKS | {"names": True}),
        ("dxfwrite", by_dxfwrite, "turned", "dxf", ASKS | {"names": True}),
        ("shapely", by_shapely, "lines", "json", ASKS | {"names": True}),
    ],
    "mid": [
        ("trimesh", by_trimesh, "plain", "svg", {"first": "with --units", "asked": {"units": "mm"}, "is_upside": True}),
        ("trimesh", by_trimesh, "curves", "dxf", ASKS | SEWN),
        ("geopandas", by_geopandas, "plain", "json", ASKS | {"names": True}),
    ],
    "new": [
        ("trimesh", by_trimesh, "turned", "dxf", ASKS),
        ("geopandas", by_geopandas, "curves", "json", ASKS | {"names": True}),
        ("geopandas", by_geopandas, "plain", "csv", ASKS | {"names": True}),
    ],
}


def main(out: Path, tag: str) -> None:
    """Write all files for one set of versions."""
    rows = []
    for name, how, sheet, kind, known in MADE[tag]:
        file = f"{name} {tag} {sheet}.{kind}"
        how(out / file, sheet)
        rows.append(Row(file, f"{name} {version(name)}", sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
