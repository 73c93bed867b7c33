"""The rule table beside a graded DXF: how far a point moves in each size, by the number of its rule.

That grading stands in an ASCII file of its own, beside a DXF that holds the sample size, is said where ASTM D6673 tells
its scope. The keys of the lines, the words ``RULE: DELTA``, the sign ``#`` before a number in the DXF, and that moves
count from the sample size, are given here from memory.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.errors import FormatError
from pieces.exchange.source import read_source
from pieces.exchange.standard import UNITS
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from pieces.piece.curve import Point

VERSION = "ASTM D6673-10"

MOST_SIZES, MOST_RULES, FARTHEST = 100, 100_000, 10_000.0
"""Of a table that is read; no point moves farther, mm."""

_SCALE = {"mm": 1.0, "in": INCH}

_RULE = re.compile(r"RULE\s*:\s*DELTA\s+(\d{1,9})", re.IGNORECASE)

_MARK = re.compile(r"#\s*(\d{1,9})")


@dataclass(frozen=True)
class RuleTable:
    """Rules of grading, each with a move for each size.

    Parameters
    ----------
    name
        What the DXF calls it.
    sizes
        In order, from the smallest.
    sample
        The size that is drawn: nothing moves in it.
    rules
        By number: along the grain and across it in each size, counted from the sample size, mm.
    unit
        What its file was in, ``"mm"`` or ``"in"``; empty if it is of no file.
    """

    name: str
    sizes: tuple[str, ...]
    sample: str
    rules: Mapping[int, tuple[Point, ...]]
    unit: str = ""

    def move(self, number: int, size: str) -> Point:
        """How far a point with the rule of that number moves in a size, mm; FormatError if there is none."""
        if number not in self.rules:
            raise FormatError(f"the rule table '{self.name}' has no rule {number}")
        return self.rules[number][self.sizes.index(size)]

    def text(self) -> str:
        """The file, in mm."""
        head = (
            VERSION,
            "AUTHOR: ellwand",
            "UNITS: METRIC",
            f"GRADE RULE TABLE: {self.name}",
            f"NUMBER OF SIZES: {len(self.sizes)}",
            f"SIZE LIST: {' '.join(self.sizes)}",
            f"SAMPLE SIZE: {self.sample}",
        )
        lines = [*head]
        for number, moves in self.rules.items():
            lines += [f"RULE: DELTA {number}", " ".join(f"{x + 0.0:.4f},{y + 0.0:.4f}" for x, y in moves)]
        return "\n".join([*lines, "END", ""])


def rule_mark(number: int) -> str:
    """What stands at a point in the DXF that has a rule."""
    return f"# {number}"


def rule_of(text: str) -> int | None:
    """The number of the rule that a text gives a point; None for any other text."""
    found = _MARK.fullmatch(text.strip())
    return int(found[1]) if found else None


def read_rule_table(path: Path) -> RuleTable:
    """A rule table.

    Raises
    ------
    FormatError
        If it cannot be read, or something in it makes no sense: the line is named.
    """
    head, rules = _parts(read_source(path, "rul"), path.name)
    unit = UNITS.get(head.get("UNITS", "").upper())
    if unit is None:
        raise FormatError(f"{path.name}: UNITS must be ENGLISH or METRIC, not {head.get('UNITS', 'left out')!r}")
    sizes = tuple(head.get("SIZE LIST", "").split())
    if not 1 <= len(set(sizes)) == len(sizes) <= MOST_SIZES:
        raise FormatError(f"{path.name}: SIZE LIST must name 1 to {MOST_SIZES} sizes, each once")
    if head.get("NUMBER OF SIZES", "") not in ("", str(len(sizes))):
        raise FormatError(
            f"{path.name}: NUMBER OF SIZES is {head['NUMBER OF SIZES']!r}, but SIZE LIST names {len(sizes)}"
        )
    sample = head.get("SAMPLE SIZE", "")
    if sample not in sizes:
        raise FormatError(f"{path.name}: SAMPLE SIZE must be one of {', '.join(sizes)}, not {sample!r}")
    moves = {n: _moves(words, len(sizes), unit, f"{path.name}, rule {n}") for n, words in rules.items()}
    return RuleTable(head.get("GRADE RULE TABLE", path.stem), sizes, sample, moves, unit)


def _parts(text: str, name: str) -> tuple[dict[str, str], dict[int, list[str]]]:
    """The keys at the head, and the words of each rule."""
    head: dict[str, str] = {}
    rules: dict[int, list[str]] = {}
    words: list[str] | None = None
    for number, line in enumerate(text.splitlines(), 1):
        said = line.strip()
        if said.upper() == "END":
            return head, rules
        if found := _RULE.fullmatch(said):
            if int(found[1]) in rules:
                raise FormatError(f"{name}, line {number}: rule {int(found[1])} stands there twice")
            if len(rules) == MOST_RULES:
                raise FormatError(f"{name} holds more than {MOST_RULES} rules")
            words = rules.setdefault(int(found[1]), [])
        elif words is not None:
            words += said.replace(",", " ").split()
        elif ":" in said:
            key, _, value = said.partition(":")
            head.setdefault(" ".join(key.upper().split()), value.strip())
    raise FormatError(f"{name} is cut short: its last line must be END")


def _moves(words: list[str], sizes: int, unit: str, where: str) -> tuple[Point, ...]:
    if len(words) != 2 * sizes:
        raise FormatError(f"{where}: needs {2 * sizes} numbers, two for each of {sizes} sizes, and has {len(words)}")
    try:
        values = [float(word) * _SCALE[unit] for word in words]
    except ValueError as error:
        raise FormatError(f"{where}: {error}") from error
    if not all(math.isfinite(value) and abs(value) <= FARTHEST for value in values):
        raise FormatError(f"{where}: a point moves at most {FARTHEST / 1000:g} m")
    return tuple(zip(values[::2], values[1::2], strict=True))
