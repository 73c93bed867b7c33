"""The small file beside imported pieces: what a drawing does not say of them, written, changed by hand, read again."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from math import hypot
from typing import TYPE_CHECKING, Any, get_args

from pieces.data import toml_data
from pieces.errors import FormatError, LengthError, unknown_key
from pieces.exchange.decided.decisions import LineDecision, decisions_of
from pieces.exchange.imported import number
from pieces.exchange.sketch.sketch import Sketch, printable_name
from pieces.exchange.source import read_source
from pieces.piece.piece import MOST_TILT, Grain, Material

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces.exchange.account import EntryRole
    from pieces.exchange.imported import Imported, ImportReport, Unit

FACTS = (
    *("material", "cut", "pair", "grain", "lies", "tilt", "fold", "allowance", "label", "leave_out"),
    *("grain_line", "fold_line"),
)
"""What may be said of a piece."""

SIDES = ("left", "right", "none")

MOST_CUT = 10_000

LEAST_LINE = 5.0
"""Two points that give a direction are no nearer to one another, mm."""

HEAD = """\
# What is known about the pieces in {file}. Correct it, then import again: this file is read, not overwritten.
#
#   name        what the piece is called; `in_file` is what the file calls it, and stays
#   material    "shell", "rib", "lining" or "interfacing"
#   cut, pair   how many a garment needs; pair = true if half of them are mirrored
#   grain       degrees counter-clockwise from the x axis, as you look at read.svg; leave it out for the grainline
#               drawn in the file
#   fold        "left" or "right": that side of the piece lies on a fold, as it stands in pieces.svg with its grain
#               upright (not in read.svg); "none" for no fold; leave it out for the mirror line drawn in the file
#   lies, tilt  "straight", "cross" or "free"; degrees off the grain that do no harm
#   allowance   such as "10 mm": seam allowance to add all round, if the outline is the sew line
#   label       a word for the cutter
#   leave_out   true if the piece is not wanted
#   grain_line, fold_line   in place of grain and fold: two points in mm, such as [[0, 0], [0, 300]]
#
# Points have x to the right and y upwards. In an SVG file y runs down: there write each y with the other sign.
#
# What a single line is stands in a [[line]]: numbers = [12] as in import.txt and read.svg, role = "sew line" (or
# piece, inner line, cutout, grain, fold, notch, drill point, frame, left out). With at and long, as the page writes
# them, its lines are found again in a file that was changed.
"""


@dataclass(frozen=True)
class Sidecar:
    """What is written of pieces, by the names the file calls them.

    Parameters
    ----------
    file
        What errors call it.
    facts
        For each piece, the keys of `FACTS` that are given, and ``name``.
    unit
        What a bare number of an allowance counts; None if each needs its unit.
    lines
        What is decided of single lines of the file.
    by_line
        For pieces that are named by a line of theirs and not by their name, the same as `facts`.
    """

    file: str
    facts: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    unit: Unit | None = None
    lines: tuple[LineDecision, ...] = ()
    by_line: tuple[tuple[LineDecision, Mapping[str, Any]], ...] = ()

    def applied(self, sketches: Sequence[Sketch], report: ImportReport) -> list[Sketch]:
        """The pieces after what is written of them, without those that are not wanted.

        Raises
        ------
        FormatError
            If it names a piece that is not there, or says something of it that cannot be.
        """
        known = {sketch.name: sketch for sketch in sketches}
        for name in self.facts:
            if name not in known:
                there = ", ".join(list(known)[:10]) + (", …" if len(known) > 10 else "")
                raise FormatError(f"{self.file}: the file has no piece '{name}'; it has {there}")
        kept = []
        by_line = self._of_lines(sketches, report)
        for sketch in sketches:
            facts = by_line.get(id(sketch), self.facts.get(sketch.name))
            if facts is None and not self.facts:
                pass
            elif facts is None:
                report.remarks.append(f"'{sketch.name}' is not in {self.file}; taken as drawn")
            elif facts.get("leave_out") is True:
                report.remarks.append(f"'{sketch.name}' is left out by {self.file}")
                for _, numbers in sketch.taken:
                    report.account.put(numbers, "left out", sketch.name, f"it is left out by {self.file}")
                continue
            else:
                _apply(sketch, facts, self.unit, f"{self.file}: '{sketch.name}'")
                _draw(sketch, facts, report)
            kept.append(sketch)
        return kept

    def tell_unused(self, sketches: Sequence[Sketch], report: ImportReport) -> None:
        """Tell of what is said of pieces by a line that is a cut line no more, for another decision made it none."""
        pieces = {n for sketch in sketches for kind, those in sketch.taken if kind == "piece" for n in those}
        for line, facts in self.by_line:
            numbers = line.found(report.account.entries)
            if numbers and not pieces & set(numbers) and "leave_out" not in facts:
                said = ", ".join(facts)
                report.guess(f"{self.file}: {line.words()} is not a cut line of a piece, so its {said} are not used")

    def _of_lines(self, sketches: Sequence[Sketch], report: ImportReport) -> dict[int, Mapping[str, Any]]:
        """What is said of pieces by their lines."""
        of: dict[int, Sketch] = {n: s for s in sketches for kind, those in s.taken if kind == "piece" for n in those}
        found: dict[int, dict[str, Any]] = {}
        said_of_own: list[tuple[Sketch, Mapping[str, Any]]] = []
        for line, facts in self.by_line:
            numbers = line.found(report.account.entries)
            alike = next((nest for nest in report.nests if numbers and numbers[0] in nest), frozenset(numbers[:1]))
            sketch = next((of[number] for number in (*numbers[:1], *sorted(alike)) if number in of), None)
            if sketch is None:
                said = ", ".join(facts)
                report.guess(f"{self.file}: {line.words()} is not a cut line of a piece, so its {said} are not used")
            elif numbers[0] in of:
                said_of_own.append((sketch, facts))
            else:  # of another size of the piece: what is said of the one that is read counts more
                found.setdefault(id(sketch), {}).update(facts)
        known: dict[int, dict[str, Any]] = {id(sketch): dict(self.facts.get(sketch.name, {})) for sketch in sketches}
        for sketch, facts in said_of_own:
            for key, value in facts.items():
                if known[id(sketch)].setdefault(key, value) != value:
                    report.guess(f"{self.file}: '{sketch.name}': its {key} is said twice: the last is used")
            known[id(sketch)] |= facts
        return {which: found.get(which, {}) | facts for which, facts in known.items() if which in found or facts}


def _apply(sketch: Sketch, facts: Mapping[str, Any], unit: Unit | None, where: str) -> None:
    for key, value in facts.items():
        problem = _wrong(key, value)
        if problem:
            raise FormatError(f"{where}: {key} = {json.dumps(value, default=str)[:40]}: {problem}")
    if "allowance" in facts:
        try:
            sketch.allowance = number(str(facts["allowance"]), unit)
        except LengthError as error:
            raise FormatError(f"{where}: allowance: {error}") from error
        if not 0 <= sketch.allowance <= 100:
            raise FormatError(f"{where}: an allowance must be from 0 to 100 mm, not {sketch.allowance:g} mm")
    sketch.name = printable_name(facts.get("name", sketch.name), sketch.name)
    sketch.material, sketch.cut = facts.get("material", sketch.material), facts.get("cut", sketch.cut)
    sketch.pair = facts.get("pair", sketch.pair)
    if "grain" in facts:
        sketch.turn = float(facts["grain"])
    sketch.lies, sketch.tilt = facts.get("lies", sketch.lies), float(facts.get("tilt", sketch.tilt))
    sketch.side, sketch.label = facts.get("fold", sketch.side), printable_name(facts.get("label", sketch.label), "")
    if sketch.pair and sketch.cut % 2:
        raise FormatError(f"{where}: half of {sketch.cut} cannot be mirrored: write an even number, or pair = false")
    if (sketch.pair and sketch.side in ("left", "right")) or (facts.get("pair") and "fold_line" in facts):
        raise FormatError(f"{where} is cut on a fold, so left and right are alike: write pair = false")


def _draw(sketch: Sketch, facts: Mapping[str, Any], report: ImportReport) -> None:
    """Take the grainline and the fold that are given by two points in place of those drawn."""
    for key, place in (("grain_line", "grain"), ("fold_line", "fold")):
        if key not in facts:
            continue
        (x0, y0), (x1, y1) = facts[key]
        gone: EntryRole = "grain" if place == "grain" else "fold"
        report.account.put(sketch.release(gone), "left out", sketch.name, f"its {place} is given elsewhere")
        setattr(sketch, place, ((float(x0), float(y0)), (float(x1), float(y1))))
        if place == "grain":
            sketch.turn, sketch.whole = None, None
        else:
            sketch.side, sketch.whole = "", None


def _is_line(value: Any) -> bool:
    """Whether a value is two points that are apart."""
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(isinstance(p, list) and len(p) == 2 and all(_is_place(v) for v in p) for p in value)
        and hypot(value[0][0] - value[1][0], value[0][1] - value[1][1]) >= LEAST_LINE
    )


def _is_place(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6


def _wrong(key: str, value: Any) -> str:
    """What is wrong with a value; empty if nothing is."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    ways: dict[str, tuple[bool, str]] = {
        "material": (value in get_args(Material), f"write one of {', '.join(get_args(Material))}"),
        "cut": (is_number and isinstance(value, int) and 1 <= value <= MOST_CUT, f"write 1 to {MOST_CUT}"),
        "pair": (isinstance(value, bool), "write true or false"),
        "leave_out": (isinstance(value, bool), "write true or false"),
        "grain": (is_number and -360 <= value <= 360, "write degrees, -360 to 360"),
        "lies": (value in get_args(Grain), f"write one of {', '.join(get_args(Grain))}"),
        "tilt": (is_number and 0 <= value <= MOST_TILT, f"write degrees, 0 to {MOST_TILT:g}"),
        "fold": (value in SIDES, f"write one of {', '.join(SIDES)}"),
        "name": (isinstance(value, str) and bool(value.strip()), "write a name in quotes"),
        "label": (isinstance(value, str), "write words in quotes"),
        "grain_line": (_is_line(value), "write two points, mm, such as [[0, 0], [0, 300]]"),
        "fold_line": (_is_line(value), "write two points, mm, such as [[0, 0], [0, 300]]"),
    }
    fits, what = ways.get(key, (True, ""))
    return "" if fits else what


