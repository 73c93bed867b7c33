"""What is decided of single lines of a file, by their numbers in its account: what they are, and corrected points.

In the small file beside the pieces::

    [[line]]
    numbers = [12, 13]        # as in import.txt and read.svg: all lines of one outline
    at = [10.5, 200]          # where the first of them begins, and how long they are together, mm: so that they are
    long = 812.4              # found again where they have other numbers, and no others are taken for them
    role = "sew line"
    moved = [[10.5, 200, 12, 201]]      # corrected: from where to where, mm
    size = "M"                # of outlines that are sizes of one piece
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from itertools import product
from math import hypot, isfinite
from typing import TYPE_CHECKING, Any, Literal, Protocol, get_args

import numpy as np

from pieces.errors import FormatError, unknown_key

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

LineRole = Literal[
    "piece", "sew line", "inner line", "cutout", "grain", "fold", "notch", "drill point", "frame", "left out"
]
"""What a line can be said to be. A ``"frame"`` stands round pieces or beside them, such as a test square."""

ROLE_WORDS: dict[str, str] = {"piece": "cut line", "drill point": "hole"}
"""How people call a role, where that is not its name."""

NEAR = 0.05
"""A line that was decided on begins this near to where it began, mm."""

SAME_LENGTH = 0.1
"""Lines that were decided on are as long as they were, but for so much, mm."""

MOST_DECIDED, MOST_MOVED = 5000, 2000

KEYS = ("numbers", "at", "long", "role", "moved", "size")


class EnteredLine(Protocol):
    """A line as the account has it."""

    @property
    def number(self) -> int:
        """Its number."""

    @property
    def kind(self) -> str:
        """What it is."""

    @property
    def points(self) -> NDArray[np.float64] | None:
        """Where it lies, mm."""


@dataclass(frozen=True)
class LineDecision:
    """What is decided of the lines of one outline.

    Parameters
    ----------
    numbers
        Their numbers in the account.
    at
        Where the first of them begins, mm; None if it is not said.
    long
        How long they are together, mm; None if it is not said.
    role
        What they are; None for as read.
    moved
        Corrected points: from where to where, mm.
    size
        The name of its size, where outlines over one another are sizes.
    """

    numbers: tuple[int, ...]
    at: tuple[float, float] | None = None
    long: float | None = None
    role: LineRole | None = None
    moved: tuple[tuple[float, float, float, float], ...] = ()
    size: str = ""

    def found(self, entries: Sequence[EnteredLine]) -> tuple[int, ...]:
        """The numbers that the lines have now; none if there are no such lines any more, or it is not certain.

        They have other numbers only if they begin where they did, are as long as they were, and no others are so.
        """
        if self._fits(entries, 0):
            return self.numbers
        if self.at is None or self.long is None:
            return ()
        first = self.numbers[0]
        offs = [one.number - first for one in entries if self._begins(one) and self._fits(entries, one.number - first)]
        return tuple(number + offs[0] for number in self.numbers) if len(offs) == 1 else ()

    def _fits(self, entries: Sequence[EnteredLine], off: int) -> bool:
        """Whether the lines with these numbers, counted on by `off`, are those that were decided on."""
        if self.numbers[-1] + off > len(entries) or self.numbers[0] + off < 1:
            return False
        those = [entries[number + off - 1] for number in self.numbers]
        if not self._begins(those[0]) or any(one.points is None or one.kind == "words" for one in those):
            return False
        return self.long is None or abs(sum(map(length_of, those)) - self.long) <= SAME_LENGTH

    def _begins(self, entry: EnteredLine) -> bool:
        if entry.points is None or entry.kind == "words":
            return False
        if self.at is None:
            return True
        (x, y), (there_x, there_y) = self.at, entry.points[0].tolist()
        return hypot(x - there_x, y - there_y) <= NEAR

    def missing(self, entries: Sequence[EnteredLine]) -> str:
        """Why it is not used, where its lines are not found."""
        if self.at is None:
            gone = [str(number) for number in self.numbers if number > len(entries)]
            return (
                f"the file has no line {' and no line '.join(gone[:3])}"
                if gone
                else "what has that number there is not a line"
            )
        long = "" if self.long is None else f" and is {self.long:.1f} mm long"
        one = "no line, or no single one," if self.long is not None else "no line with that number"
        return f"it no longer fits the file, which has {one} that begins at ({self.at[0]:g}, {self.at[1]:g}){long}"

    def words(self) -> str:
        """What errors and reports call it."""
        return f"line {self.numbers[0]}" if len(self.numbers) == 1 else f"lines {self.numbers[0]} and on"


def length_of(entry: EnteredLine) -> float:
    """How long a line is as it is drawn, mm; 0 of a point."""
    if entry.points is None or len(entry.points) < 2:
        return 0.0
    return float(np.hypot(*np.diff(entry.points, axis=0).T).sum())


def decisions_of(entries: Any, where: str) -> tuple[LineDecision, ...]:
    """What plain data say of lines.

    Raises
    ------
    FormatError
        If an entry is none: it is named.
    """
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise FormatError(f"{where}: write [[line]], in double brackets, on its own line, with its keys below")
    if len(entries) > MOST_DECIDED:
        raise FormatError(f"{where}: {len(entries)} lines are decided on: at most {MOST_DECIDED} can be")
    found = tuple(_decision(entry, f"{where}, [[line]] {n}") for n, entry in enumerate(entries, 1))
    _refuse_two(found, where)
    return found


def _refuse_two(decisions: Sequence[LineDecision], where: str) -> None:
    """Refuse two entries that say different things of one line: neither would be certain."""
    first: dict[tuple[int, str], tuple[int, object]] = {}
    for number, one in enumerate(decisions, 1):
        said = {key: value for key in ("role", "moved", "size") if (value := getattr(one, key))}
        for line, (key, value) in product(one.numbers, said.items()):
            known, other = first.setdefault((line, key), (number, value))
            if other != value:
                raise FormatError(
                    f"{where}: [[line]] {known} and {number} both say the {key} of line {line}, each another: keep one"
                )


def _decision(entry: dict[str, Any], where: str) -> LineDecision:
    for key in entry:
        if key not in KEYS:
            raise FormatError(f"{where}: {unknown_key(key, list(KEYS))}")
    numbers = entry.get("numbers")
    if (
        not isinstance(numbers, list)
        or not 1 <= len(numbers) <= MOST_MOVED
        or not all(isinstance(n, int) and not isinstance(n, bool) and 0 < n < 10**7 for n in numbers)
    ):
        raise FormatError(f"{where}: numbers must be those of its lines, such as [12]")
    role, size = entry.get("role"), entry.get("size", "")
    if role is not None and role not in get_args(LineRole):
        raise FormatError(f"{where}: role = {json.dumps(role)[:40]} is none of {', '.join(get_args(LineRole))}")
    if not isinstance(size, str) or len(size) > 40:
        raise FormatError(f"{where}: size must be a name in quotes")
    at, moved, long = entry.get("at"), entry.get("moved", []), entry.get("long")
    if at is not None and not _are_numbers(at, 2):
        raise FormatError(f"{where}: at must be two numbers, mm")
    if long is not None and not (_are_numbers([long], 1) and long >= 0):
        raise FormatError(f"{where}: long must be a length, mm")
    if not isinstance(moved, list) or len(moved) > MOST_MOVED or not all(_are_numbers(one, 4) for one in moved):
        raise FormatError(f"{where}: moved must be four numbers a point: x and y of before, x and y of now, mm")
    place = (float(at[0]), float(at[1])) if at is not None else None
    points = tuple((float(a), float(b), float(c), float(d)) for a, b, c, d in moved)
    total = None if long is None else float(long)
    return LineDecision(tuple(sorted(set(numbers))), place, total, role, points, size.strip())


def _are_numbers(value: Any, many: int) -> bool:
    return (
        isinstance(value, list)
        and len(value) == many
        and all(isinstance(v, int | float) and not isinstance(v, bool) and isfinite(v) and abs(v) < 1e6 for v in value)
    )


def decisions_text(decisions: Iterable[LineDecision]) -> str:
    """The same as TOML."""
    entries = []
    for one in decisions:
        lines = ["[[line]]", f"numbers = {list(one.numbers)}"]
        if one.at is not None:
            lines.append(f"at = {list(one.at)}")
        lines += [f"long = {one.long}"] if one.long is not None else []
        lines += [f"role = {json.dumps(one.role)}"] if one.role else []
        lines += [f"moved = {json.dumps([list(move) for move in one.moved])}"] if one.moved else []
        lines += [f"size = {json.dumps(one.size, ensure_ascii=False)}"] if one.size else []
        entries.append("\n".join(lines) + "\n")
    return "\n".join(entries)
