"""Which parts of a garment may be cut otherwise, by their names: common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pieces import Piece

INSIDE = ("facing", "pocket bag", "lining")
"""Parts that lie inside: they may be of other cloth."""

LAYERED = ("collar", "yoke", "cuff", "waistband")
"""Parts of two layers: the inner one may be of other cloth, whether the two are cut apart or folded in one."""

UNSEEN = (*INSIDE, "under sleeve", "under collar")
"""Parts that may be pieced, as a seam in them does not show; so may the inner layer of those cut twice."""

SMALL = ("facing", "pocket", "waistband", "cuff", "belt", "tie", "strap", "tab")
"""Parts that may lie across the grain."""


def is_called(piece: Piece, names: tuple[str, ...]) -> bool:
    """Whether a piece of shell has one of these names, alone or among other words."""
    words = f" {piece.name.lower()} "
    return piece.material == "shell" and any(f" {name} " in words for name in names)


def is_double(piece: Piece) -> bool:
    """Whether it is cut as two equal layers, such as an upper and an under collar."""
    return is_called(piece, LAYERED) and piece.cut == 2 and not piece.mirrored_pair and not is_called(piece, ("cuff",))


def is_folded_over(piece: Piece) -> bool:
    """Whether its two layers are cut in one and folded along its length."""
    return is_called(piece, ("waistband", "cuff")) and not piece.on_fold
