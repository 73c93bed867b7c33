"""A day, as TOML has it or in quotes."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

from pydantic import BeforeValidator


def _day(value: Any) -> Any:
    try:
        return date.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        raise ValueError(f"write a day as year, month, day, such as 2026-12-18, not '{value}'") from None


Day = Annotated[date, BeforeValidator(_day)]
