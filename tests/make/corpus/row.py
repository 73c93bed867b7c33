"""What is known of a file of the corpus: who wrote it, what is on it, and what must come of reading it."""

from __future__ import annotations

import json
import sys
from dataclasses import asdict, dataclass, field
from typing import Any, Literal

Marked = Literal["named", "lines", "none"]
"""Whether a file says what its marks are, or shows them as lines alone, or has none."""


@dataclass
class Row:
    """A file of the corpus.

    Parameters
    ----------
    file, program
        Its name, and the program that wrote it with its version; of several, one after the other.
    sheet
        The sheet of `known.SHEETS` that is drawn on it.
    asked
        How it is read: choices of `ReadingChoices`.
    first
        If it must be refused without what is asked, or be read with a doubt told: words of that.
    refused
        If it must be refused for good: words of that refusal.
    told
        Words that the report must hold.
    names
        Whether the pieces are called as on the sheet.
    marks
        What of the marks on the sheet the file keeps.
    near
        How far an outline may lie from the truth, mm: what the program itself rounds, flattens or traces.
    only
        The pieces that are there, if not all of the sheet are.
    cuts
        How many of a piece are cut, where words say it.
    is_upside
        Whether the program itself turns the drawing upside down: it leaves y as it is where it runs the other way.
    hole
        As what a hole is read: ``"hole"``, or where a file does not say it, ``"sew"`` or ``"line"``; that is told.
    """

    file: str
    program: str
    sheet: str
    asked: dict[str, Any] = field(default_factory=dict)
    first: str = ""
    refused: str = ""
    told: tuple[str, ...] = ()
    names: bool = False
    marks: Marked = "none"
    near: float = 0.15
    only: tuple[str, ...] = ()
    cuts: dict[str, int] = field(default_factory=dict)
    hole: str = "hole"
    is_upside: bool = False

    def plain(self) -> dict[str, Any]:
        """As it is kept: without what is as usual."""
        usual = asdict(Row(self.file, self.program, self.sheet))
        return {key: value for key, value in asdict(self).items() if value != usual[key] or key in _ALWAYS}


_ALWAYS = ("file", "program", "sheet")


def say(rows: list[Row]) -> None:
    """Write rows where the maker reads them: to standard output, a line each."""
    for row in rows:
        sys.stdout.write("ROW " + json.dumps(row.plain()) + "\n")
