"""Rolls of patterned cloth, worked out by hand: plies begin whole repeats apart, a repeat is lost at the start."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.errors import CheckError
from nesting.lays.roll_stock import RollStock
from reports.ask.order.order import parse_order
from reports.errors import JobError
from reports.run.on_pattern import PatternPlies, check_on_pattern, rolls_on_pattern
from tests.make.orders import SMALL, changed


def plies(number: int) -> PatternPlies:
    """Plies of 64 cm on a repeat of 30 cm, of any lot."""
    return PatternPlies([640.0] * number, 300.0, [""] * number, [0.0] * number)


def test_plies_on_a_roll_begin_whole_repeats_apart() -> None:
    """Four plies of 64 cm on a repeat of 30 cm: 3 × 90 + 64 + 30 = 364 cm of roll, and not 1 mm less."""
    found = rolls_on_pattern(plies(4), [RollStock(3640.0)])
    assert not found.missing
    assert found.remnants == {0: pytest.approx(0.0)}
    lacking = rolls_on_pattern(plies(4), [RollStock(3639.0)])
    assert len(lacking.missing) == 1 and not lacking.impossible  # a cut elsewhere on the pattern might lose less


def test_each_stretch_between_flaws_loses_a_repeat() -> None:
    """A flaw of 10 cm behind 94 cm, the least that holds a ply wherever its pattern begins; behind it 94 cm again."""
    roll = RollStock(940.0 + 100.0 + 940.0, flaws=((940.0, 100.0),))
    found = rolls_on_pattern(plies(2), [roll])
    assert not found.missing and [(cut.at, cut.length) for cut in found.cuts] == [(0.0, 940.0), (1040.0, 940.0)]
    check_on_pattern(found, plies(2), [roll])
    short = RollStock(939.0 + 100.0 + 940.0, flaws=((939.0, 100.0),))
    assert len(rolls_on_pattern(plies(2), [short]).missing) == 1
    closer = replace(found, cuts=tuple(replace(cut, at=cut.at and 1039.0) for cut in found.cuts))
    with pytest.raises(CheckError, match="a flaw"):
        check_on_pattern(closer, plies(2), [roll])
    less = replace(found, cuts=tuple(replace(cut, length=900.0) for cut in found.cuts))
    with pytest.raises(CheckError, match=r"gives 939\.0 mm, and plies on its pattern take 940"):
        check_on_pattern(less, plies(2), [short])


def test_lots_and_widths_go_with_a_pattern() -> None:
    """A ply comes from its own lot, and from a roll that is wide enough for it."""
    stock = [RollStock(940.0, "A", 1500.0), RollStock(940.0, "B", 1400.0), RollStock(1840.0, "B", 1500.0)]
    asked = replace(plies(3), lots=["A", "B", "B"], needs=[1450.0, 1450.0, 1400.0])
    found = rolls_on_pattern(asked, stock)
    assert {cut.ply: cut.roll for cut in found.cuts} == {0: 0, 1: 2, 2: 1}
    check_on_pattern(found, asked, stock)


@pytest.mark.parametrize("pattern", ['repeat_across = "6 in"', 'border = "2 in"\nborder_edges = ["hem"]'])
def test_a_width_of_its_own_moves_what_lies_across(pattern: str) -> None:
    """On another width checks or a border lie elsewhere: it is refused in one line which says why."""
    rolls = (r"^# rolls = .*$", 'rolls = [{ length = "9 yd", width = "58 in" }]')
    text = changed(*SMALL, rolls, (r'^supplier = "mill agent"', f'supplier = "mill agent"\n{pattern}'))
    with pytest.raises(JobError, match="the pattern lies elsewhere across than the markers are laid for"):
        parse_order(text, "order.toml")
