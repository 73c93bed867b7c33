"""Answers that a notebook shows as their report."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.sheets.html import html_part

if TYPE_CHECKING:
    from collections.abc import Callable

    from reports.sheets.report import Report

_WRITTEN_BY: dict[type, Callable[[Any], Report]] = {}


class Shown:
    """An answer that a notebook shows as its report, once what writes the report is imported: see `show_as`."""

    def _repr_html_(self) -> str | None:
        write = _WRITTEN_BY.get(type(self))
        return html_part(write(self)) if write else None


def show_as(kind: type[Shown], write: Callable[[Any], Report]) -> None:
    """Let a notebook show all answers of a kind as the report that `write` makes of one."""
    _WRITTEN_BY[kind] = write
