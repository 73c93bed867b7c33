"""Pieces out of DXF: by the conventions of ASTM D6673, a block a piece, or of plain outlines."""

from __future__ import annotations

import io
import logging
import re
from typing import TYPE_CHECKING, Any, get_args

from pieces.errors import FormatError
from pieces.exchange.assemble import Drawing, assemble
from pieces.exchange.dxf_blocks import block_sketches, records_of, style_of
from pieces.exchange.dxf_lines import LINES, MOST_POINTS, UnreadableError, exploded, points_of, words_of
from pieces.exchange.dxf_old import with_short_polylines
from pieces.exchange.imported import Asked, Report, Unit, scale_of
from pieces.exchange.joining import Stroke
from pieces.exchange.source import read_source
from pieces.exchange.standard import UNITS, role_of

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing as Document

    from pieces.exchange.sketch import Sketch

MOST_TAGGED, MOST_ENTITIES = 500_000, 60_000
"""A file of more entities is no set of patterns: counting each point of polylines in the old form, or not."""

HEADER_UNITS: dict[int, Unit | str] = {1: "in", 2: "feet", 4: "mm", 5: "cm", 6: "metres", 10: "yards"}
"""What the header's $INSUNITS means; of those with a long name no pattern is drawn in."""


def sketch_dxf(path: Path, asked: Asked) -> tuple[list[Sketch], Report]:
    """The pieces that a DXF file holds, as they are drawn.

    Raises
    ------
    FormatError
        If the file is damaged, too large, does not say its unit, or holds several sizes and none was asked for.
    """
    document = _load(read_source(path, "dxf"), path.name)
    try:
        space = document.modelspace()
        blocks = [b for b in document.blocks if not b.block_record.is_any_layout and not b.name.startswith("*")]
        records = {block.name: records_of(block) for block in blocks}
        style = style_of(space, records.values())
        is_standard = any("PIECE NAME" in found for found in records.values())
        unit, how = _unit(document, style.get("UNITS", ""), asked, path.name)
        if is_standard:
            report = Report("DXF by the conventions of ASTM D6673", how)
            return block_sketches(blocks, records, space, style, scale_of(unit), asked, report), report
        report = Report("DXF, plain outlines", how)
        return assemble(_drawing(space, scale_of(unit), report), asked.join, report), report
    except UnreadableError as error:
        raise FormatError(f"{path.name}: {error}") from error


def _load(text: str, name: str) -> Document:
    """The document; FormatError where it is none, is cut short, or is too large to be read in a minute."""
    first = text[:2000].split()
    if not first or not (first[0] in ("0", "999") and ("SECTION" in first or first[0] == "999")):
        raise FormatError(f"{name} is no DXF file: it does not begin as one; check what it was saved as")
    text = text.replace("\r\n", "\n")
    _refuse_more(text, MOST_TAGGED, name)
    text = with_short_polylines(text)
    _refuse_more(text, MOST_ENTITIES, name)
    import ezdxf
    from ezdxf.filemanagement import read

    logging.getLogger(ezdxf.__name__).addHandler(logging.NullHandler())
    try:
        return read(io.StringIO(text))
    except Exception as error:  # whatever a damaged file makes of the library
        raise FormatError(
            f"{name} is cut short or damaged, so that it cannot be read as DXF: export it again ({_said(error)})"
        ) from error


def _refuse_more(text: str, most: int, name: str) -> None:
    entities = sum(1 for _ in re.finditer(r"\n *0\n *[A-Z3]", text))
    if entities > most:
        raise FormatError(f"{name} holds about {entities} entities: up to {most} are read; export the pieces alone")


def _said(error: Exception) -> str:
    return " ".join(str(error).split())[:80] or type(error).__name__


def _unit(document: Document, record: str, asked: Asked, name: str) -> tuple[Unit, str]:
    """What a number counts, and how that is known: asked for, by record, or by header."""
    header = HEADER_UNITS.get(int(document.header.get("$INSUNITS", 0) or 0), "")
    by_record = UNITS.get(record.upper())
    by_header = next((unit for unit in get_args(Unit) if unit == header), None)
    if asked.units:
        return asked.units, f"{asked.units}, as asked"
    if record and by_record is None:
        raise FormatError(f"{name}: its record UNITS says {record[:30]!r}, which is unknown: say --units mm, cm or in")
    if by_record and by_header and by_record != by_header:
        raise FormatError(
            f"{name} is in {by_record} by its record UNITS and in {by_header} by its header: say --units mm, cm or in"
        )
    if by_record:
        return by_record, f"{by_record}, by its record UNITS: {record.upper()}"
    if by_header:
        return by_header, f"{by_header}, by its header"
    what = f"its header says {header}" if header else "it does not say in what unit it is drawn"
    raise FormatError(f"{name}: {what}: say --units mm, cm or in")


def _drawing(space: Any, scale: float, report: Report) -> Drawing:
    """All lines, points and words of a plain drawing."""
    drawing, many = Drawing(), 0
    for entity in exploded(space):
        kind, layer = entity.dxftype(), entity.dxf.layer
        role = role_of(layer)
        try:
            if kind in LINES:
                points, closed = points_of(entity, scale)
                drawing.strokes.append(Stroke(points, role, layer, closed))
                many += len(points)
            elif kind == "POINT":
                x, y = (float(v) * scale for v in tuple(entity.dxf.location)[:2])
                drawing.points.append((role if role == "notch" else "drill", "", (x, y)))
            elif kind in ("TEXT", "MTEXT"):
                if words := words_of(entity, scale):
                    drawing.words.append(words)
            else:
                report.leave(kind, "it is no line, point or text")
        except UnreadableError as error:
            report.leave(kind, str(error))
        if many > MOST_POINTS:
            raise UnreadableError(f"its lines come to more than {MOST_POINTS} points")
    return drawing
