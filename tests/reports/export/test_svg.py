"""SVG of pieces and markers, read back with svgelements, a general-purpose library, at 25.4 units to the inch: mm."""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
import svgelements  # type: ignore[import-untyped]

from nesting import MaxIterations, solve
from nesting.problem.problem import Problem
from pieces import PieceSet
from pieces.piece.notched import NotchCut
from reports.export.svg import marker_svg, pieces_svg
from reports.export.words import one_line
from tests.make.exported import HOSTILE, farther, hostile_set, laid, square

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.cloth.spread import Spread
    from pieces.piece.notched import NotchKind

NEAR = 0.21
"""How far a drawn cut line may lie from the one that is laid and checked, mm."""

SVG = "{http://www.w3.org/2000/svg}"


def parts(text: str, role: str) -> list[tuple[str, list[NDArray[Any]]]]:
    """Name and parts of every path of a kind, each an array of points in mm, y upwards."""
    svg = svgelements.SVG.parse(io.StringIO(text), ppi=25.4, reify=True)
    groups = (g for g in svg.select(lambda e: isinstance(e, svgelements.Group)) if g.values.get("class") == role)
    return [
        (
            path.values["data-name"],
            [np.vstack([sampled(segment) for segment in svgelements.Path(part)]) for part in path.as_subpaths()],
        )
        for group in {id(g): g for g in groups if not any(isinstance(e, svgelements.Group) for e in g)}.values()
        for path in group
    ]


def sampled(segment: Any) -> NDArray[Any]:
    """Both ends of a line, and many points of a curve; mm, y upwards."""
    if isinstance(segment, svgelements.CubicBezier):
        return np.array(segment.npoint(np.linspace(0, 1, 101))) * (1, -1)
    ends = [point for point in (segment.start, segment.end) if point is not None]
    return np.array([(point.x, -point.y) for point in (ends[-1:] if isinstance(segment, svgelements.Move) else ends)])


def apart(one: Any, other: Any) -> float:
    """How far two closed lines are from one another, by shapely, points between corners looked at as well."""
    return float(shapely.hausdorff_distance(shapely.LinearRing(one), shapely.LinearRing(other), 0.02))


def corners(part: NDArray[Any]) -> NDArray[Any]:
    """The corners of a closed part: each once."""
    points = [part[0]] + [b for a, b in pairwise(part) if np.hypot(*(a - b)) > 1e-9]
    return np.array(points[:-1] if np.hypot(*(points[0] - points[-1])) < 1e-9 else points)


def test_pieces(jacket: PieceSet) -> None:
    """Cut lines come back within 0.21 mm, as a draft's chords lie to its curves; notches, grainlines, folds as well."""
    text = pieces_svg(jacket)
    cut = parts(text, "cut")
    assert [name for name, _ in cut] == [piece.name for piece in jacket]
    notches, sewn, grains = parts(text, "notch"), parts(text, "sew-point"), parts(text, "grain")
    for piece, (name, (outline,)) in zip(jacket, cut, strict=True):
        outline = corners(outline)
        (grain,) = (run for own, (run,) in grains if own == name)
        moved = grain.min(axis=0) - np.min(piece.grain, axis=0)
        assert farther(np.unique(grain, axis=0), np.unique(np.array(piece.grain) + moved, axis=0)) < 0.01
        assert apart(outline - moved, piece.cut_line) < NEAR
        starts = [cross[0] for _, (cross,) in sewn]
        for notch in piece.notches:
            assert min(np.hypot(*(start - moved - notch.point)) for start in starts) < 0.01
    assert [name for name, _ in notches] == [name for name, _ in sewn]
    assert sorted(name for name, _ in notches) == sorted(n.name for piece in jacket for n in piece.notches)
    assert [name for name, _ in parts(text, "fold")] == [piece.name for piece in jacket if piece.on_fold]


@pytest.mark.parametrize("kind", ["slit", "v", "t"])
def test_notches_are_cut_from_the_edge(jacket: PieceSet, kind: NotchKind) -> None:
    """By shapely a notch begins on a cut line, goes inside as deep as asked, and never past half the allowance."""
    text = pieces_svg(jacket, NotchCut(kind, 5.0))
    outlines = [shapely.Polygon(outline) for _, (outline,) in parts(text, "cut")]
    rings = shapely.MultiLineString([outline.exterior for outline in outlines])
    found, sewn = parts(text, "notch"), parts(text, "sew-point")
    assert len(found) == len(sewn) > 20
    for (_, drawn), (_, (cross,)) in zip(found, sewn, strict=True):
        lines = [np.vstack([line[:1], line[1:][np.diff(line, axis=0).any(axis=1)]]) for line in drawn]
        edge, tip = (lines[0][[0, 2]].mean(axis=0), lines[0][1]) if kind == "v" else lines[0]
        assert len(lines) == (2 if kind == "t" else 1)
        assert rings.distance(shapely.Point(edge)) < 0.02
        assert any(outline.covers(shapely.Point(tip)) for outline in outlines)
        apart, deep = np.hypot(*(cross[0] - edge)), np.hypot(*(tip - edge))
        assert deep == pytest.approx(min(5.0, apart / 2 if apart > 0.001 else 3.0), abs=0.001)
        if apart > 0.001:
            assert shapely.LineString([edge, cross[0]]).distance(shapely.Point(tip)) < 0.001


