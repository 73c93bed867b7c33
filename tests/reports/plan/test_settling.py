"""One cloth settled: which spreads are searched, and what is carried from one to another."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from nesting.errors import NestingError, SpreadError
from nesting.folds.fold_then_open import fold_then_open, opened_in
from nesting.search.row import lay_in_a_row
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import verify_asked
from reports.ask.job import parse_job
from reports.ask.offer import FabricOffer
from reports.ask.wanted import asked_of
from reports.buy.shown import plan_shown
from reports.plan.effort import Effort
from reports.plan.plain import plan_to_plain
from reports.plan.plan import Plan, plan_job
from reports.plan.settling import Settling, settle, share
from reports.plan.words import answer_lines, laid_lines
from tests.make.cloth import back, front, in_a_row, patch, tab
from tests.make.model import with_fabrics
from tests.make.settled import try_settled

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker

PIECES = (back(), front(), tab(4))


def cloth(spread: str, width: str = "1 m", **more: Any) -> FabricOffer:
    """A cloth with selvedges of 10 mm."""
    return FabricOffer.model_validate({"width": width, "selvedge": "1 cm", "spread": spread} | more)


class Rows:
    """A search that lays all pieces one behind another, and tells what it was asked for."""

    def __init__(self) -> None:
        self.asked: list[list[Spread]] = []

    def __call__(self, asked: Sequence[tuple[Settling, Spread]]) -> list[Marker]:
        """Lay them."""
        self.asked.append([spread for _, spread in asked])
        return [in_a_row(one.problems[spread]) for one, spread in asked]


def searched(*offers: FabricOffer, pieces: Sequence[Any] = PIECES) -> tuple[list[Settling], Rows]:
    """Cloths settled with all pieces in a row."""
    cloths, rows = [Settling(offer, tuple(pieces), 1) for offer in offers], Rows()
    settle(cloths, rows)
    return cloths, rows


def test_of_all_spreads_those_that_matter_are_searched() -> None:
    """Without a gap the open cloth, then the folded, which is simpler; what opens out to it needs no search."""
    (best,), rows = searched(cloth("best"))
    assert rows.asked == [["open"], ["folded"]]
    # By hand: back 200, fronts 200 and tabs twice 80 behind one another, folded; unfolded they lie on open cloth.
    assert (best.length("folded"), best.length("open")) == (560.0, 560.0)
    assert (best.best, best.simplest) == ("folded", "folded")
    assert best.searched == ["folded", "open"]


def test_with_a_gap_the_ordinary_ones_are_searched_alike() -> None:
    """A fold needs no gap, so that folded cloth may take less: each of the three is searched."""
    _, rows = searched(cloth("best", gap="3 mm"))
    assert rows.asked == [["folded", "open", "double-folded"]]


def test_a_simpler_spread_that_must_take_more_is_not_searched() -> None:
    """Four patches lie side by side on open cloth, 200 mm long; folded, with their twins, they are 204 mm of cloth."""
    asked: list[Spread] = []
    best = Settling(cloth("best", sold_by="1 mm", waste_twins=True), (patch(4),), 1)

    def search(wanted: Sequence[tuple[Settling, Spread]]) -> list[Marker]:
        asked.extend(spread for _, spread in wanted)
        return [solve(one.problems[spread], MaxIterations(5)).marker for one, spread in wanted]

    settle([best], search)
    assert best.length("open") == pytest.approx(200.0)
    assert asked == ["open"]


@pytest.mark.parametrize("spread", ["part-folded", "fold-then-open"])
def test_a_named_spread_contains_others(spread: str) -> None:
    """At its limits cloth folded in part, or folded and then opened, is folded or open: the shortest of all is it."""
    (one,), rows = searched(cloth(spread))
    assert rows.asked == [["folded", "open", spread]]
    assert one.length(one.best) == min(one.length(each) for each in one.spreads)


def test_at_a_given_depth_nothing_else_is_contained() -> None:
    """Whoever says how deep to fold gets that fold."""
    _, rows = searched(cloth("part-folded", fold_depth="20 cm"))
    assert rows.asked == [["part-folded"]]


def test_a_named_spread_that_cannot_be_is_refused() -> None:
    """What it contains does not stand in for it."""
    with pytest.raises(SpreadError, match="needs some pieces for each part"):
        Settling(cloth("fold-then-open"), (tab(4),), 1)
    with pytest.raises(NestingError, match=r"'back' needs 6 in \(150 mm\)"):
        Settling(cloth("best", "10 cm"), PIECES, 1)


def test_cloths_seed_one_another() -> None:
    """A good marker on narrow folded cloth is carried to wider, open, napless cloth, and to the best of all."""
    offers = [cloth("folded", "90 cm", nap=True), cloth("folded"), cloth("open"), cloth("best")]
    cloths = [Settling(offer, PIECES, 1) for offer in offers]
    good = solve(cloths[0].problems["folded"], MaxIterations(20)).marker

    def search(asked: Sequence[tuple[Settling, Spread]]) -> list[Marker]:
        return [good if one is cloths[0] else in_a_row(one.problems[spread]) for one, spread in asked]

    settle(cloths, search)
    assert good.length < 560.0
    assert [one.length(one.best) for one in cloths] == pytest.approx([good.length] * 4)


def test_the_pieces_that_lie_opened_are_taken_over() -> None:
    """On wide cloth another piece would lie opened out; the narrow cloth's marker holds with its own choice."""
    spread: Spread = "fold-then-open"
    narrow, wide = (Settling(cloth(spread, width), PIECES, 1) for width in ("50 cm", "64 cm"))
    chosen = opened_in(wide.problems[spread])
    another = next((piece.name,) for piece in PIECES if (piece.name,) != chosen)
    laid = fold_then_open(PIECES, narrow.offer.fabric(), opened=another)
    narrow.go_on_from(spread, None, solve(laid, MaxIterations(10)).marker)
    wide.keep(spread, lay_in_a_row(wide.problems[spread]))
    share([narrow, wide])
    marker = wide.found[spread]
    assert marker.length == pytest.approx(narrow.found[spread].length)
    assert opened_in(marker.problem) == opened_in(wide.problems[spread]) == another
    verify_asked(marker, asked_of(wide.offer, spread, PIECES, 1))


