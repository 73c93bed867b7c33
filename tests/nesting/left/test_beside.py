"""Other pieces laid beside a marker whose own lie fast."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.cloth.fabric import Fabric
from nesting.left.beside import laid_open, lay_beside
from nesting.marker.marker import Marker
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, verify_asked
from pieces import Piece
from pieces.length import mm


def box(name: str, length: float, width: float, **more: int | bool) -> Piece:
    """A rectangle, mm."""
    points = [(0, 0), (length, 0), (length, width), (0, width)]
    return Piece.from_polygon(points, name, unit="mm", **more)  # type: ignore[arg-type]


def stop() -> tuple[MaxIterations]:
    """First layouts, and a few rounds."""
    return (MaxIterations(20),)


OPEN = Fabric("cloth", mm(100), gap=mm(2))
FOLDED = Fabric("cloth", mm(200))
BODY = (box("body", 60, 40),)


def laid(fabric: Fabric, spread: str, pieces: tuple[Piece, ...]) -> tuple[Marker, Asked]:
    """A marker and what it gives."""
    problem = lay_pieces(pieces, fabric, spread)  # type: ignore[arg-type]
    return solve(problem, MaxIterations(5)).marker, Asked.of(pieces, fabric, spread)


@pytest.mark.parametrize(("width", "fits"), [(58, True), (58.1, False)])
def test_beside_one_piece(width: float, fits: bool) -> None:
    """Beside 60 x 40 on cloth 100 wide and 60 long, with a gap of 2, 58 x 60 fits and no more. By hand."""
    fixed, asked = laid(OPEN, "open", BODY)
    others = (box("flap", 60, width),)
    both = replace(asked, sets=(*asked.sets, (others, 1)))
    found = lay_beside(fixed, lay_pieces(others, OPEN, "open"), both, 60.0, stop)
    assert (found is not None) == fits
    if found is not None:
        assert found.placements[: len(fixed.placements)] == fixed.placements
        assert found.length <= 60.01
        verify_asked(found, replace(both, length=60.0))


def test_in_a_hole_between_pieces() -> None:
    """Four pieces round a hole: what fits only there is laid there, although they touch all round it."""
    ring = (box("long", 100, 30, cut=2), box("short", 30, 40, cut=2))
    cloth = Fabric("cloth", mm(100))
    fixed, asked = laid(cloth, "open", ring)
    assert fixed.length == pytest.approx(100, abs=0.1)
    fixed = _ring(fixed)
    patch = (box("patch", 40, 40),)
    both = replace(asked, sets=(*asked.sets, (patch, 1)))
    found = lay_beside(fixed, lay_pieces(patch, cloth, "open"), both, 100.0, stop)
    assert found is not None
    last = found.placements[-1]
    assert (last.x, last.y) == pytest.approx((30, 30), abs=0.05)


def _ring(marker: Marker) -> Marker:
    """The pieces moved into a ring."""
    spots = {"long": iter([(0.0, 0.0), (0.0, 70.0)]), "short": iter([(0.0, 30.0), (70.0, 30.0)])}
    placements = []
    for place in marker.placements:
        x, y = next(spots[marker.problem.items[place.item].name])
        placements.append(replace(place, variant=0, x=x, y=y))
    return Marker(marker.problem, tuple(placements), 100.0)


def test_laid_open() -> None:
    """What is cut of folded cloth lies twice on the cloth laid open, and all pieces lie where they were cut."""
    pair = (box("pair", 60, 40, cut=2, pair=True),)
    fixed, asked = laid(FOLDED, "folded", pair)
    opened = laid_open(fixed, asked, lay_pieces(pair, FOLDED, "open"))
    assert opened is not None and len(opened.placements) == 2
    assert opened.length == pytest.approx(fixed.length)


def test_not_laid_open_where_more_was_cut() -> None:
    """A wasted twin was cut as well: cloth laid open has a hole there that its marker does not know of."""
    one = (box("one", 60, 40),)
    problem = lay_pieces(one, FOLDED, "folded", waste_twins=True)
    fixed = solve(problem, MaxIterations(5)).marker
    asked = Asked.of(one, FOLDED, "folded", waste_twins=True)
    assert laid_open(fixed, asked, lay_pieces(one, FOLDED, "open")) is None
