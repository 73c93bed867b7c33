"""The nest: every piece in all sizes, legible without colour."""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import Polygon

from pieces import PieceSet, Units
from pieces.body.sizes import find_table
from pieces.errors import PieceError
from reports.ask.job import parse_job
from reports.draw.kit.sheet import PAGE_WIDTH
from reports.draw.nest import DASHES, WIDTHS, draw_notch, line_of, nest_page, point_of
from reports.sizes.sizes import draft_sizes
from tests.make.drawn import overlapping, texts
from tests.make.model import MODEL

JOB = parse_job(MODEL)


@pytest.fixture(scope="module")
def sizes() -> dict[str, PieceSet]:
    """The model's jacket in six sizes."""
    return dict(draft_sizes(JOB, find_table("women-letters")).drafted)


NOTCH_AREA = 1000.0
"""A closed line around less, mm², is a notch."""


def outlines(figure: Any, number: Any) -> list[Polygon]:
    """The closed outlines on one drawing, in mm."""
    lines = [line.get_xydata() for line in figure.axes[number].lines]
    closed = [shapely.Polygon(line) for line in lines if len(line) > 3 and np.allclose(line[0], line[-1])]
    return [outline for outline in closed if outline.area > NOTCH_AREA]


@pytest.mark.parametrize("align", ["origin", "centre", "front armhole"])
def test_every_size_of_every_piece(sizes: dict[str, PieceSet], align: str) -> None:
    """On each drawing stand all six outlines, as large as the pieces are cut; no words on words, none off the page."""
    figure = nest_page(sizes, title="Jacket", units=Units.INCHES, align=align)
    assert overlapping(figure) == []
    assert figure.get_size_inches()[0] * 72 == pytest.approx(PAGE_WIDTH)
    names = [piece.name for piece in sizes["M"]]
    written = texts(figure)
    assert all(written.count(name) == 1 for name in (*names, *sizes))
    by_length = sorted(names, key=lambda name: -max(pieces[name].length for pieces in sizes.values()))
    for number, name in enumerate(by_length, 1):
        drawn = outlines(figure, number)
        areas = [shapely.Polygon(pieces[name].cut_line).area for pieces in sizes.values()]
        assert [outline.area for outline in drawn] == pytest.approx(areas)
        x, y = figure.axes[number].get_xlim(), figure.axes[number].get_ylim()
        assert all(shapely.box(x[0], y[0], x[1], y[1]).buffer(1e-6).covers(outline) for outline in drawn)


def test_lies_on_one_point(sizes: dict[str, PieceSet]) -> None:
    """Sizes lie on one another in the point asked for: their middles, or a notch that is the same spot on all."""
    figure = nest_page(sizes, title="Jacket", units=Units.INCHES, align="centre")
    for number in range(1, len(figure.axes)):
        middles = [((b[0] + b[2]) / 2, (b[1] + b[3]) / 2) for b in (o.bounds for o in outlines(figure, number))]
        assert np.ptp(np.array(middles), axis=0) == pytest.approx((0, 0), abs=1e-6)
    for pieces in sizes.values():
        front = pieces["front"]
        assert point_of(front, "front armhole") in np.array([notch.point for notch in front.notches])
        assert tuple(point_of(pieces["cuff"], "front armhole")) == (0.0, 0.0)


def test_unknown_point(sizes: dict[str, PieceSet]) -> None:
    """A notch that no piece has is refused with those there are."""
    with pytest.raises(PieceError, match=r"no piece has a notch 'knee' .* origin, centre, back armhole"):
        nest_page(sizes, title="Jacket", units=Units.INCHES, align="knee")


def test_lines_differ() -> None:
    """No two of forty sizes are drawn by the same line: dashes and widths, no colour."""
    assert len({line_of(number) for number in range(len(DASHES) * len(WIDTHS))}) == 40


def test_many_sizes(sizes: dict[str, PieceSet]) -> None:
    """Forty sizes have a legend of several rows that nothing runs into, and a long title is cut short."""
    many = {f"size {number}": sizes["M"] for number in range(40)}
    assert overlapping(nest_page(many, title="Jacket " * 40, units=Units.METRIC)) == []


def test_notches_differ() -> None:
    """Twelve sizes have twelve notches, told apart by shape, or by being filled: no colour is needed."""
    drawn: list[tuple[Any, str]] = []
    sheet: Any = SimpleNamespace(
        pt=1.0,
        area=lambda points, colour: drawn.append((np.asarray(points).tolist(), colour)),
        line=lambda *_, **__: None,
    )
    for number in range(12):
        draw_notch(sheet, np.zeros(2), number)
    assert len({json.dumps(one) for one in drawn}) == 12
    assert {colour for _, colour in drawn} == {"black", "white"}
