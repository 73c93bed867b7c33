"""Pieces out of DXF: by the conventions of ASTM D6673, a block a piece, or of plain outlines."""

from __future__ import annotations

import logging
import re
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.drawing import Drawing, DrawnLine, Mark, Word
from pieces.exchange.graded.beside import rule_table_beside
from pieces.exchange.imported import JOIN, UNIT_WORDS, ImportReport, ReadingChoices, scale_of, told_unit
from pieces.exchange.mend.joining import join
from pieces.exchange.read.dxf_blocks import Blocks
from pieces.exchange.read.dxf_entities import (
    WORDS,
    Layers,
    PlacedEntity,
    enter,
    exploded,
    on_paper,
    own_blocks,
    placed_blocks,
    unread,
    written,
)
from pieces.exchange.read.dxf_hatch import FILLED, take_filled
from pieces.exchange.read.dxf_lines import BETWEEN, LINES, MOST_POINTS, UnreadableError, is_interpolated, words_of
from pieces.exchange.read.dxf_old import with_short_polylines
from pieces.exchange.read.dxf_points import document_of
from pieces.exchange.read.dxf_records import records_of, style_of
from pieces.exchange.read.dxf_signs import decoded
from pieces.exchange.read.marks import marks_of_dxf
from pieces.exchange.sketch.assemble import assemble
from pieces.exchange.sketch.outline import DRILL_HOLE
from pieces.exchange.source import read_source
from pieces.exchange.standard import UNITS, quantity_of, record, role_of

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.blocklayout import BlockLayout

    from pieces.exchange.sketch.sketch import Sketch

MOST_TAGGED, MOST_ENTITIES = 500_000, 60_000
"""A file of more entities is no set of patterns: counting each point of polylines in the old form, or not."""

HEADER_UNITS: dict[int, tuple[str, float]] = {
    1: ("in", 25.4), 2: ("ft", 304.8), 3: ("miles", 1609344.0), 4: ("mm", 1.0), 5: ("cm", 10.0), 6: ("m", 1e3),
    7: ("kilometres", 1e6), 8: ("microinches", 25.4e-6), 9: ("mils", 0.0254), 10: ("yd", 914.4),
    11: ("angstroms", 1e-7), 12: ("nanometres", 1e-6), 13: ("microns", 1e-3), 14: ("decimetres", 100.0),
    15: ("decametres", 1e4), 16: ("hectometres", 1e5), 21: ("US survey feet", 1.2e6 / 3937),
    22: ("US survey inches", 1e5 / 3937), 23: ("US survey yards", 3.6e6 / 3937),
    24: ("US survey miles", 6.336e9 / 3937),
}  # fmt: skip
"""What the header's $INSUNITS means, and its length in mm (DXF reference, HEADER section; SI; 3937 US survey ft are
1200 m)."""

SAYS_UNIT = re.compile(r"^[ \t]*9[ \t]*\n[ \t]*\$INSUNITS[ \t]*$", re.MULTILINE)
"""The library makes up a header where a file has none: what the file itself says stands in its text."""

OTHER_UNITS = {17: "gigametres", 18: "astronomical units", 19: "light years", 20: "parsecs"}
"""Of the rest, none is a unit of a pattern."""


