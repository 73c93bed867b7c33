"""Features of geographic data as lines of a drawing: GeoJSON (RFC 7946), and tables with well-known text (WKT).

GIS programs and libraries of shapes write both. Neither says a unit of length.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.data import are_points
from pieces.errors import FormatError
from pieces.exchange.decided.mark import LONGEST, NO_MARK, FileMarks, LineMark
from pieces.exchange.drawing import Drawing, DrawnLine, Mark, Word
from pieces.exchange.imported import UNIT_WORDS, ImportReport, ReadingChoices, scale_of, told_unit
from pieces.exchange.mend.joining import as_ring
from pieces.exchange.read.marks import layers_of
from pieces.exchange.sketch.assemble import assemble
from pieces.exchange.sketch.sketch import printable_name
from pieces.exchange.standard import role_of
from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import EntryKind
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.grid import CellGrid

    Floats = NDArray[np.float64]

NAMES = ("piece", "name", "label", "title", "layer")
"""Properties that may name a feature, the first that is there."""

GEOMETRIES = ("Point", "MultiPoint", "LineString", "MultiLineString", "Polygon", "MultiPolygon", "GeometryCollection")

COLUMNS = ("wkt", "geometry", "geom", "the_geom", "shape")
"""Headings of a column of well-known text."""

MOST_FEATURES, MOST_POINTS, DEEPEST = 60_000, 1_000_000, 8

_KINDS = "POINT|LINESTRING|POLYGON|GEOMETRYCOLLECTION|CURVE|CURVEPOLYGON|SURFACE|CIRCULARSTRING|COMPOUNDCURVE|TRIANGLE"

_WKT = re.compile(rf"\s*(SRID=\d+;\s*)?(MULTI)?({_KINDS})\b", re.IGNORECASE)


def is_geojson(data: Any) -> bool:
    """Whether parsed JSON is GeoJSON."""
    return isinstance(data, dict) and data.get("type") in ("FeatureCollection", "Feature", *GEOMETRIES)


def text_column(grid: CellGrid) -> int | None:
    """The column of a table that holds well-known text; None if there is none."""
    for at, heading in enumerate(grid.headings):
        cells = [row[at] for _, row in grid.rows if at < len(row) and row[at]]
        if heading.name.lower() in COLUMNS and cells and all(map(_WKT.match, cells)):
            return at
    return None


def sketch_geojson(data: Mapping[str, Any], name: str, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """The pieces that features of GeoJSON draw.

    Raises
    ------
    FormatError
        If a geometry is none, there are too many, or the unit is not asked for.
    """
    rows = data.get("features", []) if data["type"] == "FeatureCollection" else [data]
    if not isinstance(rows, list):
        raise FormatError(f"{name}: its features must be a list")
    features = []
    for row in rows:
        is_feature = isinstance(row, dict) and row.get("type") == "Feature"
        properties = row.get("properties") if is_feature else None
        features.append(
            (properties if isinstance(properties, dict) else {}, row.get("geometry") if is_feature else row)
        )
    return _sketched("GeoJSON", features, name, asked)


READ = (*NAMES, "layer", "text")
"""Properties that are read, in small letters."""

MOST_UNREAD = 20
"""Other properties that are named."""


def sketch_text_table(grid: CellGrid, at: int, name: str, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """The pieces that a table with a column of well-known text draws.

    Raises
    ------
    FormatError
        If a text is no geometry, there are too many, or the unit is not asked for.
    """
    import json

    import shapely

    features = []
    for line, row in grid.rows:
        text = re.sub(r"^\s*SRID=\d+;\s*", "", row[at]) if at < len(row) else ""
        known = {h.name: cell for i, (h, cell) in enumerate(zip(grid.headings, row, strict=False)) if i != at}
        if not text:
            continue
        try:
            with np.errstate(all="ignore"):  # numbers out of all bounds, told below
                shape = shapely.force_2d(shapely.from_wkt(text))
            features.append((known, json.loads(shapely.to_geojson(shape))))
        except (shapely.errors.ShapelyError, ValueError, NotImplementedError) as error:  # the last for curves
            raise FormatError(f"{name}, line {line}: its geometry cannot be read as WKT: export it again") from error
    return _sketched("CSV with well-known text (WKT)", features, name, asked)


def _sketched(
    form: str, features: Sequence[tuple[Mapping[str, Any], Any]], name: str, asked: ReadingChoices
) -> tuple[list[Sketch], ImportReport]:
    report = ImportReport(form)
    if asked.units is None:
        raise FormatError(f"{name}: {form} does not give the unit it is drawn in: give --units {UNIT_WORDS}")
    if len(features) > MOST_FEATURES:
        raise FormatError(f"{name} holds {len(features)} features: at most {MOST_FEATURES} are read")
    report.units = told_unit(None, "", asked.units, None)
    reading = _Reading(report, scale_of(asked.units, asked.per_inch), name)
    for number, (properties, geometry) in enumerate(features, 1):
        reading.feature(number, properties, geometry)
    unread = dict.fromkeys(
        str(key) for said, _ in features for key, value in said.items() if value and str(key).lower() not in READ
    )
    for key in list(unread)[:MOST_UNREAD]:
        report.leave(f"'{printable_name(key, 'a property')}'", "it is not read: the small file gives what it says")
    report.marks = FileMarks(name.rsplit(".", 1)[-1].lower(), "", layers_of(report.account))
    return assemble(reading.drawing, asked, report), report


class _Reading:
    """Features put into a drawing one by one."""

    def __init__(self, report: ImportReport, scale: float, name: str) -> None:
        self.drawing = Drawing()
        self._report, self._scale, self._name = report, scale, name
        self._mark = NO_MARK
        self._many = 0

    def feature(self, number: int, properties: Mapping[str, Any], geometry: Any) -> None:
        """One feature; its name is the first of its properties that may be one."""
        known = {str(key).lower(): value for key, value in properties.items()}
        called = next((str(known[key]) for key in NAMES if isinstance(known.get(key), str | int) and known[key]), "")
        called = printable_name("" if called == "0" else called, "")
        layer = str(known.get("layer") or called)
        self._mark = LineMark(printable_name(str(known.get("layer") or ""), "")[:LONGEST])
        source = self._report.account.source(f"feature {number}" + (f" '{called}'" if called else ""))
        before = len(self._report.account.entries)
        words = known.get("text")
        self._geometry(geometry, source, called, layer, words if isinstance(words, str) else "", 0)
        if len(self._report.account.entries) == before:
            what = f"feature {number}"
            self._report.leave(what, "it has no geometry", [self._report.account.enter(source, "other")])

    def _geometry(self, geometry: Any, source: int, called: str, layer: str, words: str, deep: int) -> None:
        if geometry is None:
            return
        kind = geometry.get("type") if isinstance(geometry, dict) else None
        if kind not in GEOMETRIES or deep > DEEPEST:
            raise FormatError(f"{self._name}: a geometry is '{str(kind)[:30]}', which is not a kind of GeoJSON")
        if kind == "GeometryCollection":
            parts = geometry.get("geometries", [])
            for part in parts if isinstance(parts, list) else ():
                self._geometry(part, source, called, layer, words, deep + 1)
            return
        places = geometry.get("coordinates")
        if places == []:  # an empty geometry, told by its feature
            return
        several = places if kind.startswith("Multi") else [places]
        for part in several if isinstance(several, list) else [None]:
            if kind.endswith("Point"):
                self._point(self._points([part]), source, layer, words)
            elif kind.endswith("LineString"):
                self._line(self._points(part), source, called, layer, 0)
            else:
                self._polygon(part, source, called, layer)

    def _polygon(self, rings: Any, source: int, called: str, layer: str) -> None:
        """A filled area: its outline, and what is cut out of it."""
        if not isinstance(rings, list):
            raise FormatError(f"{self._name}: a polygon must be a list of rings")
        area = 0
        for ring in rings:
            number = self._line(self._points(ring), source, called, layer, area, is_area=len(rings) > 1)
            area = area or number

    def _line(self, points: Floats, source: int, called: str, layer: str, area: int, *, is_area: bool = False) -> int:
        """A line, entered in the account; its number."""
        points, closed = as_ring(points, closed=False)
        if len(points) < 2:
            number = self._report.account.enter(source, "other")
            self._report.leave("a line", "it has fewer than two points", [number])
            return number
        kind: EntryKind = "closed outline" if closed else "open line"
        number = self._report.account.enter(source, kind, points=points, mark=self._mark)
        role = role_of(layer)
        own = called if role == "outline" else ""
        self.drawing.strokes.append(
            DrawnLine(points, role, layer, closed, (number,), own, (area or number) if is_area else 0)
        )
        return number

    def _point(self, points: Floats, source: int, layer: str, words: str) -> None:
        number = self._report.account.enter(source, "words" if words else "point", points=points, mark=self._mark)
        x, y = points[0].tolist()
        if words.strip():
            self.drawing.words.append(Word(words, (x, y), (number,)))
            return
        role = role_of(layer)
        self.drawing.points.append(Mark(role if role in ("notch", "sew point") else "drill", "", (x, y), (number,)))

    def _points(self, places: Any) -> Floats:
        """Coordinates in mm; heights are left out where all are alike."""
        try:
            points = np.array(places if are_points(places) else (), dtype=np.float64)
        except (TypeError, ValueError, OverflowError) as error:
            raise FormatError(f"{self._name}: coordinates must be lists of numbers such as [12.5, 40]") from error
        if points.ndim != 2 or points.shape[1] not in (2, 3) or not (np.abs(points) < FARTHEST / self._scale).all():
            raise FormatError(f"{self._name}: coordinates must be lists of numbers such as [12.5, 40]")
        self._many += len(points)
        if self._many > MOST_POINTS:
            raise FormatError(f"{self._name}: its lines come to more than {MOST_POINTS} points")
        flat: Floats = points[:, :2] * self._scale
        return flat
