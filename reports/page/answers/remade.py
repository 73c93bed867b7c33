"""What became of pieces whose file was read again with other decisions: in words, piece by piece."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.account import PLURALS
from pieces.units import Units, format_size

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.piece.piece import Piece

KINDS: dict[str, str] = {"line": "inner line", "cutout": "cutout", "sew": "sew line"}

LEAST = 0.05
"""A side that is longer or shorter by less has not changed, mm."""


def remade(before: Sequence[Piece], after: Sequence[Piece], units: Units) -> list[str]:
    """What is new, gone, or changed; one whose outline is the same under another name was renamed."""
    old, new = {piece.name: piece for piece in before}, {piece.name: piece for piece in after}
    gone = [piece for name, piece in old.items() if name not in new]
    said = []
    for name, piece in new.items():
        was = old.get(name) or next((one for one in gone if _is_alike(one, piece)), None)
        if was is None:
            said.append(f"'{name}' is new: {_size(piece, units)}")
            continue
        if was in gone:
            gone.remove(was)
            said.append(f"'{was.name}' is called '{name}' now")
        changes = _changes(was, piece, units)
        if changes:
            said.append(f"'{name}': {'; '.join(changes)}")
    return said + [f"'{piece.name}' is gone" for piece in gone]


def _is_alike(one: Piece, other: Piece) -> bool:
    return one.cut_line.shape == other.cut_line.shape and bool(abs(one.cut_line - other.cut_line).max() < LEAST)


def _changes(was: Piece, now: Piece, units: Units) -> list[str]:
    pairs = [
        ("cut", f"cut {was.cut}", f"cut {now.cut}"),
        ("pair", _pair(was), _pair(now)),
        ("material", was.material, now.material),
        ("fold", _fold(was), _fold(now)),
        ("lines", _lines(was), _lines(now)),
        ("lies", _lies(was), _lies(now)),
        ("label", *(f"labelled '{piece.label}'" if piece.label else "without a label" for piece in (was, now))),
    ]
    changes = [f"{before}, now {after}" for _, before, after in pairs if before != after]
    if max(abs(was.length - now.length), abs(was.width - now.width)) >= LEAST:
        changes.append(f"{_size(was, units)}, now {_size(now, units)}")
    elif was.cut_line.shape != now.cut_line.shape or bool(abs(was.cut_line - now.cut_line).max() >= LEAST):
        changes.append("its outline runs otherwise")
    if not changes and _marks(was) != _marks(now):
        changes.append("its grainline, or lines and marks on it, lie otherwise")
    return changes


def _pair(piece: Piece) -> str:
    return "left and right" if piece.mirrored_pair else "all the same way up"


def _fold(piece: Piece) -> str:
    return "on the fold" if piece.on_fold else "not on a fold"


def _lines(piece: Piece) -> str:
    many = Counter(KINDS[line.kind] for line in piece.inner)
    many.update({"notch": len(piece.notches), "hole": len(piece.drill_points)})
    said = [f"{count} {kind if count == 1 else PLURALS.get(kind, kind + 's')}" for kind, count in many.items() if count]
    return f"{', '.join(said) or 'no lines or marks'} on it"


def _lies(piece: Piece) -> str:
    return f"lies {piece.lies}" + (f", up to {piece.tilt:g} degrees off" if piece.tilt else "")


def _marks(piece: Piece) -> tuple[object, ...]:
    inner = [(line.kind, np.round(line.points, 3).tolist()) for line in piece.inner]
    notches = [(notch.name, np.round(notch.point, 3).tolist()) for notch in piece.notches]
    return inner, notches, np.round(piece.drill_points, 3).tolist(), np.round(piece.grain, 3).tolist()


def _size(piece: Piece, units: Units) -> str:
    if units is Units.METRIC:
        return f"{piece.length / 10:.1f} × {piece.width / 10:.1f} cm"
    return f"{format_size(piece.length, units, 16)} × {format_size(piece.width, units, 16)}"
