"""Which garment bears how much of a cost."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from reports.errors import CostError
from reports.money.cost.item import CostItem, sizes_of, titled, total, weigh

S, M = ("red", "S"), ("red", "M")
MADE = {S: 2, M: 3}


def test_all_bear_alike_unless_told() -> None:
    """10.00 over five garments: three of them bear 6."""
    item = CostItem("set-up", "set-up", Decimal("10.00"))
    assert item.portion({M: 3}, MADE) == 6
    assert item.portion(MADE, MADE) == 10


def test_by_what_each_takes() -> None:
    """An S takes 1 m, an M 2 m, of eight metres in all: the two S bear a quarter."""
    item = CostItem("cloth", "cloth", Decimal("10.00"), shares={S: Fraction(1), M: Fraction(2)})
    assert item.portion({S: 2}, MADE) == Fraction(5, 2)
    assert item.portion({S: 2}, MADE) + item.portion({M: 3}, MADE) == 10


def test_what_nobody_uses_is_borne_by_all() -> None:
    """Bought all the same, it is charged to each garment alike."""
    item = CostItem("lining", "lining", Decimal("10.00"), shares={S: Fraction(0)})
    assert item.portion({S: 2}, MADE) == 4


def test_no_cost_is_below_nothing() -> None:
    """The item is named."""
    with pytest.raises(CostError, match="'rebate'"):
        CostItem("rebate", "other", Decimal("-1"))


def test_sums() -> None:
    """Garments, what they take, sizes made, and a name with its colours."""
    assert total(MADE) == 5
    assert weigh({S: Fraction(1, 2)}, MADE) == 1
    assert sizes_of({S: 2, M: 0, ("blue", "S"): 1}) == ["S"]
    assert titled("cloth", ("red", "blue")) == "cloth, red, blue"
