"""A file of patterns read into pieces, whatever its form, with what is written about them beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.imported import LEAST_SIZE, MOST_SIZE, Asked, Imported, Report
from pieces.exchange.settling import settle
from pieces.exchange.sketch import piece_of
from pieces.piece import Piece, PieceSet

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.sidecar import Sidecar
    from pieces.exchange.sketch import Sketch

FORMS = ("dxf", "svg", "csv", "json", "toml")


def import_pieces(path: Path, asked: Asked | None = None, sidecar: Sidecar | None = None) -> Imported:
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
    asked = asked or Asked()
    kind = path.suffix.lower().lstrip(".")
    if kind not in FORMS:
        raise FormatError(
            f"{path.name}: a file of patterns ends in {', '.join(FORMS)}, not in {path.suffix or 'nothing'!r}"
        )
    sketches, report = _sketches(path, kind, asked)
    return finish(sketches, report, path, asked, sidecar)


def _sketches(path: Path, kind: str, asked: Asked) -> tuple[list[Sketch], Report]:
    if kind == "dxf":
        from pieces.exchange.dxf import sketch_dxf

        return sketch_dxf(path, asked)
    if kind == "svg":
        from pieces.exchange.svg import sketch_svg

        return sketch_svg(path, asked)
    if kind == "toml":
        from pieces.exchange.traced import sketch_traced

        return sketch_traced(path, asked)
    from pieces.exchange.outlines import sketch_csv, sketch_json

    return (sketch_csv if kind == "csv" else sketch_json)(path, asked)


def finish(
    sketches: list[Sketch], report: Report, path: Path, asked: Asked, sidecar: Sidecar | None = None
) -> Imported:
    """Pieces of sketches, each with a name of its own, after what is written about them."""
    _tell_apart(sketches)
    called = {id(sketch): sketch.name for sketch in sketches}
    if sidecar is not None:
        sketches = sidecar.applied(sketches, report)
    guessed = [sketch.name for sketch in sketches if sketch.grain is None and sketch.turn is None]
    if guessed:
        more = f" and {len(guessed) - 1} more" if len(guessed) > 1 else ""
        said = f"'{guessed[0]}'{more}: no grainline is drawn; taken at {asked.angle:g} degrees to the x axis"
        report.guess(said) if asked.grain is None else report.remarks.append(said)
    made = [(piece, called[id(s)]) for s in sketches if (piece := _made(s, asked, report)) is not None]
    report.account.check([piece for piece, _ in made])
    if asked.strict:
        report.refuse_if_unsure()
    if not made:
        why = next((f": {said}" for said in report.unsure()), "")
        raise FormatError(f"{path.name} holds no piece that can be cut{why}")
    pieces = [piece for piece, _ in made]
    _doubt_unit(pieces, report)
    names = {piece.name: name for piece, name in made}
    return Imported(PieceSet(path.stem, tuple(pieces)), report, names, frozenset(guessed))


def _made(sketch: Sketch, asked: Asked, report: Report) -> Piece | None:
    """The piece of a sketch; what it took of the file is accounted for."""
    before = len(report.left_out)
    piece = piece_of(sketch, asked.angle, report)
    why = "; ".join(out.why for out in report.left_out[before:])
    settle(sketch, piece, report, why)
    return piece


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


def _doubt_unit(pieces: list[Piece], report: Report) -> None:
    largest = max(float(np.ptp(piece.cut_line, axis=0).max()) for piece in pieces)
    if not LEAST_SIZE <= largest <= MOST_SIZE:
        report.remarks.append(f"the largest piece measures {largest:.4g} mm: is the unit right? If not, say --units")
