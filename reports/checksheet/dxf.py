"""DXF counted with ezdxf: pieces in blocks, or a marker."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from pieces.exchange.graded.rule_table import read_rule_table
from pieces.exchange.graded.sized import graded_outline, outline_of, rules_of
from pieces.exchange.read.dxf_points import document_of
from reports.checksheet.counted import CountedFile, CountedSize, counted_piece, held, placed_pieces, sides

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.exchange.graded.rule_table import RuleTable
    from reports.checksheet.counted import CountedPiece

    Floats = NDArray[np.float64]

UNITS = {1: "in", 4: "mm", 5: "cm", 6: "m"}
"""By the header, $INSUNITS (DXF reference, from memory)."""

FLAT = 0.01
"""How far chords stray from a spline that is measured, mm."""

_ATTRIBUTES = re.compile(r"\n(?: *0\nATT(?:RIB|DEF)\n(?: *[1-9][0-9]*\n.*\n)*)+")
"""What repeats the records of a piece, hidden: nothing of it is counted, and it is half of what the library reads."""

_SPECIAL = re.compile(r"[%^\\]")
"""Signs that begin something in a text."""

COUNTED = (
    ("7", "LINE", "grainline"),
    ("6", "LINE", "fold"),
    ("4", "POINT", "notch"),
    ("80", "POINT", "T-notch"),
    ("13", "POINT", "drill point"),
    ("2", "POINT", "turn point"),
    ("3", "POINT", "curve point"),
)
"""Layer, kind of entity, and what they are called, of pieces: by the standard, from memory."""


def count_dxf(path: Path, rules: Path | None = None) -> CountedFile:
    """What a DXF of pieces or of a marker holds, and the rule table that belongs to it."""
    from ezdxf.filemanagement import dxf_file_info

    text = path.read_text(encoding=dxf_file_info(str(path)).encoding, errors="surrogateescape")
    document = document_of(_ATTRIBUTES.sub("\n", text))
    form = f"DXF, {document.acad_release}"
    unit = UNITS.get(document.header.get("$INSUNITS", 0), "unknown")
    outlines = {block: outline_of(block) for block in document.blocks if not block.is_any_layout}
    drawn = {block: outline for block, outline in outlines.items() if outline is not None}
    blocks = {block: _records(block) for block in drawn}
    if not blocks:
        return _marker(document.modelspace(), path.name, form, unit)
    pieces = tuple(_piece(block, said, drawn[block]) for block, said in blocks.items())
    kinds = Counter((entity.dxf.layer, entity.dxftype()) for block in blocks for entity in block)
    curves = kinds["1", "SPLINE"] + kinds["14", "SPLINE"]
    told = [f"{len(blocks)} blocks", held([(what, kinds[layer, kind]) for layer, kind, what in COUNTED])]
    told += sorted({f"notches: {said['NOTCHES']}" for said in blocks.values() if "NOTCHES" in said})
    told.append(f"curves as {curves} splines" if curves else "curves as polylines of chords")
    sizes: tuple[CountedSize, ...] = ()
    if rules is not None:
        table = read_rule_table(rules)
        told.append(f"{rules.name}: {len(table.rules)} rules, sizes {', '.join(table.sizes)}; drawn is {table.sample}")
        sizes = tuple(one for block, said in blocks.items() for one in _sizes(block, said, table))
    return CountedFile(path.name, form, unit, tuple(told), pieces, sizes)


def _piece(block: Any, said: dict[str, str], outline: Floats) -> CountedPiece:
    many = sum(int(number) for number in re.findall(r"\d+", said.get("QUANTITY", "")))
    half = any(entity.dxf.layer == "6" for entity in block if entity.dxftype() == "LINE")
    return counted_piece(said.get("PIECE NAME", block.name), many, outline, _grain(block, "7"), half=half)


def _read(text: Any) -> str:
    """What a text says: signs that are not of its code page stand as their numbers."""
    from ezdxf.lldxf.encoding import decode_dxf_unicode

    written = str(text.dxf.text)
    return str(decode_dxf_unicode(text.plain_text())) if _SPECIAL.search(written) else written


def _records(block: Any) -> dict[str, str]:
    texts = [_read(text) for text in block if text.dxftype() == "TEXT" and text.dxf.layer == "1"]
    return dict(reversed([text.split(": ", 1) for text in texts if ": " in text]))


def _grain(layout: Any, layer: str) -> list[tuple[float, float]] | None:
    lines = [line for line in layout if line.dxftype() == "LINE" and line.dxf.layer == layer]
    return _ends(lines[0]) if lines else None


def _ends(line: Any) -> list[tuple[float, float]]:
    return [(end.x, end.y) for end in (line.dxf.start, line.dxf.end)]


def _sizes(block: Any, said: dict[str, str], table: RuleTable) -> list[CountedSize]:
    """A piece in the smallest and the largest size."""
    outline, rules, name = outline_of(block), rules_of(block), said.get("PIECE NAME", block.name)
    assert outline is not None
    ends = dict.fromkeys((table.sizes[0], table.sizes[-1]))
    return [
        CountedSize(name, size, *sides(graded_outline(outline, rules, table, size), _grain(block, "7")))
        for size in ends
    ]


def _marker(space: Any, name: str, form: str, unit: str) -> CountedFile:
    """A marker: outlines, each with the label and the grainline in it; x runs along the cloth."""
    outlines = [_ring(entity) for entity in space if entity.dxf.layer == "CUT"]
    labels = [text for text in space.query("TEXT") if text.dxf.layer == "LABEL"]
    spots = shapely.points([(text.dxf.align_point or text.dxf.insert).vec2 for text in labels])
    tree = shapely.STRtree(spots)
    grains = [_ends(line) for line in space.query("LINE") if line.dxf.layer == "GRAIN"]
    ways = shapely.STRtree([shapely.LineString(grain) for grain in grains])
    found = []
    for outline in outlines:
        shape = shapely.Polygon(outline)
        inside = tree.query(shape, predicate="contains")
        drawn = ways.query(shape, predicate="contains")
        grain = grains[drawn[0]] if len(drawn) else None
        said = [label for at in sorted(inside) if (label := _label(_read(labels[at])))]
        found.append(counted_piece(said[0] if said else "no name", 1, outline, grain, half=False))
    ends = [x for line in space.query("LINE") if line.dxf.layer in ("CLOTH", "FOLD")
            for x in (line.dxf.start.x, line.dxf.end.x)]  # fmt: skip
    told = [f"a marker, {max(ends, default=0.0):.1f} mm long"]
    kinds = Counter((entity.dxf.layer, entity.dxftype()) for entity in space)
    told.append(
        held(
            [
                ("outline", len(outlines)),
                ("grainline", kinds["GRAIN", "LINE"]),
                ("notch", kinds["NOTCH", "POINT"]),
                ("drill point", kinds["DRILL", "POINT"]),
                ("fault", kinds["FAULT", "LWPOLYLINE"]),
            ]
        )
    )
    return CountedFile(name, form, unit, tuple(told), placed_pieces(found))


def _label(text: str) -> str:
    """The name in a label such as ``12  front``; empty for other words."""
    found = re.fullmatch(r"\d+ +(.+)", text)
    return found[1] if found else ""


def _ring(entity: Any) -> Floats:
    if entity.dxftype() == "SPLINE":
        return np.array([(p.x, p.y) for p in entity.flattening(FLAT)])
    return np.array(entity.get_points("xy"), dtype=np.float64)