def read_sidecar(path: Path) -> Sidecar:
    """The small file beside imported pieces.

    Raises
    ------
    FormatError
        If it is no TOML, or has an unknown key.
    """
    return sidecar_of(toml_data(read_source(path, "toml"), path.name, FormatError), path.name)


def sidecar_of(data: Mapping[str, Any], file: str) -> Sidecar:
    """The same out of plain data.

    Raises
    ------
    FormatError
        If it has an unknown key, or an entry is none.
    """
    entries = data.get("piece", [])
    for key in data:
        if key not in ("piece", "line"):
            raise FormatError(f"{file}: {unknown_key(key, ['piece', 'line'])}")
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise FormatError(f"{file}: write [[piece]], in double brackets, on its own line, with its keys below")
    facts: dict[str, dict[str, Any]] = {}
    by_line: list[tuple[LineDecision, Mapping[str, Any]]] = []
    for entry in entries:
        if "line" in entry and "in_file" not in entry:
            one = {"numbers": [entry["line"]]} | {key: entry[key] for key in ("at", "long") if key in entry}
            (line,) = decisions_of([one], f"{file}, [[piece]] of line {str(entry['line'])[:20]}")
            _refuse_unknown(entry, ("line", "at", "long", "name", *FACTS), f"{file}: {line.words()}")
            by_line.append((line, {key: value for key, value in entry.items() if key not in ("line", "at", "long")}))
            continue
        name = entry.get("in_file", entry.get("name"))
        if not isinstance(name, str) or name in facts:
            raise FormatError(f"{file}: each [[piece]] needs its own in_file: the name of the piece in the file")
        _refuse_unknown(entry, ("in_file", "name", *FACTS), f"{file}: '{name}'")
        facts[name] = {key: value for key, value in entry.items() if key != "in_file"}
    return Sidecar(file, facts, lines=decisions_of(data.get("line", []), file), by_line=tuple(by_line))


