"""SVG counted with Python's own reader of XML, and svgelements for curves."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Etree

import numpy as np

from pieces.exchange.read.svg_paths import path_parts
from reports.checksheet.counted import CountedFile, counted_piece, cut_many, held, parts_of, placed_pieces

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from reports.checksheet.counted import CountedPiece

    Floats = NDArray[np.float64]

SVG = "{http://www.w3.org/2000/svg}"


def count_svg(path: Path) -> CountedFile:
    """What an SVG of pieces or of a marker holds."""
    root = Etree.parse(path).getroot()
    across, down = root.get("width", ""), root.get("height", "")
    unit = "mm" if across.endswith("mm") and root.get("viewBox") == f"0 0 {across[:-2]} {down[:-2]}" else "unknown"
    groups = [group for group in root.iter(f"{SVG}g") if re.fullmatch(r"piece-\d+", group.get("id", ""))]
    kinds: Counter[str] = Counter()
    found, curved = [], 0
    for group in groups:
        inside = {each.get("class", ""): each for each in group.iterfind(f"{SVG}g")}
        kinds.update({kind: len(each) for kind, each in inside.items()})
        curved += sum("C" in line.get("d", "") for each in inside.values() for line in each)
        found.append(_piece(group, inside))
    is_marker = root.find(f".//{SVG}g[@class='cloth']") is not None
    told = [f"{'a marker' if is_marker else 'pieces side by side'}, {len(groups)} groups"]
    counts = [(what, kinds[kind]) for kind, what in (("grain", "grainline"), ("fold", "fold"), ("notch", "notch"))]
    told.append(held([*counts, ("drill point", kinds["drill"]), ("curved line", curved)]))
    return CountedFile(path.name, "SVG", unit, tuple(told), placed_pieces(found) if is_marker else tuple(found))


def _piece(group: Etree.Element, inside: dict[str, Etree.Element]) -> CountedPiece:
    words = " ".join(text.text or "" for text in inside.get("label", ()))
    grain = inside.get("grain")
    outline = _points(inside["cut"][0].get("d", ""))
    return counted_piece(
        group.get("data-name", ""),
        cut_many(words),
        outline,
        None if grain is None else _points(grain[0].get("d", "")),
        half="fold" in inside,
    )


def _points(drawn: str) -> Floats:
    """The points of a path, curves by their chords."""
    from svgelements import CubicBezier, Path  # type: ignore[import-untyped]

    known = path_parts(drawn) or []
    if len(known) == 1 and not known[0].curves:
        corners: Floats = known[0].nodes
        return np.vstack([corners, corners[:1]]) if known[0].closed else corners
    points: list[tuple[float, float]] = []
    for part in Path(drawn):
        if isinstance(part, CubicBezier):
            parts = parts_of([(end.x, end.y) for end in (part.start, part.control1, part.control2, part.end)])
            points += [(p.x, p.y) for p in (part.point(k / parts) for k in range(1, parts + 1))]
        elif part.end is not None:
            points.append((part.end.x, part.end.y))
    return np.array(points)
