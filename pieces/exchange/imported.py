"""What was read from a file of patterns: pieces, and a report of what was understood, mended and left out."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, get_args

from pieces.errors import FormatError, LengthError
from pieces.exchange.account import Account
from pieces.exchange.decided.mark import FileMarks
from pieces.units import INCH, parse_length

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    import numpy as np
    from numpy.typing import NDArray

    from pieces.exchange.decided.decisions import LineDecision
    from pieces.exchange.decided.legend import LineLegend
    from pieces.piece.curve import Point
    from pieces.piece.pieces import PieceSet

    Floats = NDArray[np.float64]

Unit = Literal["mm", "cm", "m", "in", "ft", "yd", "px"]

UNIT_WORDS = "mm, cm, m, in, ft, yd or px"

PIXELS = 96.0
"""To the inch, by CSS 2.1, 4.3.2."""

JOIN = 0.5
"""Ends of lines that lie this near to one another are joined unless asked otherwise, mm: common practice, no source."""

WIDEST_JOIN = 20.0
"""A wider gap is no slip of the pen, mm."""

MOST_APART = 5
"""Outlines without a name that are left out for one reason: more of them are counted together."""

_NAMELESS = re.compile(r"an outline of (\d+) × (\d+) mm")

LEAST_SIZE, MOST_SIZE = 20.0, 3000.0
"""A piece that measures less or more than this is probably read in the wrong unit, mm: common practice, no source."""


@dataclass(frozen=True)
class ReadingChoices:
    """How a file is to be read, where it does not say so itself.

    Parameters
    ----------
    units
        What a bare number counts.
    join
        Ends of lines that lie this near to one another are joined, mm.
    size
        Of a file of several sizes, the one to read.
    grain
        The grainline of pieces that have none, degrees from the file's x axis towards its y axis; None to guess it.
    strict
        Refuse a file that would have to be mended, of which something would be left out, or anything guessed.
    per_inch
        How many pixels an inch has.
    lines
        What a person decided of single lines.
    legend
        What lines are by their layer, colour and style, whatever the file; lines that are decided on come first.
    legends
        Where none is given, those to choose from: the one for the program that wrote the file is used.
    """

    units: Unit | None = None
    join: float = JOIN
    size: str | None = None
    grain: float | None = None
    strict: bool = False
    per_inch: float = PIXELS
    lines: tuple[LineDecision, ...] = ()
    legend: LineLegend | None = None
    legends: tuple[LineLegend, ...] = ()

    def __post_init__(self) -> None:
        if self.units is not None and self.units not in get_args(Unit):
            raise FormatError(f"units: {self.units!r} is not one of {', '.join(get_args(Unit))}")
        if not 1 <= self.per_inch <= 10_000:
            raise FormatError(f"write 1 to 10000 pixels to the inch, not {self.per_inch:g}")
        if not 0 <= self.join <= WIDEST_JOIN:
            raise FormatError(f"lines are joined across gaps of 0 to {WIDEST_JOIN:g} mm, not {self.join:g} mm")
        if not -360 <= self.angle <= 360:
            raise FormatError(f"the grain angle must be from -360 to 360 degrees, not {self.angle:g}")

    @property
    def angle(self) -> float:
        """Where the grain of pieces without a grainline is taken to run, degrees."""
        return self.grain or 0.0


@dataclass(frozen=True)
class Repair:
    """Something that was mended: of which piece, what, and by how much, mm."""

    piece: str
    what: str
    mm: float


@dataclass(frozen=True)
class LeftOut:
    """Something that was not taken, and why."""

    what: str
    why: str


@dataclass
class ImportReport:
    """What came of reading a file.

    Parameters
    ----------
    form
        The form of the file, in words.
    units
        What a number in the file counts, and how that is known.
    repairs, left_out, remarks
        What was mended, what was not taken, and what else is to be known.
    guesses
        What was assumed because the file does not say it.
    account
        Everything in the file, and where it ended.
    words
        What was read from words: of which piece, the words, and what they say.
    marks
        Which program wrote the file, as far as it says so, and its layers.
    sizes
        Of outlines that are sizes of one piece, the names of all sizes, smallest first.
    size, sized, nests
        The one of them that is read; the sizes by the number of an outline's first line; and these numbers for each
        set of outlines that are sizes of one piece.
    mirrored
        Those sets over which an outline lies that is like a mirror image of one of their sizes.
    sizes_are_counted
        Whether sizes have no names, and not all pieces have as many: the same number may not be the same size.
    legend
        The legend that was used, if there was one.
    alarms
        What may be taken wrongly, by the legend or by its shape: the number of an outline, and what is to be looked at.
    is_drawing
        Whether lines were made into pieces; else the file lists its pieces, each with its outline.
    """

    form: str
    units: str = ""
    repairs: list[Repair] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    guesses: list[str] = field(default_factory=list)
    account: Account = field(default_factory=Account)
    words: list[tuple[str, str, str]] = field(default_factory=list)
    marks: FileMarks = field(default_factory=FileMarks)
    sizes: tuple[str, ...] = ()
    size: str = ""
    sized: dict[int, str] = field(default_factory=dict)
    nests: list[frozenset[int]] = field(default_factory=list)
    mirrored: list[frozenset[int]] = field(default_factory=list)
    sizes_are_counted: bool = False
    legend: LineLegend | None = None
    alarms: list[tuple[int, str]] = field(default_factory=list)
    is_drawing: bool = False

    def mended(self, piece: str, what: str, mm: float) -> None:
        """Note a repair."""
        self.repairs.append(Repair(piece, what, mm))

    def leave(self, what: str, why: str, numbers: Iterable[int] = ()) -> None:
        """Note what is left out, and its numbers in the account."""
        self.left_out.append(LeftOut(what, why))
        self.account.put(numbers, "left out", why=why)

    def guess(self, said: str) -> None:
        """Note what the file does not say, and how it is taken; a strict reading refuses it."""
        self.guesses.append(said)
        self.remarks.append(said)

    def guess_once(self, said: str) -> None:
        """Note a guess that holds for several things, once."""
        if said not in self.guesses:
            self.guess(said)

    def unsure(self) -> list[str]:
        """Everything for which a strict reading refuses a file, in words."""
        return [
            *(f"'{r.piece}': {r.what}" for r in self.repairs),
            *(f"{o.what}: {o.why}" for o in self.left_out),
            *self._rest("left out", is_decided=False),
            *self._rest("hidden"),
            *self.guesses,
        ]

    def _rest(self, place: Literal["left out", "hidden"], *, is_decided: bool = True) -> list[str]:
        """What the account alone says of things in a place: counted by their reason, and called by their names.

        Where `is_decided` is False, without what a person or a legend put there.
        """
        said = {out.why for out in self.left_out}
        names: dict[str, Counter[str]] = {}
        for entry in self.account.entries:
            if not is_decided and entry.sure in ("told", "legend"):
                continue
            if entry.place == place and not (place == "left out" and entry.why in said):
                names.setdefault(entry.why, Counter())[entry.called] += 1
        found = []
        for why, called in names.items():
            listed = ", ".join(f"{name}{f' ({times} times)' if times > 1 else ''}" for name, times in called.items())
            found.append(f"{called.total()}: {why}: {shortened(listed)}")
        return found

    def left(self) -> list[str]:
        """Everything that was left out or is hidden, and why."""
        said = [
            f"{out.what}: {out.why}" + (f" ({times} times)" if times > 1 else "")
            for out, times in Counter(self.left_out).items()
        ]
        known = {out.why for out in self.left_out}
        rest: dict[tuple[str, str], list[int]] = {}
        for entry in self.account.entries:
            if entry.place == "hidden" or (entry.place == "left out" and entry.why not in known):
                rest.setdefault((entry.called, entry.why), []).append(entry.number)
        for (called, why), numbers in rest.items():
            listed = shortened(", ".join(map(str, numbers)), 40)
            said.append(f"{listed}: {called}: {why}")
        return said

    def refuse_if_unsure(self) -> None:
        """Raise FormatError if anything was mended, left out, hidden or guessed: the first, and how many more."""
        first = self.unsure()
        if first:
            more = f" (and {len(first) - 1} more)" if len(first) > 1 else ""
            raise FormatError(f"--strict refuses this file: {first[0]}{more}; leave out --strict to see every note")

    def lines(self) -> list[str]:
        """The report for people, a line a finding; what was left out for the same reason is counted."""
        return [
            f"read as {self.form}; {self.units}",
            *(f"mended: '{r.piece}': {r.what}" + (f", {r.mm:.3g} mm" if r.mm else "") for r in self.repairs),
            *(f"left out: {said}" for said in self._left_together()),
            *(f"left out: {said}" for said in self._rest("left out")),
            *(f"hidden: {said}" for said in self._rest("hidden")),
            *(f"{'guessed' if remark in self.guesses else 'note'}: {remark}" for remark in self.remarks),
            *(f"words: '{text}' on '{piece}': {said}" for piece, text, said in self.words),
            *self.account.lines(),
        ]

    def _left_together(self) -> list[str]:
        """What was left out, and why; many outlines without a name that have one reason are counted together."""
        counted = Counter(self.left_out)
        sizes: dict[str, list[tuple[float, float]]] = {}
        for out, times in counted.items():
            if found := _NAMELESS.fullmatch(out.what):
                sizes.setdefault(out.why, []).extend([(float(found[1]), float(found[2]))] * times)
        said, told = [], set[str]()
        for out, times in counted.items():
            those = sizes.get(out.why, []) if _NAMELESS.fullmatch(out.what) else []
            if len(those) <= MOST_APART:
                said.append(f"{out.what}: {out.why}" + (f" ({times} times)" if times > 1 else ""))
            elif out.why not in told:
                told.add(out.why)
                wide, high = max(those, key=lambda sides: sides[0] * sides[1])
                said.append(f"{len(those)} outlines, the largest of {wide:g} × {high:g} mm: {out.why}")
        return said

    def to_plain(self) -> dict[str, Any]:
        """The report for machines."""
        return {
            "form": self.form,
            "units": self.units,
            "repairs": [{"piece": r.piece, "what": r.what, "mm": r.mm} for r in self.repairs],
            "left_out": [{"what": out.what, "why": out.why} for out in self.left_out],
            "hidden": self._rest("hidden"),
            "guesses": list(self.guesses),
            "remarks": list(self.remarks),
            "words": [{"piece": piece, "text": text, "read": said} for piece, text, said in self.words],
            "account": self.account.to_plain(),
        }


def shortened(words: str, most: int = 160) -> str:
    """Words as they are, or cut off at the end."""
    return words if len(words) <= most else words[: most - 2].rstrip() + " …"


class DrawnPiece(NamedTuple):
    """A piece as it lies in its file, before points of its outline are corrected; mm.

    `numbers` are those of its cut line in the account; `called` is what the file calls it; `angle` is where its grain
    runs, degrees from the x axis; `grain` and `fold` are the ends of these lines where they are known, `side` the side
    that is said to lie on a fold; `read` is what was read of it before anybody decided: name, cut, pair and material.
    """

    outline: Floats
    numbers: tuple[int, ...]
    called: str
    angle: float
    grain_is_guessed: bool
    grain: tuple[Point, Point] | None = None
    fold: tuple[Point, Point] | None = None
    side: str = ""
    read: Mapping[str, Any] = MappingProxyType({})


@dataclass(frozen=True, eq=False)
class Imported:
    """The pieces of a file, with the report of reading it.

    Parameters
    ----------
    called
        What the file calls each piece.
    guessed
        Pieces whose grain neither the file nor anyone told.
    drawn
        Each piece as it lies in the file.
    """

    pieces: PieceSet
    report: ImportReport
    called: dict[str, str] = field(default_factory=dict)
    guessed: frozenset[str] = frozenset()
    drawn: dict[str, DrawnPiece] = field(default_factory=dict)


@cache
def scale_of(unit: Unit, per_inch: float = PIXELS) -> float:
    """Millimetres in a unit."""
    return INCH / per_inch if unit == "px" else parse_length(f"1 {unit}")


def told_unit(unit: str | None, how: str, asked: str | None, says: str | None) -> str:
    """The unit that is read, and how it is known: asked for, whatever the file says, or else so.

    Parameters
    ----------
    unit, how
        The unit, and how it is known where it was not asked for; None if each number has its own.
    says
        What the file itself says.
    """
    if asked is None:
        return f"{unit}, {how}" if unit else "as written at each"
    return f"{asked}, as asked" + (f"; the file itself says {says}" if says and says != asked else "")


def number(text: str, unit: Unit | None) -> float:
    """A coordinate as people write it: ``6 1/2``, ``-3.5``, ``6 1/2 in``; mm.

    Raises
    ------
    LengthError
        If it cannot be read, or has no unit where none is known.
    """
    written = text.strip()
    sign, written = (-1.0, written[1:]) if written.startswith("-") else (1.0, written)
    if unit == "px" and re.fullmatch(r"[\d.]+(e[+-]?\d+)?", written):
        return sign * float(written) * scale_of("px")
    if unit is not None and written and (written[-1].isdigit() or written[-1] in ".½⅓⅔¼¾⅛⅜⅝⅞"):
        written += f" {unit}"
    try:
        return sign * parse_length(written)
    except LengthError as error:
        raise LengthError(text, str(error).partition(": ")[2]) from error
