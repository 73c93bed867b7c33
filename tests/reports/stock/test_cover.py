"""What is on hand covers a job only where no marker is cut in two, and no lay is of two lots: worked out by hand."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from pieces.units import Units
from reports.stock.cover import Cover, NeedGroup, StockNeed, cover, cover_all
from reports.stock.item import StockItem


def roll(number: int, metres: float, width: float = 1500, **more: Any) -> StockItem:
    """Canvas on hand."""
    told = {"kind": "roll", "name": "Canvas", "colour": "", "lot": ""} | more
    held = Fraction(round(metres * 1000))
    return StockItem(number, f"id {number}", width=width, by_length=True, units=Units.METRIC, day=date(2026, 1, 1),
                     got=held, **told)  # fmt: skip


def canvas(*groups: tuple[float, ...], **more: Any) -> StockNeed:
    """So many lengths of canvas, m, in groups that are of one lot each."""
    named = tuple(NeedGroup(f"ticket {i}", tuple(1000 * one for one in of)) for i, of in enumerate(groups, 1))
    return StockNeed("canvas", "cloth", named, **({"width": 1500.0, "wider": True} | more))


def taken(found: Cover) -> dict[int, list[float]]:
    """What is taken of each thing, m."""
    return {take.item.number: [amount / 1000 for amount in take.amounts] for take in found.takes}


def test_the_shortest_that_holds_it() -> None:
    """Of three that are long enough the shortest is cut; a remnant and a roll are the same to that."""
    found = cover(canvas((2.0,)), [roll(1, 30), roll(2, 2.0, kind="remnant"), roll(3, 2.5)])
    assert taken(found) == {2: [2.0]} and found.is_whole


def test_two_halves_are_no_whole() -> None:
    """Two pieces of 1.5 m do not cover a marker of 2 m, though they are 3 m; they cover two of 1.5 m, of one lot."""
    shelf = [roll(1, 1.5, lot="A"), roll(2, 1.5, lot="A")]
    found = cover(canvas((2.0,)), shelf)
    assert taken(found) == {} and [group.name for group in found.missing] == ["ticket 1"]
    assert taken(cover(canvas((1.5, 1.5)), shelf)) == {1: [1.5], 2: [1.5]}
    each: tuple[dict[str, Any], ...] = ({"lot": "A"}, {"lot": ""})
    for lots in each:
        other = [roll(1, 1.5, **lots), roll(2, 1.5, lot="B" if lots["lot"] else "")]
        assert not cover(canvas((1.5, 1.5)), other).is_whole
        assert cover(canvas((1.5,), (1.5,)), other).is_whole


def test_a_part_of_a_run() -> None:
    """Of three lays those are covered for which there is cloth; the others are named, and nothing is used twice."""
    found = cover(canvas((2.0, 2.0), (3.0,), (9.0,)), [roll(1, 4.1), roll(2, 3.5)])
    assert taken(found) == {1: [2.0, 2.0], 2: [3.0]}
    assert [group.name for group in found.missing] == ["ticket 3"]


@pytest.mark.parametrize(
    ("need", "item", "holds"),
    [
        (canvas((2.0,)), roll(1, 3, 1499), False),  # narrower than laid for, by a millimetre
        (canvas((2.0,)), roll(1, 3, 1600), True),
        (canvas((2.0,), wider=False), roll(1, 3, 1600), False),  # where a fold or a border depends on the width
        (canvas((2.0,)), roll(1, 3, name="lining"), False),
        (canvas((2.0,), colour="rust"), roll(1, 3, colour="navy"), False),
        (canvas((2.0,), colour="rust"), roll(1, 3, colour="Rust"), True),
        (canvas((2.0,), colour="rust"), roll(1, 3), True),
        (canvas((2.0,)), roll(1, 3, kind="rib"), False),
        (canvas((3.0005,)), roll(1, 3), False),
        (canvas((3.0,)), roll(1, 3), True),
    ],
)
def test_what_will_do(need: StockNeed, item: StockItem, holds: bool) -> None:
    """Its name, its colour, its width and its length all have to be right."""
    assert cover(need, [item]).is_whole == holds


def test_named_up_to_a_comma() -> None:
    """A job may tell cloths of one name apart behind a comma."""
    need = StockNeed("canvas, 60 in", "cloth", (NeedGroup("", (1000.0,)),))
    assert need.is_for(roll(1, 3)) and not need.is_for(roll(1, 3, name="canvas, 45 in"))


def test_needs_share_what_there_is() -> None:
    """What one part takes is gone for the next; zips of two boxes count together."""
    first, second = cover_all([canvas((2.0,)), canvas((2.0,))], [roll(1, 3)])
    assert (first.is_whole, second.is_whole) == (True, False)
    zips = [StockItem(i, f"id {i}", "trim", "zip", "", "", None, False, Units.INCHES, date(2026, 1, 1), Fraction(n))
            for i, n in ((1, 30), (2, 12))]  # fmt: skip
    for number, whole in ((40, True), (43, False)):
        need = StockNeed("zip", "trim", (NeedGroup("", (number,)),), by_length=False, mixes=True)
        found = cover(need, zips)
        assert found.is_whole == whole
        assert [take.amount for take in found.takes] == ([28, 12] if whole else [30, 12])
        assert [group.amounts for group in found.missing] == ([] if whole else [(1,)])