def sketch_dxf(path: Path, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """The pieces that a DXF file holds, as they are drawn.

    Raises
    ------
    FormatError
        If the file is damaged, too large, does not say its unit, or holds several sizes and none was asked for.
    """
    text = decoded(read_source(path, "dxf").replace("\r\n", "\n"))
    document = _load(text, path.name)
    try:
        space = document.modelspace()
        blocks = own_blocks(document, text)
        records = {block.name: records_of(block) for block in blocks}
        style = style_of(space, records.values())
        is_standard = any("PIECE NAME" in found for found in records.values())
        number = int(document.header.get("$INSUNITS", 0) or 0) if SAYS_UNIT.search(text) else 0
        scale, how = _unit(number, style.get("UNITS", ""), asked, path.name)
        if is_standard:
            report = ImportReport("DXF by the conventions of ASTM D6673", how)
            report.marks = marks_of_dxf(text, document)
            table = rule_table_beside(path.with_suffix(".rul"), records, style, report)
            return Blocks(document, text, scale, asked, report, table).sketches(records, style), report
        report = ImportReport("DXF, plain outlines", how)
        drawing = _plain(document, blocks, text, scale, report)
        report.marks = marks_of_dxf(text, document)
        return assemble(drawing, asked, report), report
    except UnreadableError as error:
        raise FormatError(f"{path.name}: {error}") from error


def _load(text: str, name: str) -> Document:
    """The document; FormatError where it is none, is cut short, or is too large to be read in a minute."""
    first = text[:2000].split()
    if not first or not (first[0] in ("0", "999") and ("SECTION" in first or first[0] == "999")):
        raise FormatError(f"{name} is not a DXF file: check the format it was saved in")
    _refuse_more(text, MOST_TAGGED, name)
    text = with_short_polylines(text)
    _refuse_more(text, MOST_ENTITIES, name)
    import ezdxf

    logging.getLogger(ezdxf.__name__).addHandler(logging.NullHandler())
    try:
        return document_of(text)
    except MemoryError:
        raise
    except Exception as error:  # whatever a damaged file makes of the library
        raise FormatError(
            f"{name} is cut short or damaged, and cannot be read as DXF: export it again, as R12 or as 2000 or"
            f" later ({_said(error)})"
        ) from error


def _refuse_more(text: str, most: int, name: str) -> None:
    entities = sum(1 for _ in re.finditer(r"\n *0\n *[A-Z3]", text))
    if entities > most:
        raise FormatError(f"{name} holds about {entities} entities: at most {most} are read; export the pieces alone")


def _said(error: Exception) -> str:
    return " ".join(str(error).split())[:80] or type(error).__name__


def _unit(number: int, record: str, asked: ReadingChoices, name: str) -> tuple[float, str]:
    """What a number counts, mm, and how that is known: asked for, by record, or by `number`, the header's."""
    by_record, (by_header, long) = UNITS.get(record.upper()), HEADER_UNITS.get(number, (None, 0.0))
    if asked.units:
        says = by_record or by_header
        return scale_of(asked.units, asked.per_inch), told_unit(None, "", asked.units, says)
    if record and by_record is None:
        raise FormatError(f"{name}: its record UNITS says {record[:30]!r}, which is unknown: give --units {UNIT_WORDS}")
    if by_record and by_header and by_record != by_header:
        raise FormatError(
            f"{name} is in {by_record} by its record UNITS and in {by_header} by its header: give --units {UNIT_WORDS}"
        )
    if by_record:
        return scale_of(by_record), f"{by_record}, by its record UNITS: {record.upper()}"
    if by_header:
        return long, f"{by_header}, by its header"
    other = OTHER_UNITS.get(number)
    what = f"its header says {other}" if other else "it does not give the unit it is drawn in"
    raise FormatError(f"{name}: {what}: give --units {UNIT_WORDS}")


SAID = ("PIECE NAME", "QUANTITY", "MATERIAL", "CATEGORY", "ANNOTATION")
"""Records that are read like other words where a drawing follows no conventions."""


def _plain(document: Document, blocks: list[BlockLayout], text: str, scale: float, report: ImportReport) -> Drawing:
    """All lines, points and words of a plain drawing; what else stands in the file is accounted for."""
    drawing, many, account = Drawing(), 0, report.account
    layers = Layers(document)
    filled: list[tuple[PlacedEntity, int]] = []
    for found in exploded(document.modelspace(), layers, account):
        many += _take(found, drawing, filled, scale, report)
        if many > MOST_POINTS:
            raise UnreadableError(f"its lines come to more than {MOST_POINTS} points")
    take_filled(filled, drawing, scale, report)
    on_paper(document, account)
    placed = placed_blocks(document)
    counted = written(text)
    expected = counted[""]
    for block in blocks:
        if block.name not in placed:
            expected += counted[block.name]
            _unplaced(block, layers, scale, report)
    unread(account, expected)
    return drawing


def _as_said(line: str) -> str:
    """A record as people say it: two numbers of a quantity are those of the left and the right."""
    key, value = record(line) or ("", "")
    if key == "QUANTITY" and (found := quantity_of(value)):
        count, pair = found
        return f"Quantity: {count // 2} pair{'s' * (count > 2)}" if pair else f"Quantity: {count}"
    return value if key in ("PIECE NAME", "MATERIAL") else line


def _unplaced(block: BlockLayout, layers: Layers, scale: float, report: ImportReport) -> None:
    """Account for a block that is never placed; one with an outline larger than a mark is told of by name."""
    why, strokes = f"the block '{block.name[:40]}' is never placed", []
    for found in exploded(block, layers, report.account):
        entered = enter(found, scale, report.account)
        report.account.put([entered.number], "not drawn", why=why)
        if found.entity.dxftype() in LINES and entered.points is not None:
            strokes.append(DrawnLine(entered.points, closed=entered.closed))
    if any(ring.closed and np.ptp(ring.points, axis=0).max() > DRILL_HOLE for ring in join(strokes, JOIN)):
        report.guess(f"{why}, and holds an outline: it is not drawn, so it is not a piece")


def _take(
    found: PlacedEntity, drawing: Drawing, filled: list[tuple[PlacedEntity, int]], scale: float, report: ImportReport
) -> int:
    """Put an entity into the drawing, among the filled areas, or say why it is not; how many points it has."""
    kind, role = found.entity.dxftype(), role_of(found.layer)
    number, points, closed, why = enter(found, scale, report.account)
    if found.hidden:
        report.account.put([number], "hidden", why=found.hidden)
    elif kind in LINES and points is None:
        report.leave(kind, why, [number])
    elif kind in LINES and points is not None:
        drawing.strokes.append(DrawnLine(points, role, found.layer, closed, (number,), found.block))
        if is_interpolated(found.entity):
            report.guess_once(BETWEEN)
        return len(points)
    elif points is not None:
        x, y = points[0].tolist()
        drawing.points.append(Mark(role if role in ("notch", "sew point") else "drill", "", (x, y), (number,)))
    elif kind in WORDS:
        words = words_of(found.entity, scale)
        if words and all((pair := record(line)) and pair[0] not in SAID for line in words[0].splitlines()):
            report.account.put([number], "words read", why="it is a record of the style")
        elif words:
            drawing.words.append(Word("\n".join(map(_as_said, words[0].splitlines())), words[1], (number,)))
            report.account.entries[number - 1].points = np.array([words[1]])
        else:
            report.account.put([number], "words read", why="it is empty")
    elif kind in FILLED:
        filled.append((found, number))
    else:
        report.leave(kind, "it is not a line, point or text", [number])
    return 0
