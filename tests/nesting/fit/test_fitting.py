"""Whether pieces fit on a remnant: rectangles and an L shape whose answers are known by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from hypothesis import example, given
from hypothesis import strategies as st

from nesting.errors import SpreadError
from nesting.fit.aimed import search_within
from nesting.fit.clear import has_place, with_zones
from nesting.fit.fitting import SLACK, Fitting, RemnantLie, disproof, fit_pieces
from nesting.fit.remnant import Remnant, Zone, apart
from nesting.marker.opinion import check
from nesting.problem.item import Variant
from nesting.problem.problem import Problem, place_outline
from nesting.proof.slices import slice_bound
from nesting.search.solver import solve
from nesting.search.stop import Interrupted, MaxIterations
from pieces import Piece
from pieces.length import mm
from tests.make.cloth import back, front, in_a_row, patch, tab
from tests.make.outlines import sides
from tests.make.polygons import comb, star

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.marker.marker import Result

L_SHAPE = Remnant(mm(100), mm(160), (Zone(80, 160, 50, 100),))
"""160 long and 100 across, the upper corner at its end missing: room for three tabs of 80 x 50, and no more cloth."""


def panel(length: float, width: float, cut: int = 1) -> Piece:
    """A rectangle."""
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    return Piece("panel", sides(corners, [0.0] * 4), cut=cut)


def wedge() -> Piece:
    """A right triangle of 100 x 100, its square corner at its top."""
    return Piece("wedge", sides([(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)], [0.0] * 3))


def octagon(cut: int) -> Piece:
    """An octagon 100 across: it leaves a good deal of cloth between."""
    corners = [(30, 0), (70, 0), (100, 30), (100, 70), (70, 100), (30, 100), (0, 70), (0, 30)]
    return Piece("octagon", sides([(float(x), float(y)) for x, y in corners], [0.0] * 8), cut=cut)


def fit(pieces: Any, remnant: Remnant, *spreads: Any, iterations: int = 60, **options: Any) -> Fitting:
    """The answer of a short search; a layout is checked again, by shapely and on the remnant as it is."""
    stop = options.pop("stop", lambda: (MaxIterations(iterations),))
    fitting = fit_pieces(pieces, remnant, spreads or ("open",), stop, **options)
    if fitting.layout and fitting.layout.result:
        marker, way = fitting.layout.result.marker, fitting.layout.way
        check(marker)
        cloth = remnant.turned() if way.turned else remnant
        lost = shapely.union_all([shapely.Polygon(zone.outline) for zone in cloth.lost(way.spread)])
        for _, _, _, outline in marker.outlines():
            shape = shapely.Polygon(outline)
            assert shape.intersection(lost).area < 1e-3
            assert shape.bounds[0] > -1e-3 and shape.bounds[2] <= remnant.length + SLACK
    return fitting


def test_a_search_for_a_remnant_ends_when_it_fits() -> None:
    """Two squares of 10 on 20 of cloth take 10: a search that is to come to 15 ends there; on from it as well."""
    problem = Problem.from_outlines(20.0, [[[0, 0], [10, 0], [10, 10], [0, 10]]], [2], [[0.0]])
    first = search_within(lambda: (MaxIterations(50),), None, {"seed": 0}, problem, 15.0)
    again = search_within(lambda: (), None, {}, problem, 15.0, initial=first.marker)
    assert (first.marker.length, again.marker.length) == (pytest.approx(10.0), pytest.approx(10.0))


@pytest.mark.parametrize(("length", "answer"), [(160.0, "yes"), (161.0, "yes"), (159.0, "no")])
def test_four_tabs_fill_a_rectangle(length: float, answer: str) -> None:
    """Four tabs of 80 x 50 fill 100 x 160 to the last thread; on a millimetre less the area alone forbids them."""
    fitting = fit([tab(4)], Remnant(mm(100), mm(length)))
    assert fitting.answer == answer
    (tried,) = fitting.tried
    assert (tried.disproof.kind if tried.disproof else None) == ("area" if answer == "no" else None)


def test_three_tabs_fill_an_l() -> None:
    """Three tabs fill the L; their area is all of it, so that nothing is waste."""
    fitting = fit([tab(3)], L_SHAPE)
    assert fitting.answer == "yes"
    assert fitting.layout and fitting.layout.problem
    assert fitting.layout.problem.piece_area == pytest.approx(L_SHAPE.usable) == 3 * 80 * 50


def test_a_fourth_tab_is_disproved_by_the_area_of_the_l() -> None:
    """Without its missing corner the cloth would do for four; with it, the pieces are 4/3 of what there is."""
    (tried,) = fit([tab(4)], L_SHAPE).tried
    assert tried.disproof and tried.result is None
    assert (tried.disproof.kind, tried.disproof.needs) == ("area", pytest.approx(4 / 3))


def test_a_hole_leaves_no_place() -> None:
    """A panel of 100 x 100 needs 100 free on one side of the hole: with 95 on both it has no place, with 100 it has."""
    for start, answer in ((95.0, "no"), (100.0, "yes"), (90.0, "yes")):
        fitting = fit([panel(100, 100)], Remnant(mm(100), mm(200), (Zone(start, start + 10, 45, 55),)))
        assert fitting.answer == answer
        (tried,) = fitting.tried
        assert (tried.disproof is not None and tried.disproof.kind == "place") == (answer == "no")


def test_a_cut_out_counts_in_the_bound() -> None:
    """Two panels of 100 x 60 on 100 of cloth lie one behind the other, and a flaw of 20 right across: 220 in all."""
    flaw = (Zone(100, 120, 0, 100),)
    (tried,) = fit([panel(100, 60, cut=2)], Remnant(mm(100), mm(219), flaw)).tried
    assert tried.disproof and tried.disproof.kind == "length"
    assert tried.disproof.needs == pytest.approx(220, abs=0.1)
    assert fit([panel(100, 60, cut=2)], Remnant(mm(100), mm(220), flaw)).answer == "yes"


def test_a_piece_longer_or_wider_than_the_remnant() -> None:
    """A remnant smaller than a piece is a no, with that reason."""
    (tried,) = fit([panel(100, 60)], Remnant(mm(100), mm(99))).tried
    assert tried.disproof and (tried.disproof.kind, tried.disproof.needs) == ("piece", 100)
    (tried,) = fit([panel(100, 60)], Remnant(mm(59), mm(500))).tried
    assert tried.disproof and tried.disproof.kind == "width" and "'panel' needs" in tried.disproof.held
    assert "selvedge" not in tried.disproof.held
    (tried,) = fit([panel(100, 60)], Remnant(mm(61), mm(500), selvedge=mm(1))).tried
    assert tried.disproof and "between its selvedges gives" in tried.disproof.held


def test_no_cloth_left() -> None:
    """A cut-out over all of the remnant leaves nothing."""
    fitting = fit([tab()], Remnant(mm(100), mm(200), (Zone(0, 200, 0, 100),)))
    assert fitting.answer == "no" and fitting.remnant.usable == 0


def test_a_cut_out_is_lost_to_both_layers() -> None:
    """On 120 x 80 with 20 missing along an edge, two tabs of 80 x 50 lie side by side; folded, 40 of 60 is left."""
    remnant = Remnant(mm(120), mm(80), (Zone(0, 80, 0, 20),))
    assert fit([tab(2)], remnant, "open").answer == "yes"
    assert fit([tab(2)], remnant, "folded").answer == "no"
    best = fit([tab(2)], remnant, "folded", "open")
    assert best.layout and best.layout.way == RemnantLie("open")
    assert best.tried[0].disproof


def test_folded_and_double_folded() -> None:
    """Two tabs and a half back on the fold, on folded cloth just large enough; four tabs on cloth with two folds."""
    assert fit([tab(2), back()], Remnant(mm(400), mm(200)), "folded").answer == "yes"
    assert fit([tab(4)], Remnant(mm(200), mm(80)), "double-folded").answer == "yes"
    assert fit([tab(4)], Remnant(mm(200), mm(79)), "double-folded").answer == "no"


def test_nap_and_the_other_end() -> None:
    """With a nap, a corner missing at a wedge's broad end is no matter once the cloth is turned end for end."""
    remnant = Remnant(mm(100), mm(100), (Zone(0, 40, 0, 40),), nap=True)
    fitting = fit([wedge()], remnant)
    first, second = fitting.tried
    assert first.disproof and first.disproof.kind == "place"
    assert fitting.layout is second and second.way == RemnantLie("open", turned=True)


