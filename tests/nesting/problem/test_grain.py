"""What each layer of cloth yields: hand, grain, nap, shrinkage and pattern, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.cloth.ply import Ply
from nesting.cloth.spread import spread_cloth
from nesting.errors import NoFoldError, SpreadError
from nesting.problem.grain import is_own_twin, turns
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces import Piece
from pieces.length import mm
from pieces.piece.piece import InnerLine, Notch
from tests.make.cloth import back, front, tab
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from nesting.problem.item import Variant

TWILL = Fabric("twill", mm(1500.0))
VELVET = Fabric("velvet", mm(1500.0), nap=True)


def grained(degrees: float, **kind: Any) -> Piece:
    """A pair of slanted pieces whose grainline is drawn at an angle."""
    end = 100 * cos(radians(degrees)), 100 * sin(radians(degrees))
    return replace(front(), grain=((0.0, 0.0), end), **kind)


def grain_in(ply: Ply, piece: Piece, variant: Variant) -> float:
    """Degrees of the grain in one layer, seen from its right side: the layer turned over about the cloth's length."""
    assert variant.transform is not None
    (x0, y0), (x1, y1) = variant.transform(piece.grain)
    along, across = x1 - x0, (y1 - y0) * (-1 if ply.mirrored else 1)
    turned = radians(ply.turn)
    return float(
        np.degrees(np.arctan2(along * sin(turned) + across * cos(turned), along * cos(turned) - across * sin(turned)))
        % 360
    )


SPREADS: tuple[Spread, ...] = ("open", "folded", "double-folded", "tube", "face-to-face")


@pytest.mark.parametrize(
    ("spread", "nap"), [*((spread, nap) for spread in SPREADS for nap in (False, True)), ("crosswise", False)]
)
@pytest.mark.parametrize("degrees", [0, 30, 45, 90, 135, 180, 270])
def test_grain_of_every_layer_runs_along_the_cloth(spread: Spread, nap: bool, degrees: float) -> None:
    """Left and right both lie on their grain, however it is drawn; on a nap both run one way."""
    piece = grained(degrees)
    problem = lay_pieces([piece], replace(TWILL, nap=nap), spread)
    for item in problem.items:
        for variant in item.variants:
            for ply in problem.bands[variant.band].plies:
                off = min(abs(grain_in(ply, piece, variant) - way) for way in ((0, 360) if nap else (0, 180, 360)))
                assert off < 1e-6


def test_both_hands_of_a_bias_pair_on_open_cloth_turn_opposite_ways() -> None:
    """With the grain drawn at 45 degrees the left is turned by -45, the right, turned over, by +45."""
    problem = lay_pieces([grained(45)], VELVET, "open")
    assert [round(item.variants[0].turn) for item in problem.items] == [315, 45]


def test_crosswise_fold_turns_the_nap_of_the_upper_layer() -> None:
    """Folded across its length, the cloth's upper layer lies right side down with its nap the other way."""
    (band,) = spread_cloth(TWILL, "crosswise")
    assert band.plies == (Ply(), Ply(mirrored=True, turn=180.0))
    assert turns(front(), (0.0,), plies=band.plies) == []  # so that no piece with a nap may lie there
    assert Band("stack", 0, 100, 3, mirrored=True).plies == (Ply(), Ply(mirrored=True), Ply())


@pytest.mark.parametrize("mark", ["notch", "drill point", "line", "cutout"])
def test_a_mark_off_centre_makes_a_piece_no_pair(mark: str) -> None:
    """A rectangle is its own mirror image; with a mark off its centre line it is not, and folded cloth is refused."""
    marked = {
        "notch": {"notches": (Notch("n", (20.0, 0.0)),)},
        "drill point": {"drill_points": ((40.0, 10.0),)},
        "line": {"inner": (InnerLine("line", ((10.0, 10.0), (70.0, 10.0))),)},
        "cutout": {"inner": (InnerLine("cutout", ((10.0, 5.0), (20.0, 5.0), (20.0, 15.0), (10.0, 5.0))),)},
    }[mark]
    piece = replace(tab(), **marked)  # type: ignore[arg-type]
    assert is_own_twin(tab(), (0.0,))
    assert not is_own_twin(piece, (0.0,))
    with pytest.raises(SpreadError, match="all the same way up"):
        lay_pieces([piece], VELVET, "folded")
    wasted = lay_pieces([piece], VELVET, "folded", waste_twins=True)
    assert sum(item.quantity for item in wasted.items) == 2


def test_marks_on_the_centre_line_keep_a_piece_a_pair() -> None:
    """Marks that lie alike on both sides of the grainline do no harm: a centre notch, two drill points."""
    piece = replace(tab(), notches=(Notch("centre", (0.0, 25.0)),), drill_points=((40.0, 10.0), (40.0, 40.0)))
    assert is_own_twin(piece, (0.0,))


def test_a_piece_the_same_end_for_end_is_a_pair_only_without_a_nap() -> None:
    """A kite whose halves mirror one another across the grain is its own twin turned round: never on a nap."""
    kite = Piece("kite", sides([(0.0, 0.0), (100.0, -20.0), (200.0, 0.0), (100.0, 90.0)], [0.0] * 4), cut=2)
    assert is_own_twin(kite, (0.0, 180.0))
    assert not is_own_twin(kite, (0.0,))
    upright = replace(kite, grain=((0.0, 0.0), (0.0, 1.0)))
    assert is_own_twin(upright, (0.0,))


