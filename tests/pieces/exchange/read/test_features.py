"""Features of geographic data: GeoJSON and well-known text, written here by hand and by shapely."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces.errors import FormatError
from tests.make.drawings import FRONT, SQUARE, area, read

if TYPE_CHECKING:
    from pathlib import Path

RING = shapely.Polygon(SQUARE, [[(30, 30), (60, 30), (60, 60), (30, 60)]])


def geojson(path: Path, *features: tuple[dict[str, Any], Any]) -> Path:
    """A file of features: properties, and a geometry of shapely's or as it is written."""
    rows = [
        {
            "type": "Feature",
            "properties": known,
            "geometry": json.loads(shapely.to_geojson(shape)) if isinstance(shape, shapely.Geometry) else shape,
        }
        for known, shape in features
    ]
    path.write_text(json.dumps({"type": "FeatureCollection", "features": rows}), encoding="utf-8")
    return path


def test_polygons_with_holes_and_names(tmp_path: Path) -> None:
    """A polygon is a piece by the name of its properties, and its hole is cut out of it; a line that closes as well."""
    line = shapely.LineString([*[(x + 300, y) for x, y in FRONT], (FRONT[0][0] + 300, FRONT[0][1])])
    path = geojson(tmp_path / "a.geojson", ({"Name": "ring"}, RING), ({"piece": "front cut 2"}, line))
    found = {piece.name: piece for piece in read(path, units="cm").pieces}
    assert area(found["ring"]) == pytest.approx(1_000_000)
    assert [line.kind for line in found["ring"].inner] == ["cutout"]
    assert area(found["front"]) == pytest.approx(3_600_000) and found["front"].cut == 2


def test_marks_by_their_layer(tmp_path: Path) -> None:
    """A line on a layer for grain is that; a point with a text is words, another one a drill point."""
    path = geojson(
        tmp_path / "a.json",
        ({"Layer": "0"}, shapely.Polygon(FRONT)),
        ({"Layer": "grain"}, shapely.LineString([(60, 40), (60, 160)])),
        ({"Layer": "0", "Text": "front"}, shapely.Point(100, 100)),
        ({"Layer": "drill"}, shapely.Point(150, 100)),
    )
    (piece,) = (found := read(path, units="mm")).pieces
    assert piece.name == "front" and len(piece.drill_points) == 1
    assert found.report.account.places() == {"piece": 1, "drill point": 1, "grain": 1, "words read": 1}


@pytest.mark.parametrize("separator", [",", ";"])
def test_well_known_text_in_a_table(tmp_path: Path, separator: str) -> None:
    """A column of WKT, with or without heights and a number of its reference system, gives pieces by their names."""
    path = tmp_path / "a.csv"
    rows = [
        f"name{separator}WKT",
        f'ring{separator}"{RING.wkt}"',
        f'box{separator}"SRID=5;{shapely.box(300, 0, 400, 50).wkt}"',
    ]
    path.write_text("\n".join(rows), encoding="utf-8")
    with pytest.raises(FormatError, match="does not give the unit"):
        read(path)
    found = {piece.name: piece for piece in read(path, units="mm").pieces}
    assert area(found["box"]) == pytest.approx(5000) and [line.kind for line in found["ring"].inner] == ["cutout"]


NESTED: dict[str, Any] = {"type": "GeometryCollection", "geometries": []}
for _ in range(20):
    NESTED = {"type": "GeometryCollection", "geometries": [NESTED]}


@pytest.mark.parametrize(
    ("shape", "why"),
    [
        ({"type": "Polygon", "coordinates": [[[0, 0], ["a", 1]]]}, "lists of numbers"),
        ({"type": "Polygon", "coordinates": 5}, "list of rings"),
        ({"type": "LineString", "coordinates": [[0, 0], [1e300, 1]]}, "lists of numbers"),
        ({"type": "Blob", "coordinates": []}, "not a kind of GeoJSON"),
        (NESTED, "not a kind of GeoJSON"),
        (None, "no piece to cut"),
        ({"type": "Point", "coordinates": []}, "it has no geometry"),
        ({"type": "Point", "coordinates": ["a", 1]}, "lists of numbers"),
        ({"type": "MultiPolygon", "coordinates": None}, "list of rings"),
    ],
)
def test_what_is_no_geometry_is_refused(tmp_path: Path, shape: Any, why: str) -> None:
    """In one line, with the file's name."""
    with pytest.raises(FormatError, match=f"^a.json.*{why}") as caught:
        read(geojson(tmp_path / "a.json", ({}, shape)), units="mm")
    assert "\n" not in str(caught.value)


def test_text_that_is_no_geometry_is_refused(tmp_path: Path) -> None:
    """With its line."""
    path = tmp_path / "a.csv"
    for text in ("POLYGON ((0 0, 1 1))", "CURVEPOLYGON (CIRCULARSTRING (0 0, 50 50, 100 0, 50 -50, 0 0))"):
        path.write_text(f'name,WKT\na,"{text}"\n', encoding="utf-8")
        with pytest.raises(FormatError, match="line 2: its geometry cannot be read as WKT"):
            read(path, units="mm")