def test_without_nap_the_piece_turns() -> None:
    """Without a nap the wedge itself is turned, and the cloth is not."""
    fitting = fit([wedge()], Remnant(mm(100), mm(100), (Zone(0, 40, 0, 40),)))
    assert fitting.answer == "yes" and len(fitting.tried) == 1


def test_not_found_is_no_proof() -> None:
    """Four octagons in two rows need 200; on 199 they do not fit, but area and lines cannot prove it."""
    fitting = fit([octagon(4)], Remnant(mm(201), mm(199)))
    assert fitting.answer == "not found"
    assert fitting.layout is None and fitting.nearest and fitting.nearest.result
    assert fitting.nearest.result.marker.length == pytest.approx(200)


def test_proofs_before_the_search() -> None:
    """Three squares of 40 on 100 of cloth need 80: their order on lines across it proves it, before any search."""
    squares = [panel(40, 40, cut=3)]
    for zones in ((), (Zone(0, 1, 0, 1),)):
        (tried,) = fit(squares, Remnant(mm(100), mm(70), zones), iterations=15, proof=0.3).tried
        assert tried.result and tried.result.marker.length > 79 and tried.result.iterations < 15
        assert tried.disproof and tried.disproof.kind == "length" and 70 < tried.disproof.needs < 80
    assert fit(squares, Remnant(mm(100), mm(70), (Zone(0, 1, 0, 1),)), iterations=15).answer == "not found"
    assert fit(squares, Remnant(mm(100), mm(81), (Zone(0, 1, 0, 1),)), iterations=15).answer == "yes"


