"""Images of layouts: which there are, and what is left to look at, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.placing.question import Placing
from nesting.placing.symmetry import Anchor, AnchoredPair, anchor_of
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from pieces import Piece
from pieces.length import mm
from tests.make.outlines import sides

WEDGE = np.array([(0, 0), (100, 0), (100, 30), (0, 60)], dtype=float)
HOUSE = np.array([(0, 0), (100, 10), (120, 40), (100, 70), (0, 80)], dtype=float)
BRICK = np.array([(0, 0), (90, 0), (90, 40), (0, 40)], dtype=float)


def strip(*outlines: np.ndarray, turns: tuple[float, ...] = (0.0, 180.0)) -> Problem:
    """One of each outline on a strip of 200 mm."""
    return Problem.from_outlines(200.0, outlines, [1] * len(outlines), [turns] * len(outlines))


def test_turned_by_half_one_way_is_enough() -> None:
    """Where all may be turned by half, the layout turned by half is one, too: one way of the largest will do."""
    anchor = anchor_of(strip(WEDGE, HOUSE))
    assert isinstance(anchor, Anchor)
    assert anchor.item == 1
    assert {half[0] for half in anchor.allowed} == {0}
    assert len(anchor.allowed) == 4


def test_rectangles_need_a_quarter_of_the_places() -> None:
    """Of rectangles every image is a layout: the middle of one lies in the first half, and in the lower one."""
    anchor = anchor_of(strip(BRICK, BRICK[:, ::-1][::-1] * 1.5, turns=(0.0,)))
    assert isinstance(anchor, Anchor)
    assert anchor.allowed == ((0, 0, 0),)


def test_on_a_nap_there_is_no_image() -> None:
    """What lies one way only has no image, but where all are alike left and right."""
    assert anchor_of(strip(WEDGE, turns=(0.0,))) is None
    anchor = anchor_of(strip(HOUSE, turns=(0.0,)))
    assert isinstance(anchor, Anchor)
    assert anchor.allowed == ((0, 0, 0), (0, 1, 0))


@pytest.mark.parametrize("nap", [True, False])
def test_a_left_and_a_right_alone(nap: bool) -> None:
    """Two pairs, and nothing else, on open cloth: the image across exchanges a left and a right, which count as two.

    With a nap that is the only image, so that half the places across are enough; without, half along as well.
    """
    pieces = [
        Piece(name, sides([(0, 0), (long, 0), (long - 50, 200), (0, 150)], [0.0] * 4), cut=2, mirrored_pair=True)
        for name, long in (("sleeve", 300), ("front", 500))
    ]
    problem = lay_pieces(pieces, Fabric("cloth", mm(900), nap=nap), "open")
    anchor = anchor_of(problem)
    assert isinstance(anchor, AnchoredPair)
    assert {problem.items[k].name for k in anchor.items} == {"front (left)", "front (right)"}
    assert (anchor.along, anchor.across) == (not nap, True)


def test_lefts_and_rights_change_places() -> None:
    """A pair and a piece alike on both sides, on open cloth with a nap: the image exchanges left and right."""
    pair = Piece("sleeve", sides([(0, 0), (300, 0), (250, 200), (0, 150)], [0.0] * 4), cut=2, mirrored_pair=True)
    back = Piece("back", sides([(0, 0), (400, 0), (400, 300), (0, 300)], [0.0] * 4))
    problem = lay_pieces([pair, back], Fabric("cloth", mm(900), nap=True), "open")
    anchor = anchor_of(problem)
    assert isinstance(anchor, Anchor)
    assert problem.items[anchor.item].name == "back"
    assert {half[2] for half in anchor.allowed} == {0}


def test_faults_and_choices_have_none() -> None:
    """Where the cloth itself is not the same when it is turned, nothing is left out."""
    plain = strip(BRICK)
    assert anchor_of(plain) is not None
    assert anchor_of(replace(plain, faults=(BRICK,))) is None


@pytest.mark.parametrize("larger", ["left", "right"])
def test_a_neck_that_paring_breaks(larger: str) -> None:
    """Two halves on a neck of 0.008 mm, and what lies in the gap between them: together 450 x 100, by construction.

    A proof sees the half alone that is larger by a hair, so that the piece is no longer its own image.
    """
    neck, hair = 0.008, 4e-7
    left, right = (200 - hair, 250) if larger == "right" else (200, 250 - hair)
    halves = [(0, 0), (450, 0), (450, 50), (410, 90), (right, 90), (right, neck), (left, neck), (left, 90), (40, 90)]
    beside = [(200, 0), (250, 0), (250, 90), (410, 90), (450, 50), (450, 100), (0, 100), (0, 50), (40, 90), (200, 90)]
    outlines = [np.array(one, dtype=float) for one in ([*halves, (0, 50)], beside)]
    problem = Problem.from_outlines(100.0, outlines, [1, 1], [(0.0,), (0.0,)])
    assert Placing(problem, 1000.0).ask(450.1, 0.5).kind != "impossible"
