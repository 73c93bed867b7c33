"""Jobs with several garments: small ones of imported squares, and jackets."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from pieces.exchange.own.plain import to_plain
from pieces.piece.piece import Piece
from pieces.piece.pieces import PieceSet

if TYPE_CHECKING:
    from pathlib import Path

BODY = (
    'bust = "36 in", hip = "38 in", across_shoulder = "15 in", neck = "14 in", upper_arm = "11 1/2 in",'
    ' wrist = "7 in", arm_length = "22 1/2 in"'
)

JACKET = f'[[garment]]\ngarment = "rib-jacket"\nname = "Ada"\nbody = {{ {BODY} }}\nstyle = {{ closure = "zip" }}\n'
"""A jacket for a body that is given."""

SIZED = (
    '[[garment]]\ngarment = "rib-jacket"\nname = "Ben"\nquantity = 2\nsizes = "men-letters"\nsize = "M"\n'
    'style = { closure = "buttons" }\n'
)
"""Two jackets in a size of a table."""

CLOTH = '[[fabric]]\nname = "canvas"\nwidth = "{}"\nspread = "open"\nprice = "10.00 / yd"\n'


def bag(folder: Path, name: str, side: float, cut: int) -> str:
    """A ``[[garment]]`` entry of imported squares, mm, whose file is written."""
    square = Piece.from_polygon([(0, 0), (side, 0), (side, side), (0, side)], "side", unit="mm", cut=cut)
    (folder / f"{name}.json").write_text(json.dumps(to_plain(PieceSet(name, (square,)))), encoding="utf-8")
    return f'[[garment]]\ngarment = "imported"\nname = "{name}"\npieces_file = "{name}.json"\n'