def test_stops_as_soon_as_it_fits() -> None:
    """On a generous remnant the first layout will do, and no search follows."""
    fitting = fit([octagon(4), tab(2)], Remnant(mm(400), mm(800)), iterations=10_000)
    assert fitting.layout and fitting.layout.result
    assert fitting.layout.result.iterations < 3


def test_an_interrupt_ends_all_ways() -> None:
    """After an interrupt no further way is begun; what was found stands."""
    interrupt = Interrupted()
    interrupt.set()
    remnant = Remnant(mm(201), mm(199), (Zone(0, 1, 0, 1),), nap=True)
    fitting = fit([octagon(4)], remnant, stop=lambda: (interrupt,))
    assert fitting.answer == "not found"
    assert [tried.result is not None for tried in fitting.tried] == [True, False]


def test_cloth_that_cannot_lie_so() -> None:
    """A piece that is no pair is refused on folded cloth; with open cloth to try beside, that is passed over."""
    with pytest.raises(SpreadError, match="lay the cloth open"):
        fit([patch()], Remnant(mm(400), mm(400)), "folded")
    fitting = fit([patch()], Remnant(mm(400), mm(400)), "folded", "open")
    assert fitting.answer == "yes" and fitting.tried[0].refused


def test_several_garments() -> None:
    """Two garments of two tabs are four tabs."""
    assert fit([tab(2)], Remnant(mm(100), mm(160)), garments=2).answer == "yes"
    assert fit([tab(2)], Remnant(mm(100), mm(159)), garments=2).answer == "no"


def lying(outline: np.ndarray, width: float) -> Variant:
    """An outline free to lie across cloth of some width."""
    placed = place_outline(outline)
    return Variant(placed, 0.0, False, 0, 0.0, width - float(placed[:, 1].max()))


def hard(*corners: tuple[float, float]) -> np.ndarray:
    """An outline whose sweep along or across a cut-out shapely could not unite without a fault."""
    return np.array(corners)


