"""Pieces as they draw themselves in a notebook: cut line, sew line, fold, grain, notches."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pieces.drawing import Stroke, Words, draw

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.piece import Floats, Piece

BETWEEN = 40.0
"""Clear space between two pieces, mm."""

ROW = 1800.0
"""Pieces lie in rows of about this length, mm."""

NOTCH = 6.0
"""Half the size of the cross that stands for a notch, mm."""


def draw_pieces(pieces: Sequence[Piece], title: str) -> str:
    """An SVG of pieces to scale beside one another."""
    strokes: list[Stroke] = []
    words: list[Words] = []
    x = y = deep = 0.0
    for piece in pieces:
        low, high = piece.cut_line.min(axis=0), piece.cut_line.max(axis=0)
        length, width = high - low
        if x and x + length > ROW:
            x, y, deep = 0.0, y - deep - BETWEEN, 0.0
        move = np.array([x - low[0], y - high[1]])
        strokes += _strokes(piece, move)
        middle = (low + high) / 2 + move
        words.append(Words(float(middle[0]), float(middle[1]), _label(piece), 0.9 * float(length)))
        x, deep = x + float(length) + BETWEEN, max(deep, float(width))
    return draw(strokes, words, title)


def _strokes(piece: Piece, move: Floats) -> list[Stroke]:
    lines = [Stroke(piece.cut_line + move), Stroke(piece.sew_line + move, "sew")]
    if piece.fold_edge is not None:
        lines += [Stroke(piece.fold_edge.points + move, style, closed=False) for style in ("bare", "fold")]
    lines += [Stroke(np.array(line.points) + move, "thin", closed=False) for line in piece.inner]
    lines.append(Stroke(np.array(piece.grain) + move, "thin", closed=False))
    for notch in piece.notches:
        at = np.array(notch.point) + move
        halves = np.array([(NOTCH, NOTCH), (NOTCH, -NOTCH)])
        lines += [Stroke([at - half, at + half], "thin", closed=False) for half in halves]
    return lines


def _label(piece: Piece) -> str:
    return f"{piece.name} × {piece.cut}" if piece.cut > 1 else piece.name
