"""The answers of `import` and `trace`: the pieces that were read, and the account of everything in the file."""

from __future__ import annotations

from typing import Literal

from pieces.exchange.account import EntryKind, EntryRole
from pieces.photo.fitted import RunKind
from pieces.photo.mark import MarkKind, MarkSure
from reports.schema.draft import DraftAnswer
from reports.schema.sealed import Sealed


class RepairAnswer(Sealed):
    """Something that was mended, by how many mm."""

    piece: str
    what: str
    mm: float


class LeftOutAnswer(Sealed):
    """Something that was not taken, and why."""

    what: str
    why: str


class WordsAnswer(Sealed):
    """Words on a piece, and how they were read."""

    piece: str
    text: str
    read: str


class EntryAnswer(Sealed):
    """Things of the file that are alike, by their numbers, and where they ended."""

    kind: EntryKind
    called: str
    place: EntryRole
    piece: str
    why: str
    numbers: list[int]


class AccountAnswer(Sealed):
    """Everything in the file, counted by what it is and by where it ended."""

    total: int
    kinds: dict[str, int]
    places: dict[str, int]
    rows: list[EntryAnswer]


class ImportReportAnswer(Sealed):
    """What came of reading the file."""

    form: str
    units: str
    repairs: list[RepairAnswer]
    left_out: list[LeftOutAnswer]
    hidden: list[str]
    guesses: list[str]
    remarks: list[str]
    words: list[WordsAnswer]
    account: AccountAnswer


class LearnedAnswer(Sealed):
    """What a legend learned: new entries, those that say something else now, and marks for which no rule holds."""

    rules: list[str]
    changes: list[str]
    without: list[str]


class ImportAnswer(Sealed):
    """The pieces, and the report; what there is to say of grade rules, and what was learned, if that was asked for."""

    schema: Literal[4]
    pieces: DraftAnswer
    report: ImportReportAnswer
    sizes: list[str]
    learned: LearnedAnswer | None


class MeasuredAnswer(Sealed):
    """A length to hold against a tape."""

    what: str
    mm: float


class PaperMarkAnswer(Sealed):
    """A mark on the paper: what it is taken for, how sure that is, why, and where it lies, mm, by the sheet."""

    kind: MarkKind
    sure: MarkSure
    why: str
    is_closed: bool
    points: list[tuple[float, float]]


class TracedAnswer(Sealed):
    """How far a traced outline may be off, at most points and at the worst; and how far its sides are off the edge."""

    piece: str
    usual_mm: float
    worst_mm: float
    fitted_mm: float
    sides: dict[RunKind, int]
    measured: list[MeasuredAnswer]
    marks: list[PaperMarkAnswer]


class PhotoFileAnswer(Sealed):
    """A photo: how far the camera leaned, how far what it is measured by was missed, and how it fits other photos.

    `sheets` are the letters of the reference sheets in it. `edge_mm` is null where no other photo shows the same edge.
    """

    file: str
    sheets: list[str]
    tilt_degrees: float
    missed_px: float
    missed_mm: float
    edge_mm: float | None
    overlap_mm: float


class PhotoAnswer(Sealed):
    """A photo, or several of one piece, and what was traced in them."""

    files: list[PhotoFileAnswer]
    pieces: list[TracedAnswer]


class TraceAnswer(Sealed):
    """The pieces traced in photos, the report, and how sure each outline is."""

    schema: Literal[3]
    pieces: DraftAnswer
    report: ImportReportAnswer
    photos: list[PhotoAnswer]