def test_a_piece_is_a_group(jacket: PieceSet) -> None:
    """All of a piece is in one group with its name as title and label; the groups are in one layer that editors show.

    The label and the layer are those of the namespace that vector editors write, from memory.
    """
    root = ElementTree.fromstring(pieces_svg(jacket))
    editor = "{http://www.inkscape.org/namespaces/inkscape}"
    (layer,) = (g for g in root if g.get(f"{editor}groupmode") == "layer")
    assert [child.tag for child in root] == [f"{SVG}title", f"{SVG}defs", f"{SVG}g"]
    assert [group.findtext(f"{SVG}title") for group in layer] == [piece.name for piece in jacket]
    assert [group.get(f"{editor}label") for group in layer] == [piece.name for piece in jacket]
    identities = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(set(identities)) == len(identities)
    heads = {marker.get("id") for marker in root.iter(f"{SVG}marker")}
    for group in layer:
        (grain,) = (g for g in group if g.get("class") == "grain")
        assert {grain.attrib[key] for key in ("marker-start", "marker-end")} == {f"url(#{head})" for head in heads}


def test_the_page_is_in_millimetres(jacket: PieceSet) -> None:
    """Width and height bear mm and are those of the viewBox, and all lies within, no piece on another (by shapely)."""
    text = pieces_svg(jacket)
    root = ElementTree.fromstring(text)
    _, _, wide, high = map(float, root.get("viewBox").split())
    assert (root.get("width"), root.get("height")) == (f"{wide:g}mm", f"{high:g}mm") or (
        float(root.attrib["width"][:-2]), float(root.attrib["height"][:-2]), root.attrib["width"][-2:]
    ) == (wide, high, "mm")  # fmt: skip
    shapes = [shapely.Polygon(outline) for _, (outline,) in parts(text, "cut")]
    left, low, right, top = shapely.total_bounds(shapes)
    assert left > 0 and right < wide and low > -high and top < 0
    assert shapely.union_all(shapes).area == pytest.approx(sum(shape.area for shape in shapes), rel=1e-4)


@pytest.mark.parametrize("spread", ["open", "folded"])
def test_marker(jacket: PieceSet, spread: Spread) -> None:
    """Every placement's outline comes back in its place, within what curves take, and the cloth's edges around them."""
    marker = laid(jacket, spread)
    text = marker_svg(marker, "canvas")
    cut = [corners(outline) for _, (outline,) in parts(text, "cut")]
    edges = np.vstack([run for _, (run,) in parts(text, "cloth")])
    start = np.array([edges[:, 0].min(), edges[:, 1].min()])
    low = min(band.low for band in marker.problem.bands)
    wanted = [outline for *_, outline in marker.outlines()]
    assert len(cut) == len(wanted)
    if spread == "open":
        assert np.ptp(edges, axis=0) == pytest.approx((marker.length, marker.problem.width), abs=0.01)
    for outline in cut:
        there = outline - start + (0.0, low)
        assert min(apart(there, each) for each in wanted) < NEAR
    assert ("centre" in {g.get("class") for g in ElementTree.fromstring(text).iter(f"{SVG}g")}) == (spread == "open")


def test_bare_outlines() -> None:
    """Outlines without a piece, as of open instances, have a cut line and a label, and no other marks."""
    marker = solve(
        Problem.from_outlines(900.0, [[(0, 0), (400, 0), (400, 500), (0, 500)]], [3], [(0.0,)]), MaxIterations(0)
    ).marker
    text = marker_svg(marker, "strip")
    assert [name for name, _ in parts(text, "cut")] == ["piece 0"] * 3
    kinds = {g.get("class") for g in ElementTree.fromstring(text).iter(f"{SVG}g")} - {None}
    assert kinds == {"cloth", "cut", "label"}


def test_faults() -> None:
    """A fault of the cloth is drawn in a group of its own, where it lies."""
    fault = np.array([(100.0, 100.0), (150.0, 100.0), (150.0, 160.0), (100.0, 160.0)])
    problem = Problem.from_outlines(900.0, [[(0, 0), (400, 0), (400, 500), (0, 500)]], [1], [(0.0,)])
    text = marker_svg(solve(replace(problem, faults=(fault,)), MaxIterations(0)).marker, "strip")
    ((_, (drawn,)),) = parts(text, "fault")
    edges = np.vstack([run for _, (run,) in parts(text, "cloth")])
    assert farther(corners(drawn) - edges.min(axis=0), fault) < 0.01


def test_hostile_names() -> None:
    """A name with marks of XML and control signs is text, and nothing else: the elements are those of a plain name."""
    hostile = ElementTree.fromstring(pieces_svg(hostile_set()))
    plain = ElementTree.fromstring(pieces_svg(PieceSet("x", tuple(square(name, label="b") for name in "abc"))))
    assert hostile.findtext(f"{SVG}title") == one_line(HOSTILE)
    assert hostile[2][0].get("data-name") == one_line(HOSTILE)
    kinds = {element.tag for element in plain.iter()}
    assert (
        {element.tag for element in hostile.iter()}
        == kinds
        == {SVG + t for t in ("svg", "title", "defs", "marker", "g", "path", "text")}
    )
