"""Pieces that this project drafted, as they were when the corpus was made: ``python -m tests.make.corpus.drafted``.

A t-shirt's back, half and on the fold, and its sleeve; and the front of a straight skirt, whose darts are lines on it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pieces import GARMENTS, Body
from pieces.length import inches
from pieces.piece.curve import Line
from pieces.piece.true_lines import cut_curves

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces import Piece
    from pieces.piece.curve import Point

KEPT = Path(__file__).parents[2] / "pieces" / "exchange" / "corpus" / "drafted.json"

WANTED = (("t-shirt", "back"), ("t-shirt", "sleeve"), ("straight-skirt", "front"))


def body() -> Body:
    """The body of the check values: common practice, no source."""
    taken: dict[str, float] = {
        "bust": 42,
        "hip": 48,
        "across_shoulder": 17,
        "neck": 15,
        "upper_arm": 16,
        "wrist": 8.5,
        "waist": 33,
        "arm_length": 23,
    }
    lengths: dict[str, Any] = {key: inches(value) for key, value in taken.items()}
    return Body(**lengths)


def steps(piece: Piece) -> list[Any]:
    """The cut line of a piece by its curves, turned so that its grain runs up the page."""
    curves = cut_curves(piece)
    found: list[Any] = [["M", *_up(curves[0].start)]]
    for curve in curves:
        points = [curve.end] if isinstance(curve, Line) else [curve.lead, curve.trail, curve.end]
        found.append(["L" if isinstance(curve, Line) else "C", *(v for point in points for v in _up(point))])
    return found


def _up(point: Point) -> tuple[float, float]:
    return round(point[1], 4), round(-point[0], 4)


def _line(points: Iterable[Point]) -> list[Any]:
    return [["L" if number else "M", *_up(point)] for number, point in enumerate(points)]


def main() -> None:
    """Draft the pieces and keep them."""
    found = []
    for garment, name in WANTED:
        pieces = GARMENTS[garment].draft(body(), GARMENTS[garment].style())
        piece = next(piece for piece in pieces if piece.name == name)
        fold = piece.fold_edge
        found.append(
            {
                "name": name if garment == "t-shirt" else "skirt",
                "outline": steps(piece),
                "grain": _line(piece.grain),
                "fold": _line([fold.points[0].tolist(), fold.points[-1].tolist()]) if fold is not None else [],
                "internal": [_line(line.points) for line in piece.inner if line.kind == "line"],
            }
        )
    KEPT.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