def test_a_half_drawn_bottom_up_lies_with_the_nap() -> None:
    """The grainline's arrow says which way is down: a half drawn the other way round is turned for it."""
    drawn = replace(back(), grain=((200.0, 20.0), (0.0, 20.0)))
    for piece, turn in ((back(), 0.0), (drawn, 180.0)):
        (item,) = lay_pieces([piece], VELVET, "folded").items
        assert {variant.turn for variant in item.variants} == {turn}


@pytest.mark.parametrize("lies", ["straight", "cross", "free"])
def test_a_belt_is_enlarged_along_the_cloth(lies: str) -> None:
    """A belt of 1000 x 50 mm on cloth that loses 10 % along: washed, it is 1000 x 50 in each way that it may lie."""
    belt = Piece("belt", sides([(0, 0), (1000, 0), (1000, 50), (0, 50)], [0.0] * 4), lies=lies)  # type: ignore[arg-type]
    shrinks = replace(TWILL, shrinkage=(10.0, 0.0))
    ways = lay_pieces([belt], shrinks, "open").items[0].variants
    assert len(ways) == {"straight": 1, "cross": 2, "free": 4}[lies]
    for way in ways:
        washed = way.outline * (0.9, 1.0)
        sides_ = np.hypot(*(np.roll(washed, -1, axis=0) - washed).T)
        assert sorted(sides_) == pytest.approx([50, 50, 1000, 1000])
        assert washed[:, 0].max() != 0


@pytest.mark.parametrize("washed", [(8.0, 0.0), (0.0, 5.0), (10.0, 3.0)])
def test_a_bias_piece_washes_to_its_shape(washed: tuple[float, float]) -> None:
    """With the grain at 45 degrees the piece is enlarged along the cloth, not along its own axes."""
    piece = grained(45)
    problem = lay_pieces([piece], replace(TWILL, shrinkage=washed), "folded")
    for variant in problem.items[0].variants:
        after = variant.outline * (1 - washed[0] / 100, 1 - washed[1] / 100)
        drafted = piece.cut_line
        assert _distances(after) == pytest.approx(_distances(drafted))


def _distances(outline: np.ndarray) -> list[float]:
    """All distances between corners, in order: the same for outlines that are one turned, moved or mirrored."""
    return sorted(float(np.hypot(*(a - b))) for a in outline for b in outline)


@pytest.mark.parametrize(("round_", "folds"), [(800.0, 2), (840.0, 2), (820.0, 1), (860.0, 1)])
def test_a_tube_with_a_repeat_across_matches_on_the_upper_fold_only_where_it_lies_on_a_line(
    round_: float, folds: int
) -> None:
    """Half round a tube of 820 mm are 410 mm, no whole number of repeats of 20 mm: no half lies on that fold."""
    tube = Fabric("striped rib", mm(round_), repeat_across=mm(20.0))
    half = replace(back(), match=(50.0, 0.0))
    (item,) = lay_pieces([half], tube, "tube").items
    assert len({variant.low for variant in item.variants}) == folds
    for variant in item.variants:
        assert variant.match is not None
        assert (variant.low + variant.match[1]) % 20.0 == pytest.approx(0.0, abs=1e-6)


def test_a_half_whose_match_point_is_off_its_fold_is_refused_or_opened() -> None:
    """With a line along the fold, a match point 30 mm off it meets a line only where the repeat divides 30 mm."""
    half = replace(back(), match=(50.0, 30.0))
    for repeat, goes in ((60.0, False), (45.0, False), (30.0, True), (15.0, True)):
        striped = replace(TWILL, repeat_across=mm(repeat))
        if goes:
            assert lay_pieces([half], striped, "folded").items[0].variants
        else:
            with pytest.raises(SpreadError, match="match point off the lines"):
                lay_pieces([half], striped, "folded")
        assert lay_pieces([half], striped, "open").items[0].variants


def test_a_half_on_a_fold_gives_one_piece() -> None:
    """One placement of a back on the fold is one back, in whatever it lies."""
    cloth: tuple[tuple[Spread, int], ...] = (("folded", 1), ("tube", 1), ("face-to-face", 2), ("open", 1))
    for spread, each in cloth:
        piece = replace(back(), cut=2)
        problem = lay_pieces([piece], TWILL, spread)
        assert [item.yields for item in problem.items] == [each]
        assert sum(item.yields * item.quantity for item in problem.items) == 2
        assert problem.piece_area == pytest.approx(2 * 50_000)  # (150 + 100) / 2 * 200, both halves


def test_one_back_is_refused_where_there_is_no_fold_and_two_layers() -> None:
    """A stack of two gives two whole backs; for one, the second is wasted, and only where that is allowed."""
    with pytest.raises(NoFoldError):
        lay_pieces([back()], TWILL, "face-to-face")


@pytest.mark.parametrize("spread", ["open", "folded", "crosswise", "face-to-face"])
def test_odd_grains_are_laid_and_checked(spread: Spread) -> None:
    """Pieces with grains at odd angles, cross and free, with shrinkage, are laid on every spread."""
    pieces = [grained(30), replace(grained(75, lies="cross"), name="b"), replace(grained(200, lies="free"), name="c")]
    cloth = replace(TWILL, shrinkage=(6.0, 3.0), gap=mm(3.0))
    assert solve(lay_pieces(pieces, cloth, spread), MaxIterations(3)).marker.length > 0


def test_angles_of_a_layer_by_hand() -> None:
    """A line at 30 degrees runs at -30 in a layer turned over, at 210 with its nap turned, at 150 with both."""
    plies = (Ply(), Ply(True), Ply(False, 180.0), Ply(True, 180.0))
    assert [ply.angle(30.0) for ply in plies] == [30.0, 330.0, 210.0, 150.0]
