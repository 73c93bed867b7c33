"""Cells of the living workbook by what they are, and formats of money."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sheets.living import NUMBER, PLAIN, LiveCell

if TYPE_CHECKING:
    from decimal import Decimal

    from reports.sheets.living import CellRole, Limit


def money_format(currency: str, decimals: str = "00") -> str:
    """The format of an amount with its currency: a sign before it, a code after it."""
    sign = currency.replace('"', "")
    digits = f"#,##0.{decimals}"
    if not sign:
        return digits
    return f'{digits}" {sign}"' if sign.isalpha() else f'"{sign}"{digits}'


def rate_format(currency: str) -> str:
    """The format of a price, which may have parts of cents."""
    return money_format(currency, "00##")


def words(text: str) -> LiveCell:
    """Words."""
    return LiveCell(text)


def typed(value: float | Decimal | str, limit: Limit, number: str = PLAIN) -> LiveCell:
    """An input."""
    return LiveCell(value, "input", number, limit=limit)


def fixed(value: float | Decimal, number: str = NUMBER) -> LiveCell:
    """A figure of the plan."""
    return LiveCell(value, "plan", number)


def worked(value: float | Decimal | str, formula: str, number: str = NUMBER, role: CellRole = "worked") -> LiveCell:
    """What a formula comes to."""
    return LiveCell(value, role, number, formula)