def _refuse_unknown(entry: Mapping[str, Any], known: Sequence[str], where: str) -> None:
    for key in entry:
        if key not in known:
            raise FormatError(f"{where}: {unknown_key(key, list(known))}")


def sidecar_text(data: Mapping[str, Any]) -> str:
    """Plain data of the small file as TOML: pieces by a line of theirs or by their names, and single lines."""
    entries = []
    for kind in ("piece", "line"):
        for entry in data.get(kind, []):
            said = (f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in dict(entry).items())
            entries.append("\n".join([f"[[{kind}]]", *said]) + "\n")
    return "\n".join(entries)


def write_sidecar(imported: Imported, file: str, grain: float, *, fold_is_drawn: bool = True) -> str:
    """The text of the small file, as far as the pieces were understood.

    Parameters
    ----------
    grain
        Where it was taken to run, in pieces that have none drawn.
    fold_is_drawn
        Whether the file itself shows which edge lies on a fold.
    """
    entries = [HEAD.format(file=printable_name(file, "the file"))]
    for piece in imported.pieces:
        facts = {
            "in_file": imported.called.get(piece.name, piece.name),
            "name": piece.name,
            "material": piece.material,
            "cut": piece.cut,
            "pair": piece.mirrored_pair,
        }
        facts |= {"grain": grain} if piece.name in imported.guessed else {}
        facts |= {"lies": piece.lies} if piece.lies != "straight" else {}
        facts |= {"tilt": piece.tilt} if piece.tilt else {}
        facts |= {"label": piece.label} if piece.label else {}
        lines = [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in facts.items()]
        fold = piece.fold_edge
        if fold is not None:
            side = "left" if float(fold.points[0, 1]) < float(piece.cut_line[:, 1].mean()) else "right"
            lines.append(
                f"# fold: on its {side} side in pieces.svg, as drawn in the file"
                if fold_is_drawn
                else f'fold = "{side}"'
            )
        entries.append("\n".join(["[[piece]]", *lines]) + "\n")
    return "\n".join(entries)
