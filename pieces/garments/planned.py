"""Steps of sewing planned: what a table says of each, and which edges of the pieces are sewn in it."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from pieces.data import toml_data
from pieces.errors import FormatError
from pieces.garments.sewing import SewingStep

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pieces.piece.pieces import PieceSet

Edges = tuple[tuple[str, str], ...]
"""Edges, as piece and edge."""

Planned = tuple[str, Edges, tuple[str, ...]]
"""A step by its key in the table, what is sewn in it, and which pieces are shown with it."""


@cache
def sewing_table(name: str) -> dict[str, Any]:
    """The texts of the steps of a garment, or of several that are sewn alike: ``tables/sewing_NAME.toml``."""
    text = (files("pieces") / "tables" / f"sewing_{name}.toml").read_text(encoding="utf-8")
    return toml_data(text, f"sewing_{name}.toml", FormatError)


def steps_by(table: str, planned: Iterable[Planned], **words: str) -> Iterator[SewingStep]:
    """The steps in their order, those left out that have neither edges nor pieces; `words` go into their texts."""
    for key, edges, pieces in planned:
        if edges or pieces:
            said = sewing_table(table)[key]
            yield SewingStep(said["title"], said["text"].format(**words), edges, pieces)


def side_of(name: str) -> str:
    """What a piece, an edge or a seam of one side is called where both are one."""
    return name.removeprefix("left ").removeprefix("right ")


def named(drafted: PieceSet, *names: str) -> tuple[str, ...]:
    """The pieces of those names, or of each side where they differ; those there are."""
    return tuple(piece.name for name in names for piece in drafted if side_of(piece.name) == name)


def edges_of_seams(drafted: PieceSet, *names: str) -> Edges:
    """The edges of seams, of each side where those differ."""
    wanted = [seam for name in names for seam in drafted.seams if side_of(seam.name) == name]
    return tuple(dict.fromkeys(edge for seam in wanted for edge in (*seam.first, *seam.second)))


def edges_named(drafted: PieceSet, *wanted: tuple[str, str]) -> Edges:
    """Edges by piece and name, as far as there are any, of each side where those differ."""
    return tuple(
        (piece.name, edge.name)
        for name, of in wanted
        for piece in drafted
        if side_of(piece.name) == name
        for edge in piece.edges
        if side_of(edge.name) == of
    )
