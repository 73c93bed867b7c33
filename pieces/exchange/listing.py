"""Everything of a file that can be looked at, outline by outline, as plain data: what it is, and how that is known."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, get_args

import numpy as np

from pieces.exchange.decided.decisions import LineRole, length_of
from pieces.exchange.sketch.moved import handles_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import FileEntry
    from pieces.exchange.imported import DrawnPiece, Imported, ReadingChoices

    Floats = NDArray[np.float64]

MOST_LISTED = 4000
"""Outlines of one file; the rest is counted."""

FINE = 0.05
"""How far the lines that are shown may lie off those of the file, mm."""

OF_LINES: tuple[LineRole, ...] = get_args(LineRole)
OF_POINTS: tuple[LineRole, ...] = ("notch", "drill point", "left out")
FIXED = ("hidden", "not drawn", "placement", "words read")
"""Where a thing ends that no decision changes."""


def listing(found: Imported, asked: ReadingChoices) -> dict[str, Any]:
    """The outlines of a file with their parts, the pieces as they lie in the file, its sizes and its marks."""
    report = found.report
    groups: dict[int, list[FileEntry]] = {}
    for entry in report.account.entries:
        if entry.points is not None and entry.kind not in ("words", "other"):
            groups.setdefault(entry.outline or entry.number, []).append(entry)
    drawn = {number: piece for piece in found.drawn.values() for number in piece.numbers}
    is_drawing = report.is_drawing
    shown = list(groups.values())[:MOST_LISTED]
    return {
        "outlines": [
            _outline(entries, drawn.get(entries[0].number), is_drawing=is_drawing)
            | {"size": report.sized.get(entries[0].number, "")}
            for entries in shown
        ],
        "unlisted": len(groups) - len(shown),
        "pieces": [_piece(name, piece) for name, piece in found.drawn.items()],
        "sizes": list(report.sizes),
        "size": report.size or asked.size,
        "marks": {
            "form": report.marks.form,
            "program": report.marks.program,
            "layers": list(report.marks.layers),
            "words": report.marks.words(),
        },
        "alarms": [{"number": number, "words": words} for number, words in report.alarms],
        "by_legend": sum(entry.sure == "legend" for entry in report.account.entries),
        "left": report.left(),
        "is_drawing": is_drawing,
    }


def _outline(entries: Sequence[FileEntry], piece: DrawnPiece | None, *, is_drawing: bool) -> dict[str, Any]:
    first = entries[0]
    is_closed = piece is not None or all(entry.kind == "closed outline" for entry in entries)
    kind = "closed outline" if is_closed else first.kind if len(entries) == 1 else "lines"
    ring = piece.outline if piece is not None else first.points if is_closed and len(entries) == 1 else None
    if ring is not None and len(ring) > 2:
        points, handles = _thin(ring, handles_of(ring))
        paths = [points]
    else:
        paths, handles = [_thin(entry.points, [])[0] for entry in entries if entry.points is not None], []
    return {
        "numbers": [entry.number for entry in entries],
        "at": _rounded(first.points[:1])[0] if first.points is not None else None,
        "long": round(sum(map(length_of, entries)), 3),
        "long_first": round(length_of(first), 3),
        "kind": kind,
        "closed": is_closed,
        "called": first.called,
        "role": first.place,
        "piece": first.of,
        "why": first.why,
        "sure": first.sure or (None if is_drawing or first.place == "left out" else "named"),
        "reason": first.reason,
        "mark": first.mark._asdict(),
        "roles": list(_roles(first)),
        "paths": paths,
        "handles": handles,
    }


def _roles(first: FileEntry) -> Sequence[LineRole]:
    """What a thing may be said to be."""
    if first.is_fixed or first.place in FIXED:
        return ()
    return OF_POINTS if first.kind == "point" else OF_LINES


def _piece(name: str, piece: DrawnPiece) -> dict[str, Any]:
    return {
        "name": name,
        "called": piece.called,
        "numbers": list(piece.numbers),
        "angle": piece.angle,
        "grain": _rounded(np.array(piece.grain)) if piece.grain else None,
        "grain_is_guessed": piece.grain_is_guessed,
        "fold": _rounded(np.array(piece.fold)) if piece.fold else None,
        "side": piece.side,
        "read": dict(piece.read),
    }


def _thin(points: Floats, keep: Sequence[int]) -> tuple[list[list[float]], list[int]]:
    """Points without those that a straight line passes anyway, and where the ones to keep are now."""
    import shapely

    if len(points) < 3 or not keep:
        simple = shapely.LineString(points).simplify(FINE) if len(points) > 2 else None
        return _rounded(points if simple is None else shapely.get_coordinates(simple)), []
    parts: list[Floats] = []
    places = sorted({0, *keep})
    at: dict[int, int] = {}
    many = 0
    for first, last in zip(places, [*places[1:], len(points)], strict=True):
        way = points[[*range(first, last), last % len(points)]]
        part = shapely.get_coordinates(shapely.LineString(way).simplify(FINE))
        at[first] = many
        parts.append(part[:-1])
        many += len(part) - 1
    return _rounded(np.vstack(parts)), [at[place] for place in keep]


def _rounded(points: Floats) -> list[list[float]]:
    rounded: list[list[float]] = np.round(points, 3).tolist()
    return rounded
