"""Pieces out of DXF by the conventions of ASTM D6673: each block is one piece, in one size."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.assemble import add_line, note_joins
from pieces.exchange.dxf_lines import LINES, MOST_POINTS, UnreadableError, points_of, words_of
from pieces.exchange.joining import Stroke, join
from pieces.exchange.sketch import Sketch, printable_name
from pieces.exchange.standard import LAYERS, STYLE_RECORDS, label_of, material_of, quantity_of, record

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from pieces.curve import Point
    from pieces.exchange.imported import Asked, Report

    Records = Mapping[str, str]

NAME_REACH = 2.0
"""A text on a layer of notches names the notch that it stands this near to, mm."""


def records_of(entities: Any) -> dict[str, str]:
    """The records among the texts of a block, or of the file; the first of each key."""
    found: dict[str, str] = {}
    for entity in entities:
        if entity.dxftype() in ("TEXT", "MTEXT"):
            for line in entity.plain_text().splitlines():
                if pair := record(line):
                    found.setdefault(*pair)
    return found


def style_of(space: Any, blocks: Iterable[Records]) -> dict[str, str]:
    """The records of the style, which stand once in the file; some programs put them into a block."""
    style = records_of(space)
    for found in blocks:
        for key in STYLE_RECORDS:
            if key in found:
                style.setdefault(key, found[key])
    return style


def block_sketches(
    blocks: Sequence[Any],
    records: Mapping[str, Records],
    space: Any,
    style: Records,
    scale: float,
    asked: Asked,
    report: Report,
) -> list[Sketch]:
    """The pieces of all blocks in the size that is wanted."""
    wanted = _size({records[b.name].get("SIZE", "") for b in blocks if "PIECE NAME" in records[b.name]}, style, asked)
    placed = Counter(entity.dxf.name for entity in space if entity.dxftype() == "INSERT")
    stray = Counter(entity.dxftype() for entity in space if entity.dxftype() not in ("INSERT", "TEXT", "MTEXT"))
    for kind, times in stray.items():
        report.leave(f"{times} {kind}", "outside all blocks, and so part of no piece")
    sketches = []
    for block in blocks:
        found = records[block.name]
        size = found.get("SIZE", "")
        if wanted is not None and size not in ("", wanted):
            report.leave(
                f"'{printable_name(found.get('PIECE NAME', block.name), 'a piece')}' in size {size}",
                f"size {wanted} is read",
            )
            continue
        sketch = _sketch(block, found, scale, asked, report)
        if sketch is not None:
            _count(sketch, found.get("QUANTITY"), placed[block.name], report)
            sketches.append(sketch)
    return sketches


def _size(sizes: set[str], style: Records, asked: Asked) -> str | None:
    """The one size to read: asked for, the only one, or the sample size; FormatError if none of these is there."""
    sizes = sizes - {""}
    known = ", ".join(sorted(sizes)[:20])
    if asked.size is not None:
        if asked.size not in sizes:
            has = known or "none"
            raise FormatError(f"there is no size {asked.size!r} in the file: it has {has}")
        return asked.size
    if len(sizes) <= 1:
        return next(iter(sizes), None)
    sample = style.get("SAMPLE SIZE", "")
    if sample in sizes:
        return sample
    raise FormatError(f"the file holds the sizes {known}: say which to read with --size")


def _count(sketch: Sketch, quantity: str | None, placed: int, report: Report) -> None:
    """How many to cut: by the record, or by how often the block is placed."""
    if quantity is not None:
        found = quantity_of(quantity)
        if found:
            sketch.cut, sketch.pair = found
            return
        report.remarks.append(f"'{sketch.name}': its quantity {quantity[:30]!r} cannot be read; taken as 1")
    elif placed > 1:
        sketch.cut = placed


def _sketch(block: Any, found: Records, scale: float, asked: Asked, report: Report) -> Sketch | None:
    """The piece of one block; None, and told, where it has no closed outline."""
    name = printable_name(found.get("PIECE NAME") or block.name, "piece")
    strokes, points, words, unread = _read(block, scale, name, report)
    rings = sorted(
        (line for line in join((s for s in strokes if s.role == "outline"), asked.join) if line.closed),
        key=lambda ring: -float(np.prod(np.ptp(ring.points, axis=0))),
    )
    if not rings:
        report.leave(f"'{name}'", "no closed line on layer 1")
        return None
    sketch = Sketch(name, rings[0].points, label=label_of(found.get("ANNOTATION", "")))
    note_joins(rings[0], name, report)
    for _ in rings[1:]:
        report.leave(f"an outline of '{name}'", "a piece has one: the largest is taken")
    for layer, times in unread.items():
        report.leave(f"{times} on layer {layer[:20]} of '{name}'", "that layer says nothing of what is cut")
    for stroke in strokes:
        add_line(sketch, stroke)
    for role, point in points:
        if role == "drill":
            sketch.drills.append(point)
        else:
            sketch.notches.append((_notch_name(words, point, len(sketch.notches)), point))
    material = found.get("MATERIAL", "")
    known = material_of(material)
    if material and known is None:
        report.remarks.append(f"'{name}': its material {printable_name(material, '')!r} is taken as shell")
    sketch.material = known or "shell"
    return sketch


def _read(
    block: Any, scale: float, name: str, report: Report
) -> tuple[list[Stroke], list[tuple[str, Point]], list[tuple[str, Point]], Counter[str]]:
    """What a block holds: lines, points and names of notches; and how much stands on layers that are not read."""
    strokes: list[Stroke] = []
    points: list[tuple[str, Point]] = []
    words: list[tuple[str, Point]] = []
    unread: Counter[str] = Counter()
    many = 0
    for entity in block:
        kind, layer = entity.dxftype(), entity.dxf.layer
        role = LAYERS.get(layer, "unknown")
        try:
            if kind in ("TEXT", "MTEXT"):
                if role == "notch" and (named := words_of(entity, scale)):
                    words.append(named)
            elif role == "known":
                continue
            elif role == "unknown":
                unread[layer] += 1
            elif kind in ("POINT", "CIRCLE") and role in ("notch", "drill"):
                place = entity.dxf.location if kind == "POINT" else entity.ocs().to_wcs(entity.dxf.center)
                points.append((role, (float(place[0]) * scale, float(place[1]) * scale)))
            elif kind in LINES:
                line, closed = points_of(entity, scale)
                strokes.append(Stroke(line, role, layer, closed))
                many += len(line)
                if many > MOST_POINTS:
                    raise FormatError(f"the lines of '{name}' come to more than {MOST_POINTS} points")
        except UnreadableError as error:
            report.leave(f"{kind} of '{name}'", str(error))
    return strokes, points, words, unread


def _notch_name(words: Sequence[tuple[str, Point]], point: Point, known: int) -> str:
    """The text beside a notch, or its number."""
    beside = [
        (apart, text) for text, place in words if (apart := float(np.hypot(*np.subtract(place, point)))) <= NAME_REACH
    ]
    return printable_name(min(beside)[1], "notch") if beside else f"notch {known + 1}"