def test_the_shortest_stays() -> None:
    """Half a millimetre less is less; rounding is not, nor is more."""
    one = Settling(cloth("folded"), PIECES, 1)
    row = in_a_row(one.problems["folded"])
    one.keep("folded", row)
    for more, taken in ((0.0, False), (1e-9, False), (1.0, False), (-1e-9, False), (-0.5, True)):
        assert one.adopt("folded", replace(row, length=row.length + more)) is taken
    assert one.length("folded") == row.length - 0.5


def test_not_the_other_way() -> None:
    """Wide cloth, or cloth without a nap, gives nothing to narrow cloth, or to cloth with one."""
    offers = [cloth("folded", "1.5 m"), cloth("folded", nap=True)]
    cloths = [Settling(offer, PIECES, 1) for offer in offers]
    good = solve(cloths[0].problems["folded"], MaxIterations(20)).marker
    settle(cloths, lambda asked: [good if one is cloths[0] else in_a_row(one.problems[s]) for one, s in asked])
    assert cloths[1].length("folded") == 560.0


def test_an_interrupt_leaves_the_rest_out() -> None:
    """What was not searched is neither asked for again nor told of."""
    one = Settling(cloth("part-folded"), PIECES, 1)
    settle([one], lambda asked: [in_a_row(one.problems[asked[0][1]]), *[None] * (len(asked) - 1)])
    assert one.searched == ["folded"]
    assert one.missed == {"open", "part-folded"}


def planned(*entries: str) -> Plan:
    """The plan of the model job on some cloths."""
    return plan_job(parse_job(with_fabrics(*entries)), Effort(0, proof=0), rib=False)


def test_the_answer_says_how_the_cloth_truly_lies() -> None:
    """Asked for a fold in part, the model jacket lies folded: words and data say both."""
    plan = planned('width = "60 in"\nspread = "part-folded"')
    ((_, fabric),) = plan.markers
    assert fabric.spread != "part-folded"
    lines = list(answer_lines(plan))
    asked = "Asked for: folded over in part, the rest single. No fold in part was found to take less."
    assert f"  {asked}" in lines and f"  {asked}" in list(laid_lines(plan))
    assert plan_shown(plan)["markers"][0]["said"]["asked"] == asked
    (plain,) = plan_to_plain(plan)["fabrics"]
    assert (plain["spread_asked"], plain["spread"]) == ("part-folded", fabric.spread)
    assert {way["spread"] for way in plain["other_ways"]} == {"folded", "open", "part-folded"} - {fabric.spread}


def test_a_pattern_never_saves_cloth() -> None:
    """The marker on plain cloth is never told to be longer than the one on the lines of a pattern."""
    plan = planned('width = "60 in"\nspread = "open"\nrepeat_along = "3 in"')
    ((_, fabric),) = plan.markers
    assert fabric.plain is not None and fabric.plain <= fabric.result.marker.length


@pytest.mark.generated(6)
def test_what_asks_for_less_never_takes_more(numbers: Iterator[int]) -> None:
    """Random pieces on five cloths: open, wider, napless cloth, of a narrow gap, takes no more; the best, least."""
    assert sum(map(try_settled, numbers)) > 0
