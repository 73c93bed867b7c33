"""Skirts for tests: every size of every table, random bodies, and what holds of each drafted skirt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, get_args

import numpy as np
import pytest
import shapely
from hypothesis import strategies as st

from pieces import Body
from pieces.body.ranges import Wearer, usual_range
from pieces.body.sizes import TABLES, find_table
from pieces.piece.pieces import walk
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces import PieceSet
    from pieces.garments import Garment
    from pieces.piece.pieces import Seam

SEEN = 0.5
"""Two seams, or two notches of a seam, differ by less, mm."""


def every_body() -> Iterator[Body]:
    """A body of each size of each table."""
    for name in TABLES:
        table = find_table(name)
        for size in table.sizes:
            yield table.body(size)


@st.composite
def some_body(draw: st.DrawFn) -> Body:
    """A waist and a hip anywhere in their usual range, and a hip depth or none."""
    wearer: Wearer = draw(st.sampled_from(get_args(Wearer)))
    spans = {name: st.floats(*usual_range(wearer, name)[1:3]) for name in ("waist", "hip", "hip_depth")}
    deep = spans.pop("hip_depth")
    return Body(**in_mm(draw(st.fixed_dictionaries(spans, optional={"hip_depth": deep}))), wearer=wearer)


def is_sound(garment: Garment, drafted: PieceSet, style: Any) -> None:
    """Seams meet, their notches lie opposite one another, nothing is left unsewn, and the list of trims is whole."""
    for seam in drafted.seams:
        assert abs(walk(seam, drafted)) < SEEN, seam.name
        _opposite(drafted, seam)
    assert garment.steps and garment.trims
    sewn = [edge for step in garment.steps(drafted, style) for edge in set(step.edges)]
    for seam in drafted.seams:
        assert all(sewn.count(edge) == 1 for edge in {*seam.first, *seam.second}), seam.name
    trims = {trim.name: trim for trim in garment.trims(drafted, style)}
    assert trims["thread"].needed > 0
    if "zip_opening" in drafted.measures:
        assert trims["zip"].sold == pytest.approx(drafted.measures["zip_opening"])
    waist, hip = drafted.finished[:2]
    assert waist.ease is not None and (waist.name == "elastic" or waist.ease == pytest.approx(style.ease))
    assert ("elastic" in trims) == (waist.name == "elastic")
    assert hip.name == "hip" and hip.ease is not None


def _opposite(drafted: PieceSet, seam: Seam) -> None:
    """Notches of a seam of two single edges lie as far along the one as along the other, from one end or from both."""
    if len(seam.first) > 1 or len(seam.second) > 1 or ("pleat_fold" in drafted.measures and seam.name == "waist"):
        return
    (first, long), (second, other) = (
        (notches_along(drafted, *run[0]), drafted[run[0][0]].edge(run[0][1]).length)
        for run in (seam.first, seam.second)
    )
    scaled = [(name, at * long / other) for name, at in second]  # where one is gathered
    ways = (scaled, sorted((name, long - at) for name, at in scaled))
    assert any(
        [name for name, _ in first] == [name for name, _ in way]
        and np.allclose([at for _, at in first], [at for _, at in way], atol=SEEN)
        for way in ways
    ), seam.name


def notches_along(drafted: PieceSet, piece: str, edge: str) -> list[tuple[str, float]]:
    """The notches on an edge, each with its distance from where the edge starts, mm, ends left out."""
    line = shapely.LineString(drafted[piece].edge(edge).points)
    found = []
    for notch in drafted[piece].notches:
        point = shapely.Point(notch.point)
        at = line.project(point)
        if line.distance(point) < 0.01 and 0.01 < at < line.length - 0.01:
            found.append((notch.name, at))
    return sorted(found)


def along_the_waist(drafted: PieceSet) -> tuple[list[float], list[float]]:
    """Where the waistband has notches, and where the skirt has notches or seams, round from the zip, mm."""
    (seam,) = (seam for seam in drafted.seams if seam.name == "waist")
    marks = notches_along(drafted, *seam.first[0])
    full = sum(drafted[piece].edge(name).length for piece, name in seam.second)
    band = sorted(at * full / drafted[seam.first[0][0]].edge(seam.first[0][1]).length for _, at in marks)
    found, start = [], 0.0
    half_turned = False
    for number, (piece, name) in enumerate(seam.second):
        length = drafted[piece].edge(name).length
        own = [at for _, at in notches_along(drafted, piece, name)]
        if drafted[piece].on_fold:  # one half runs one way, the other the other
            half_turned = not half_turned
            own = [length - at for at in own] if half_turned else own
        found += [start + at for at in own]
        start += length
        if number + 1 < len(seam.second):
            found.append(start)
    return band, sorted(found)
