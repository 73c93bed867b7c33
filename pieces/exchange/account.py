"""The account of a file of patterns: each thing that stands in it, and the one place where it ended.

A reader opens a source for each entity of the file and enters what the entity holds: outlines, lines, points, words.
Every stage hands the numbers of its entries on. At the end each entry stands in one place, and `Account.check` counts.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, get_args

import numpy as np

from pieces.errors import AccountError
from pieces.exchange.decided.mark import NO_MARK, LineMark

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from pieces.piece.piece import Piece

    Floats = NDArray[np.float64]

EntryKind = Literal["closed outline", "open line", "point", "words", "other"]

EntryRole = Literal[
    "piece",
    "cutout",
    "sew line",
    "inner line",
    "notch",
    "drill point",
    "grain",
    "fold",
    "frame",
    "words read",
    "said again",
    "placement",
    "not drawn",
    "another size",
    "hidden",
    "left out",
]
"""Where a thing can end. ``"said again"`` is what the standard draws twice; ``"placement"`` says where a block lies or
how often; ``"not drawn"`` is a template that is placed nowhere, or an outline that only clips others."""

Sureness = Literal["told", "legend", "named", "placed", "guessed"]
"""How it is known what a thing is: a person said so, a legend does, the file names it, by its place, or guessed."""

PLURALS = {"piece": "pieces", "cutout": "cutouts", "sew line": "sew lines", "inner line": "inner lines"} | {
    "notch": "notches", "drill point": "drill points", "grain": "grain", "fold": "fold", "frame": "frames",
    "closed outline": "closed outlines", "open line": "open lines", "point": "points", "words": "words",
    "placement": "placements",
}  # fmt: skip


@dataclass(eq=False)
class FileEntry:
    """One thing of a file.

    Parameters
    ----------
    number
        Its number in the account, from 1.
    source
        The entity of the file that it belongs to.
    kind
        What it is.
    called
        What the file says of it, such as ``LINE on layer 'cut'``.
    points
        Where it lies, shape (n, 2), mm, in the file's frame; None for what has no place.
    outline
        Of lines that were joined to a closed outline, the number of its first; 0 for others.
    place, of, why
        Where it ended; of which piece it is; and, of what is not used, the reason.
    mark
        Its layer, colour and line style in the file.
    sure, reason
        How it is known what it is, and by what; empty if nothing was noted.
    is_fixed
        Whether it ended before anybody could decide on it: the file hides it, or it cannot be drawn.
    """

    number: int
    source: int
    kind: EntryKind
    called: str
    points: Floats | None = None
    outline: int = 0
    place: EntryRole | None = None
    of: str = ""
    why: str = ""
    mark: LineMark = NO_MARK
    sure: Sureness | None = None
    reason: str = ""
    is_fixed: bool = False


class Account:
    """Everything that stands in a file."""

    def __init__(self) -> None:
        self.entries: list[FileEntry] = []
        self._sources: list[str] = []
        self._uncounted = 0
        self._expected: int | None = None

    def expect(self, sources: int) -> None:
        """How many entities the file has, counted in another way than by reading them."""
        self._expected = sources

    @property
    def sources(self) -> int:
        """How many entities that are counted beforehand were opened so far."""
        return len(self._sources) - self._uncounted

    def source(self, called: str, *, is_counted: bool = True) -> int:
        """Open a source: an entity of the file; `is_counted` says whether `expect` counts it as well."""
        self._uncounted += not is_counted
        self._sources.append(called)
        return len(self._sources) - 1

    def enter(
        self,
        source: int,
        kind: EntryKind,
        called: str = "",
        points: Floats | None = None,
        mark: LineMark = NO_MARK,
    ) -> int:
        """Enter something that a source holds; its number."""
        number = len(self.entries) + 1
        self.entries.append(FileEntry(number, source, kind, called or self._sources[source], points, mark=mark))
        return number

    def because(self, numbers: Iterable[int], sure: Sureness, reason: str = "", *, is_last: bool = False) -> None:
        """Note how it is known what things are; what was noted first stays, but for the last word."""
        for number in numbers:
            entry = self.entries[number - 1]
            if entry.sure is None or is_last:
                entry.sure, entry.reason = sure, reason

    def is_told(self, numbers: Iterable[int]) -> bool:
        """Whether a person said what any of some things are."""
        return any(self.entries[number - 1].sure == "told" for number in numbers)

    def drawn(self, numbers: Iterable[int]) -> list[Floats]:
        """The lines of some things as they are drawn; what is closed ends where it begins."""
        those = (self.entries[number - 1] for number in numbers)
        return [np.vstack([each.points, each.points[: each.kind == "closed outline"]])
                for each in those if each.points is not None]  # fmt: skip

    def put(self, numbers: Iterable[int], place: EntryRole, of: str = "", why: str = "") -> None:
        """Say where things ended.

        Raises
        ------
        AccountError
            If one of them stands somewhere already.
        """
        for number in numbers:
            entry = self.entries[number - 1]
            if entry.place is not None:
                raise AccountError(f"'{entry.called[:60]}' (number {number}) ends as {entry.place} and as {place}")
            entry.place, entry.of, entry.why = place, of, why

    def take_back(self, numbers: Iterable[int]) -> None:
        """Note that things which were left out are not."""
        for number in numbers:
            entry = self.entries[number - 1]
            if entry.place == "left out":
                entry.place, entry.of, entry.why = None, "", ""

    def fix(self) -> None:
        """Note that no decision changes what ended so far."""
        for entry in self.entries:
            entry.is_fixed = entry.is_fixed or entry.place is not None

    def joined(self, numbers: Sequence[int]) -> None:
        """Note that lines are one closed outline."""
        for number in numbers:
            self.entries[number - 1].outline = numbers[0]

    def count(self, place: EntryRole) -> int:
        """How many things ended in a place."""
        return sum(entry.place == place for entry in self.entries)

    def check(self, pieces: Sequence[Piece]) -> None:
        """Count once more.

        Raises
        ------
        AccountError
            If an entity of the file has no entry or an entry no place, or what is told of the pieces is not in them.
        """
        if self._expected is not None and self._expected != self.sources:
            raise AccountError(f"the file has {self._expected} entities, but {self.sources} were read")
        entered = {entry.source for entry in self.entries}
        for source, called in enumerate(self._sources):
            if source not in entered:
                raise AccountError(f"the account does not mention '{called[:60]}'")
        for entry in self.entries:
            if entry.place is None:
                raise AccountError(f"'{entry.called[:60]}' (number {entry.number}) ends nowhere")
            if entry.place == "left out" and not entry.why:
                raise AccountError(f"'{entry.called[:60]}' (number {entry.number}) is left out without a reason")
        told = {entry.of for entry in self.entries if entry.place == "piece"}
        there = {piece.name for piece in pieces}
        if self.entries and told != there:
            odd = sorted(told ^ there)[0]
            raise AccountError(
                f"the piece '{odd}' is {'in the account but was not read' if odd in told else 'not in the account'}"
            )

    def outlines(self, place: str) -> str:
        """In words, how many outlines the lines in a place make together; empty if each is one."""
        those = [entry for entry in self.entries if entry.place == place]
        many = len({entry.outline or -entry.number for entry in those})
        return f" (lines of {many} outline{'s' * (many > 1)})" if place == "piece" and many < len(those) else ""

    def places(self) -> dict[str, int]:
        """How many things ended in each place, in the order of `EntryRole`; none that are empty."""
        many = Counter(entry.place for entry in self.entries)
        return {place: many[place] for place in get_args(EntryRole) if many[place]}

    def kinds(self) -> dict[str, int]:
        """How many things there are of each kind."""
        many = Counter(entry.kind for entry in self.entries)
        return {kind: many[kind] for kind in get_args(EntryKind) if many[kind]}

    def lines(self) -> list[str]:
        """The account for people: what was there, where it ended, and that the counts agree."""
        if not self.entries:
            return []
        there, ended = self.kinds(), self.places()
        total = len(self.entries)
        said = [f"{place} {count}{self.outlines(place)}" for place, count in ended.items()]
        return [
            f"in the file: {total}: " + ", ".join(_many(count, kind) for kind, count in there.items()),
            f"accounted for: {sum(ended.values())}: " + ", ".join(said),
        ]

    def listed(self) -> list[str]:
        """Every thing by its number: what it is, where it ended, and why."""
        lines = []
        for entry in self.entries:
            of = f" '{entry.of}'" if entry.of else ""
            why = f": {entry.why}" if entry.why else ""
            lines.append(f"{entry.number:6}  {entry.kind}, {entry.called}: {entry.place}{of}{why}")
        return lines

    def to_plain(self) -> dict[str, Any]:
        """The account for machines; things that are alike in all are one row, with their numbers."""
        rows: dict[tuple[str, ...], list[int]] = {}
        for entry in self.entries:
            key = (entry.kind, entry.called, str(entry.place), entry.of, entry.why)
            rows.setdefault(key, []).append(entry.number)
        keys = ("kind", "called", "place", "piece", "why")
        return {
            "total": len(self.entries),
            "kinds": self.kinds(),
            "places": self.places(),
            "rows": [dict(zip(keys, key, strict=True)) | {"numbers": numbers} for key, numbers in rows.items()],
        }


def _many(count: int, word: str) -> str:
    return f"{count} {word if count == 1 else PLURALS.get(word, word)}"