@given(star(), st.integers(0, 150), st.integers(0, 150), st.integers(5, 100), st.integers(5, 100), st.integers(1, 60))
@example(hard((64, 0), (0, 43), (-100, 0), (0, -100)), 43, 4, 64, 19, 30)
@example(hard((81, 4), (23, 44), (-23, 36), (-43, -2), (-25, -48), (23, -36)), 14, 98, 63, 14, 43)
def test_no_place_means_no_place(
    outline: NDArray[Any], start: int, low: int, length: int, width: int, room: int
) -> None:
    """Wherever shapely finds a place clear of the cut-out, on a lattice, `has_place` says there is one."""
    placed = place_outline(outline)
    x1, y1 = placed.max(axis=0)
    total, across = float(x1) + room, float(y1) + room
    zone = Zone(start, start + length, low, low + width)
    hole = shapely.box(zone.start, zone.low, zone.end, zone.high)
    x, y = (v.ravel() for v in np.meshgrid(np.linspace(0, room, 9), np.linspace(0, room, 9)))
    moved = shapely.polygons(placed[np.newaxis] + np.stack([x, y], axis=1)[:, np.newaxis])
    clear = shapely.area(shapely.intersection(moved, hole)) == 0
    assert has_place(lying(outline, across), total, [zone]) or not clear.any()


@pytest.mark.parametrize(("tooth", "expected"), [(10.0, True), (10.1, False)])
def test_a_comb_goes_over_teeth(tooth: float, expected: bool) -> None:
    """A comb with gaps of 10 lies over a bar as broad as a gap, and over none broader, where it has no room beside."""
    outline = comb()  # 70 x 40, its gaps open downwards
    zone = Zone(10.0, 10.0 + tooth, 0.0, 30.0)
    assert has_place(lying(outline, 40.0), 70.0, [zone]) is expected


def cut_up(width: float, length: float, cuts: int, seed: int) -> list[Zone]:
    """A rectangle cut by straight cuts from edge to edge into rectangles."""
    rng = np.random.default_rng(seed)
    parts = [Zone(0.0, length, 0.0, width)]
    for _ in range(cuts):
        part = parts.pop(int(np.argmax([zone.area for zone in parts])))
        share = rng.uniform(0.25, 0.75)
        if rng.random() < 0.5:
            at = part.start + share * (part.end - part.start)
            parts += [part._replace(end=at), part._replace(start=at)]
        else:
            at = part.low + share * (part.high - part.low)
            parts += [part._replace(high=at), part._replace(low=at)]
    return parts


@pytest.mark.parametrize("seed", range(12))
def test_what_fits_to_the_last_thread_is_never_disproved(seed: int) -> None:
    """A rectangle cut up, some of its parts being cut-outs: the rest fits by construction, and no proof denies it."""
    parts = cut_up(100.0, 140.0, 8, seed)
    lost, pieces = apart(parts[:3]), parts[3:]
    outlines = [zone.outline - (zone.start, zone.low) for zone in pieces]
    problem = Problem.from_outlines(100.0, outlines, [1] * len(pieces), [[0.0]] * len(pieces))
    assert disproof(problem, 140.0, lost) is None
    assert slice_bound(with_zones(problem, lost), 0.05)[0] <= 140.0 + SLACK


def test_a_folded_layout_is_laid_open(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search on open cloth finds nothing, that on folded cloth may: its layers unfolded, they fit."""

    def search(problem: Problem, *given: Any, **options: Any) -> Result:
        found, is_open = solve(problem, MaxIterations(0)), problem.bands[0].layers == 1
        return replace(found, marker=in_a_row(problem)) if is_open else found

    monkeypatch.setattr("nesting.fit.aimed.solve", search)
    # A pair of fronts, 200 x 150: side by side about the fold they are 200 long, one behind another 400.
    answer = fit([front()], Remnant(mm(400), mm(210)), "open", iterations=0)
    assert answer.layout and answer.layout.way == RemnantLie("open")
