"""The known pieces, in mm, y upwards; and the sheets on which they are drawn."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from tests.make.corpus.flat import UNMOVED, Matrix, Step, moved, product, scaled, steps_placed, turned

if TYPE_CHECKING:
    from collections.abc import Sequence

Part = Literal["cut", "hole", "grain", "notch", "internal", "drill", "fold", "words", "frame"]

PAGE = (600.0, 450.0)
"""Width and height of every sheet, mm."""


@dataclass(frozen=True)
class Drawn:
    """A line, a circle or words of a sheet.

    Parameters
    ----------
    part
        What it is: a piece's outline is ``"cut"``.
    of
        The name of the piece that it belongs to.
    steps
        Its line; of words, where they stand.
    size
        Of words, how large they are written, mm.
    """

    part: Part
    of: str
    steps: tuple[Step, ...]
    is_closed: bool = False
    words: str = ""
    size: float = 9.0


@dataclass(frozen=True)
class Known:
    """A piece with all that is drawn on it, in its own frame."""

    name: str
    outline: tuple[Step, ...]
    hole: tuple[Step, ...] = ()
    grain: tuple[Step, ...] = ()
    notches: tuple[tuple[Step, ...], ...] = ()
    internal: tuple[tuple[Step, ...], ...] = ()
    drills: tuple[Step, ...] = ()
    fold: tuple[Step, ...] = ()

    def drawn(self, matrix: Matrix = UNMOVED, parts: Sequence[Part] = ("cut", "hole")) -> list[Drawn]:
        """What a sheet shows of it: some of its parts."""
        every: list[tuple[Part, tuple[Step, ...], bool]] = [("cut", self.outline, True)]
        every += [("hole", self.hole, True)] if self.hole else []
        every += [("grain", self.grain, False)] if self.grain else []
        every += [("fold", self.fold, False)] if self.fold else []
        every += [("notch", line, False) for line in self.notches]
        every += [("internal", line, False) for line in self.internal]
        every += [("drill", (point,), True) for point in self.drills]
        return [
            Drawn(part, self.name, tuple(steps_placed(steps, matrix)), closed)
            for part, steps, closed in every
            if part in parts
        ]


@dataclass
class Sheet:
    """What is drawn on a page: pieces, their marks, and what is none of them.

    Parameters
    ----------
    names
        Whether each piece has its own name.
    placings
        For each piece the matrix it is drawn by; a program that can is asked to draw it by just that.
    """

    pieces: list[tuple[Known, Matrix]]
    parts: tuple[Part, ...] = ("cut", "hole")
    more: list[Drawn] = field(default_factory=list)

    def lines(self) -> list[Drawn]:
        """All that is on it."""
        return [*self.more, *(line for known, matrix in self.pieces for line in known.drawn(matrix, self.parts))]


def line(*points: tuple[float, float]) -> tuple[Step, ...]:
    """A line through points."""
    return tuple(("L" if number else "M", *point) for number, point in enumerate(points))


FRONT = Known(
    "front",
    (
        *line((0, 0), (180, 0)),
        ("C", 172, 60, 176, 150, 170, 230),
        ("C", 140, 240, 138, 300, 150, 350),
        ("L", 70, 375),
        ("C", 60, 320, 30, 310, 0, 310),
        ("L", 0, 0),
    ),
    grain=line((60, 40), (60, 260)),
    notches=(line((172, 115), (164, 115)), line((100, 0), (100, 7))),
    internal=(line((20, 30), (120, 30)), (*line((30, 60)), ("C", 40, 90, 90, 90, 110, 70))),
    drills=(("E", 120, 180, 2, 2, 0),),
    fold=line((0, 5), (0, 300)),
)
"""Half of a top, its centre on the left; one of its curves is hollow."""

SLEEVE = Known(
    "sleeve",
    (
        *line((0, 0), (150, 0), (190, 130)),
        ("C", 165, 140, 150, 215, 105, 215),
        ("C", 50, 215, 20, 150, -30, 120),
        ("L", 0, 0),
    ),
    grain=line((85, 20), (85, 190)),
    notches=(line((105, 215), (105, 207)), line((60, 0), (60, 8)), line((110, 0), (110, 8))),
)
"""A sleeve with a cap that is not symmetric."""

POCKET = Known(
    "pocket",
    (
        *line((0, 15), (0, 100), (90, 100), (90, 15)),
        ("A", 75, 15, 15, 0, -90),
        ("L", 15, 0),
        ("A", 15, 15, 15, -90, -180),
    ),
    grain=line((45, 15), (45, 80)),
    internal=(line((10, 85), (80, 85)),),
)
"""Rounded by two quarters of a circle."""

OVAL = Known("oval", (("E", 0, 0, 70, 40, 30),))
"""An ellipse that lies askew."""

QUARTER = Known(
    "quarter",
    (*line((40, 0), (160, 0)), ("A", 0, 0, 160, 0, 90), ("L", 0, 40), ("A", 0, 0, 40, 90, 0)),
    grain=line((50, 50), (100, 100)),
)
"""A quarter of a circle skirt."""

RING = Known("ring", (("E", 0, 0, 60, 60, 0),), hole=(("E", 0, 0, 35, 35, 0),))
"""A facing: a circle with a hole in it."""

BODICE = Known(
    "bodice",
    line((0, 0), (70, 0), (85, 60), (100, 0), (160, 0), (150, 140), (90, 120), (20, 150), (0, 0)),
    grain=line((30, 20), (30, 130)),
    drills=(("E", 85, 66, 2, 2, 0),),
)
"""Lines alone, with a dart cut into it."""

WAVE = Known("wave", (*line((0, 0), (120, 0), (120, 60)), ("C", 80, 100, 40, 20, 0, 60), ("L", 0, 0)))
"""Its upper edge turns twice."""

BAND = Known("band", line((0, 0), (200, 0), (200, 45), (0, 45), (0, 0)), grain=line((20, 22), (180, 22)))
"""A rectangle."""

PIECES = {known.name: known for known in (FRONT, SLEEVE, POCKET, OVAL, QUARTER, RING, BODICE, WAVE, BAND)}

MARKS: tuple[Part, ...] = ("cut", "hole", "grain", "notch", "internal", "drill", "fold")


def drafted() -> list[tuple[Known, Matrix]]:
    """Pieces that this project drafted, at half their size."""
    kept = json.loads((Path(__file__).parents[2] / "pieces" / "exchange" / "corpus" / "drafted.json").read_text())
    places = {"back": moved(20, 410), "sleeve": moved(340, 160), "skirt": moved(410, 430)}
    found = []
    for row in kept:
        lines = {key: tuple(tuple(step) for step in row[key]) for key in ("outline", "grain", "fold")}
        internal = tuple(tuple(tuple(step) for step in each) for each in row["internal"])
        known = Known(row["name"], lines["outline"], grain=lines["grain"], fold=lines["fold"], internal=internal)
        found.append((known, product(places[row["name"]], scaled(0.5, 0.5))))
    return found


def words(of: str, text: str, x: float, y: float, size: float = 9) -> Drawn:
    """Words that stand on a piece, or beside all."""
    return Drawn("words", of, (("M", x, y),), words=text, size=size)


def sizes() -> list[tuple[Known, Matrix]]:
    """Three sizes of the sleeve over one another, from its lower left corner."""
    return [
        (Known(name, tuple(steps_placed(SLEEVE.outline, scaled(grown, grown)))), moved(60, 40))
        for name, grown in (("S", 0.86), ("M", 0.93), ("L", 1.0))
    ]


FRAME = Drawn("frame", "", line((10, 10), (590, 10), (590, 440), (10, 440), (10, 10)), True)

TITLE = Drawn("frame", "", line((430, 10), (590, 10), (590, 50), (430, 50), (430, 10)), True)

SHEETS: dict[str, Sheet] = {
    "plain": Sheet(
        [(FRONT, moved(30, 30)), (SLEEVE, moved(260, 40)), (POCKET, moved(470, 60)), (OVAL, moved(400, 340))]
    ),
    "lines": Sheet([(BODICE, moved(30, 30)), (BAND, moved(230, 40))]),
    "marked": Sheet([(FRONT, moved(30, 30)), (SLEEVE, moved(260, 40)), (POCKET, moved(480, 60))], MARKS),
    "curves": Sheet(
        [(QUARTER, moved(30, 30)), (RING, moved(290, 110)), (OVAL, moved(470, 120)), (WAVE, moved(40, 250))]
    ),
    "turned": Sheet(
        [
            (SLEEVE, product(moved(280, 100), turned(30), scaled(-1, 1))),
            (POCKET, product(moved(420, 120), turned(-75), scaled(1.2, 1.2))),
            (BODICE, product(moved(60, 280), turned(8), scaled(1.5, 0.5))),
        ]
    ),
    "sizes": Sheet(sizes()),
    "drafted": Sheet(drafted(), ("cut", "grain", "internal", "fold")),
    "framed": Sheet([(FRONT, moved(40, 40)), (BODICE, moved(300, 200))], more=[FRAME, TITLE]),
    "titled": Sheet([(FRONT, moved(30, 30)), (BODICE, moved(400, 40))], more=[words("", "FRONT 1", 300, 300, 60)]),
    "words": Sheet(
        [(BAND, moved(40, 40)), (BODICE, moved(300, 200)), (WAVE, moved(60, 200))],
        more=[words("band", "cut 2", 90, 60), words("bodice", "cut 1 pair", 340, 240), words("wave", "wave", 90, 220)],
    ),
}
