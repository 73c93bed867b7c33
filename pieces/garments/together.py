"""Several garments as one set of pieces: each under a label, so that all can lie on one cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from pieces.piece.pieces import PieceSet, Seam
from pieces.require import require, require_all, require_whole

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces.garments.sewing import SewingStep

BETWEEN = ": "
"""Between a label and the name of what it is put before."""


@dataclass(frozen=True, eq=False)
class Labelled:
    """One of several garments.

    Parameters
    ----------
    label
        What it is called; no other has the same.
    quantity
        How many of it are cut.
    """

    label: str
    quantity: int
    pieces: PieceSet

    def __post_init__(self) -> None:
        require(self.label, str, "the label of a garment", "text")
        require_whole(self.quantity, f"how many of '{self.label}' are cut", least=1)
        require(self.pieces, PieceSet, f"the pieces of '{self.label}'", "a PieceSet")


def labelled(label: str, name: str) -> str:
    """A name under a label, such as ``"Ada: back"``; without a label, as it is."""
    return f"{label}{BETWEEN}{name}" if label else name


def join_garments(many: Iterable[Labelled], title: str, notes: tuple[str, ...] = ()) -> PieceSet:
    """All pieces of some garments as one set, each as often as it is cut.

    Parameters
    ----------
    title
        What the whole is called.
    notes
        Remarks on the whole; those of each garment follow them.

    Raises
    ------
    PieceError
        If two pieces come to the same name.
    """
    every = require_all(many, Labelled, "the garments of a set", "labelled garments")
    return PieceSet(
        title,
        tuple(
            replace(piece, name=labelled(one.label, piece.name), cut=piece.cut * one.quantity)
            for one in every
            for piece in one.pieces
        ),
        tuple(_labelled_seam(one.label, seam) for one in every for seam in one.pieces.seams),
        {labelled(one.label, name): mm for one in every for name, mm in one.pieces.measures.items()},
        (*notes, *(labelled(one.label, note) for one in every for note in one.pieces.notes)),
        tuple(replace(size, name=labelled(one.label, size.name)) for one in every for size in one.pieces.finished),
    )


def labelled_step(label: str, step: SewingStep) -> SewingStep:
    """A step of sewing with its pieces under the label of their garment."""
    return replace(
        step,
        title=labelled(label, step.title),
        edges=tuple((labelled(label, piece), edge) for piece, edge in step.edges),
        pieces=tuple(labelled(label, piece) for piece in step.pieces),
    )


def _labelled_seam(label: str, seam: Seam) -> Seam:
    first, second = (tuple((labelled(label, piece), edge) for piece, edge in run) for run in (seam.first, seam.second))
    return replace(seam, name=labelled(label, seam.name), first=first, second=second)
