"""Formulas of the living workbook: sums, products, ROUND, ROUNDUP and IF, which every suite reads alike.

Spreadsheets count in binary numbers. A billionth is added before cents are rounded, and taken off before steps are
rounded up, so that a half cent and a whole step stay what they are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

TINY = "1E-9"

AGAIN = "plan again"
"""Stands where a figure rests on a plan that was made for other quantities."""


def cents(amount: str) -> str:
    """The nearest cent of an amount of 0 or more, halves up."""
    return f"ROUND({amount}+{TINY},2)"


def steps_up(amount: str, step: str) -> str:
    """The least whole number of steps that holds an amount."""
    return f"ROUNDUP(MAX(0,({amount})/({step})-{TINY}),0)"


def whole_units(quantity: str, step: str, size: float) -> str:
    """A quantity in whole steps; `size` is mm of a unit: a need is taken to the nearest thousandth of a mm."""
    if size == 1:
        whole = steps_up(f"ROUND({quantity},3)", step)
        return whole if step == "1" else f"{whole}*{step}"
    return f"{steps_up(f'ROUND(({quantity})*{size!r},3)', f'{step}*{size!r}')}*{step}"


def if_planned(differs: str, formula: str) -> str:
    """A formula that holds only for the quantities planned; `differs` is how many of them are others."""
    return f'IF({differs}=0,{formula},"{AGAIN}")'


def holding(quantity: str, usual: str, breaks: Sequence[tuple[str, str]]) -> str:
    """The price that holds for a quantity: of breaks, from least to most, the last that it reaches."""
    found = usual
    for least, price in breaks:
        found = f"IF({quantity}+{TINY}>={least},{price},{found})"
    return found
