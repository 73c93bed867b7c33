"""Pieces as they draw themselves in a notebook: cut line, sew line, fold, grain, notches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

import numpy as np

from pieces.svg import SvgLine, SvgWords, draw

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.piece.curve import Point
    from pieces.piece.outline import Edge

    Floats = NDArray[np.float64]

BETWEEN = 40.0
"""Clear space between two pieces, mm."""

ROW = 1800.0
"""Pieces lie in rows of about this length, mm."""

NOTCH = 6.0
"""Half the size of the cross that stands for a notch, mm."""


class _Mark(Protocol):
    @property
    def point(self) -> Point: ...


class _Line(Protocol):
    @property
    def points(self) -> tuple[Point, ...]: ...


class Drawable(Protocol):
    """What a piece must have to be drawn: a `Piece` has it."""

    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def cut(self) -> int: ...  # noqa: D102
    @property
    def grain(self) -> tuple[Point, Point]: ...  # noqa: D102
    @property
    def cut_line(self) -> Floats: ...  # noqa: D102
    @property
    def sew_line(self) -> Floats: ...  # noqa: D102
    @property
    def fold_edge(self) -> Edge | None: ...  # noqa: D102
    @property
    def inner(self) -> Sequence[_Line]: ...  # noqa: D102
    @property
    def notches(self) -> Sequence[_Mark]: ...  # noqa: D102


def draw_pieces(pieces: Sequence[Drawable], title: str) -> str:
    """An SVG of pieces to scale beside one another."""
    strokes: list[SvgLine] = []
    words: list[SvgWords] = []
    x = y = deep = 0.0
    for piece in pieces:
        low, high = piece.cut_line.min(axis=0), piece.cut_line.max(axis=0)
        length, width = high - low
        if x and x + length > ROW:
            x, y, deep = 0.0, y - deep - BETWEEN, 0.0
        move = np.array([x - low[0], y - high[1]])
        strokes += _strokes(piece, move)
        middle = (low + high) / 2 + move
        words.append(SvgWords(float(middle[0]), float(middle[1]), _label(piece), 0.9 * float(length)))
        x, deep = x + float(length) + BETWEEN, max(deep, float(width))
    return draw(strokes, words, title)


def _strokes(piece: Drawable, move: Floats) -> list[SvgLine]:
    lines = [SvgLine(piece.cut_line + move), SvgLine(piece.sew_line + move, "sew")]
    if piece.fold_edge is not None:
        lines += [SvgLine(piece.fold_edge.points + move, style, closed=False) for style in ("bare", "fold")]
    lines += [SvgLine(np.array(line.points) + move, "thin", closed=False) for line in piece.inner]
    lines.append(SvgLine(np.array(piece.grain) + move, "thin", closed=False))
    for notch in piece.notches:
        at = np.array(notch.point) + move
        halves = np.array([(NOTCH, NOTCH), (NOTCH, -NOTCH)])
        lines += [SvgLine([at - half, at + half], "thin", closed=False) for half in halves]
    return lines


def _label(piece: Drawable) -> str:
    return f"{piece.name} × {piece.cut}" if piece.cut > 1 else piece.name
