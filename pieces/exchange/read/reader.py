"""A file of patterns read into pieces, whatever its form, with what is written about them beside it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.decided.mark import FileMarks
from pieces.exchange.imported import LEAST_SIZE, MOST_SIZE, DrawnPiece, Imported, ImportReport, ReadingChoices
from pieces.exchange.settling import settle
from pieces.exchange.sketch.folding import fold_by_words
from pieces.exchange.sketch.heads import top_by_heads
from pieces.exchange.sketch.listed import decide_sketches
from pieces.exchange.sketch.moved import correct, tell_unused
from pieces.exchange.sketch.sketch import piece_of
from pieces.piece.pieces import PieceSet
from pieces.units import INCH

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.own.sidecar import Sidecar
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.piece.piece import Piece

MOST_DOUBTS = 5
"""Pieces that are asked about by name."""

FORMS = ("dxf", "svg", "csv", "json", "geojson", "toml")

OPPOSITE = 20.0
"""Grainlines that are so near to running the other way do, degrees."""


def import_pieces(path: Path, asked: ReadingChoices | None = None, sidecar: Sidecar | None = None) -> Imported:
    """Read a file of patterns.

    Parameters
    ----------
    path
        DXF, SVG, CSV or JSON outlines, or points measured with a ruler in TOML: told by the end of its name.
    asked
        How to read it where it does not say so itself.
    sidecar
        What is written about its pieces in the small file beside it.

    Raises
    ------
    FormatError
        If the file cannot be read, or holds no piece; with ``strict``, if anything had to be mended or left out.
    """
    asked = asked or ReadingChoices()
    kind = path.suffix.lower().lstrip(".")
    if kind not in FORMS:
        raise FormatError(
            f"{path.name or path}: a pattern file ends in {', '.join(FORMS)}, not in {path.suffix or 'nothing'!r}"
        )
    if asked.size is not None and kind == "toml":
        raise FormatError(f"{path.name}: it has no size {asked.size!r}: a TOML holds one size of each piece")
    if sidecar is not None and sidecar.lines:
        asked = replace(asked, lines=(*asked.lines, *sidecar.lines))
    sketches, report = _sketches(path, kind, asked)
    report.marks = report.marks if report.marks.form else FileMarks(kind)
    return finish(sketches, report, path, asked, sidecar)


def _sketches(path: Path, kind: str, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    if kind == "dxf":
        from pieces.exchange.read.dxf import sketch_dxf

        return sketch_dxf(path, asked)
    if kind == "svg":
        from pieces.exchange.read.svg import sketch_svg

        return sketch_svg(path, asked)
    if kind == "toml":
        from pieces.exchange.read.traced import sketch_traced

        return sketch_traced(path, asked)
    from pieces.exchange.read.outlines import sketch_csv, sketch_json

    return (sketch_csv if kind == "csv" else sketch_json)(path, asked)


def finish(
    sketches: list[Sketch], report: ImportReport, path: Path, asked: ReadingChoices, sidecar: Sidecar | None = None
) -> Imported:
    """Pieces of sketches, each with a name of its own, after what is written about them."""
    if sidecar is not None and not asked.lines:  # what was traced from photos comes here as it is
        asked = replace(asked, lines=sidecar.lines)
    sketches = [copy for sketch in sketches for copy in _of_each_material(sketch)]
    _tell_apart(sketches)
    called = {id(sketch): sketch.name for sketch in sketches}
    read = {id(sketch): _read(sketch) for sketch in sketches}
    wholes = {id(sketch): sketch.whole for sketch in sketches}
    if sidecar is not None:
        sketches = sidecar.applied(sketches, report)
    sketches = sketches if report.is_drawing else _decided(sketches, report, asked, sidecar)
    outlines = {id(sketch): sketch.outline for sketch in sketches}
    for sketch in sketches:
        correct(sketch, asked.lines, report)
        fold_by_words(sketch, asked, report)
    tell_unused(sketches, asked.lines, report)
    guessed = [sketch.name for sketch in sketches if sketch.grain is None and sketch.turn is None]
    top_by_heads(sketches, report)
    _tell_head_to_foot(sketches, report)
    made, first, drawn = [], [], {}
    for sketch in sketches:
        numbers = tuple(number for place, those in sketch.taken if place == "piece" for number in those)
        if (piece := _made(sketch, asked, report)) is not None:
            _tell_allowance(piece, wholes.get(id(sketch)), report)
            if not sketch.is_copy:
                drawn[piece.name] = DrawnPiece(
                    outlines[id(sketch)],
                    numbers,
                    called.get(id(sketch), sketch.name),
                    sketch.angle(asked.angle),
                    sketch.name in guessed and asked.grain is None,
                    sketch.grain if sketch.turn is None else None,
                    sketch.fold,
                    sketch.side,
                    read.get(id(sketch), {}),
                )
            made.append((piece, called.get(id(sketch), sketch.name)))
            first += [] if sketch.is_copy else [piece]
    _tell_without_grain([piece.name for piece, _ in made if piece.name in guessed], asked, report)
    report.account.check(first)
    if asked.strict:
        report.refuse_if_unsure()
    if not made:
        raise FormatError(f"{path.name} has no piece to cut{_why_none(report)}")
    pieces = [piece for piece, _ in made]
    _doubt_unit(pieces, report, has_unit=kind_has_unit(path))
    names = {piece.name: name for piece, name in made}
    return Imported(PieceSet(path.stem, tuple(pieces)), report, names, frozenset(guessed), drawn)


def _why_none(report: ImportReport) -> str:
    """Why there is no piece: a legend or a person took outlines for something else, or the first thing left out."""
    entries = report.account.entries
    if said := next((words for number, words in report.alarms if entries[number - 1].sure == "legend"), ""):
        return f": {said}; if so, change that entry of the legend, or give no legend for this file"
    told = next((one for one in entries if one.sure == "told" and one.kind == "closed outline"), None)
    if told is not None:
        return (
            f': you said that number {told.number}, {told.called}, is none: give it role = "piece" in the small file,'
            " or take that [[line]] out"
        )
    return next((f": {said}" for said in report.unsure()), "")


def _decided(
    sketches: list[Sketch], report: ImportReport, asked: ReadingChoices, sidecar: Sidecar | None
) -> list[Sketch]:
    """Sketches of a file that lists its pieces, after what is decided of them."""
    if asked.legend is not None:
        report.remarks.append("the legend is not used: it is for drawings, and this file lists its pieces")
    decided = decide_sketches(sketches, asked, report)
    if sidecar is not None:
        sidecar.tell_unused(decided, report)
    return decided


def _read(sketch: Sketch) -> dict[str, Any]:
    """What the file says of a piece, which is shown where something else is decided."""
    return {"name": sketch.name, "cut": sketch.cut, "pair": sketch.pair, "material": sketch.material}


def _tell_without_grain(names: list[str], asked: ReadingChoices, report: ImportReport) -> None:
    """Tell of pieces of which nothing says how their grain runs."""
    if names:
        more = f" and {len(names) - 1} more" if len(names) > 1 else ""
        said = f"'{names[0]}'{more}: no grainline is drawn; taken at {asked.angle:g} degrees to the x axis"
        report.guess(said) if asked.grain is None else report.remarks.append(said)


def _tell_head_to_foot(sketches: list[Sketch], report: ImportReport) -> None:
    """Tell of grainlines that are drawn from foot to head, if others are drawn from head to foot: a nap sees it."""
    drawn = [
        (sketch.name, sketch.angle(0.0)) for sketch in sketches if sketch.grain is not None and sketch.turn is None
    ]
    turned = [name for name, angle in drawn if abs((angle - drawn[0][1]) % 360 - 180) < OPPOSITE]
    if turned:
        names = ", ".join(f"'{name}'" for name in turned[:10]) + (", …" if len(turned) > 10 else "")
        report.remarks.append(
            f"the grainline is drawn the other way on {names} than on '{drawn[0][0]}': with a nap they lie head to"
            f" foot; to turn one round, write its grain, such as grain = {drawn[0][1] % 360:g}"
        )


def _made(sketch: Sketch, asked: ReadingChoices, report: ImportReport) -> Piece | None:
    """The piece of a sketch; what it took of the file is accounted for."""
    before = len(report.left_out)
    piece = piece_of(sketch, asked.angle, report)
    why = "; ".join(out.why for out in report.left_out[before:])
    settle(sketch, piece, report, why)
    return piece


def _tell_allowance(piece: Piece, whole: Piece | None, report: ImportReport) -> None:
    """Tell of a piece whose allowances the file gives, and which is made anew of its cut line alone."""
    if whole is not None and any(edge.allowance for edge in whole.edges) > any(edge.allowance for edge in piece.edges):
        report.guess(f"'{piece.name}': as it is changed its seam allowances are not kept: its outline is its cut line")


def _of_each_material(sketch: Sketch) -> list[Sketch]:
    """A sketch, and copies of it for what else it is cut of."""
    copies = []
    for many, pair, material in sketch.also:
        name = f"{sketch.name} ({material})"
        copy = replace(sketch, name=name, cut=many or 1, pair=pair, inner=list(sketch.inner), taken=[], also=[])
        copy.material, copy.is_copy = material or sketch.material, True
        copies.append(copy)
    return [sketch, *copies]


def _tell_apart(sketches: list[Sketch]) -> None:
    """Number the names that are there already."""
    taken: set[str] = set()
    times: dict[str, int] = {}
    for sketch in sketches:
        name = sketch.name
        while sketch.name in taken:
            times[name] = times.get(name, 1) + 1
            sketch.name = f"{name} ({times[name]})"
        taken.add(sketch.name)


def kind_has_unit(path: Path) -> bool:
    """Whether a file says its unit in a way that nothing asked for overrules: our own JSON."""
    return path.suffix.lower() == ".json"


def _doubt_unit(pieces: list[Piece], report: ImportReport, *, has_unit: bool) -> None:
    """Ask about pieces that are larger or smaller than pieces are."""
    sizes = [(float(np.ptp(piece.cut_line, axis=0).max()), piece.name) for piece in pieces]
    odd = [(size, name) for size, name in sizes if not LEAST_SIZE <= size <= MOST_SIZE]
    for size, name in odd[:MOST_DOUBTS]:
        advice = "" if has_unit else " If not, give --units"
        report.remarks.append(f"'{name}' measures {size:.4g} mm, {size / INCH:.4g} in: is the unit right?{advice}")
    if len(odd) > MOST_DOUBTS:
        report.remarks.append(f"{len(odd) - MOST_DOUBTS} more pieces are as large or as small")
