"""Records in the blocks of a DXF, ``KEY: value``, and what they say of a piece."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, get_args

from pieces.exchange.read.dxf_entities import WORDS
from pieces.exchange.read.dxf_signs import words_written
from pieces.exchange.sketch.sketch import printable_name
from pieces.exchange.standard import STYLE_RECORDS, material_of, quantity_of, record
from pieces.piece.piece import MOST_TILT, Grain

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.sketch import Sketch

    Records = Mapping[str, str]

NOTE = "ANNOTATION"
"""The record of which there may be several."""


def records_of(entities: Any) -> dict[str, str]:
    """The records among the texts of a block, or of the file; the first of each key, and all annotations."""
    found: dict[str, str] = {}
    for entity in entities:
        if entity.dxftype() in WORDS:
            for line in words_written(entity).splitlines():
                if pair := record(line):
                    key, said = pair
                    found[key] = f"{found[key]}, {said}" if key == NOTE and key in found else found.get(key, said)
    return found


def style_of(space: Any, blocks: Iterable[Records]) -> dict[str, str]:
    """The records of the style, which stand once in the file; some programs put them into a block."""
    style = records_of(space)
    for found in blocks:
        for key in STYLE_RECORDS:
            if key in found:
                style.setdefault(key, found[key])
    return style


def take_count(sketch: Sketch, quantity: str | None, placed: tuple[int, int], report: ImportReport) -> None:
    """How many to cut: by the record, or by how often the block is placed, and how often of these in mirror image."""
    times, mirrored = placed
    found = quantity_of(quantity) if quantity is not None else (max(times, 1), 0 < mirrored == times - mirrored)
    if not found:
        report.guess(f"'{sketch.name}': its quantity {str(quantity)[:30]!r} cannot be read; taken as 1")
        return
    sketch.cut, sketch.pair = found
    left, right = ([int(number) for number in re.findall(r"\d+", quantity or "")] + [0, 0])[:2]
    if right and left != right:
        report.guess(
            f"'{sketch.name}': its quantity is {left} left and {right} right; {sketch.cut} are cut as drawn: write them"
            " as two pieces"
        )
    if quantity is not None and times > 1 and times != sketch.cut:
        report.guess(
            f"'{sketch.name}': its quantity is {sketch.cut}, but it is placed {times} times: the first is used"
        )
    elif mirrored and not sketch.pair:
        report.guess(f"'{sketch.name}': {mirrored} of {times} are placed in mirror image; all are taken as drawn")


def take_material(sketch: Sketch, said: str, report: ImportReport) -> None:
    """What it is cut of, by its record."""
    known = material_of(said)
    if said and known is None:
        report.guess(f"'{sketch.name}': its material {printable_name(said, '')!r} is taken as shell")
    sketch.material, sketch.material_by = known or "shell", f"MATERIAL: {said}" if known else ""


def take_lies(sketch: Sketch, found: Records, report: ImportReport) -> None:
    """How it may lie on the cloth, by the records of our own."""
    said, tilt = found.get("LIES", "straight").lower(), found.get("TILT", "0")
    known = next((each for each in get_args(Grain) if each == said), None)
    degrees = float(tilt) if re.fullmatch(r"\d{1,3}(\.\d{1,6})?", tilt) else MOST_TILT + 1
    if known is None or degrees > MOST_TILT:
        report.guess(
            f"'{sketch.name}': how it may lie is not understood, and taken as straight: {said[:20]} {tilt[:20]}"
        )
    else:
        sketch.lies, sketch.tilt = known, degrees
