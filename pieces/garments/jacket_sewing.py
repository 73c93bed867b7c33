"""The order in which a rib jacket is sewn in class: flat as long as that goes. Common practice, no source."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from pieces.data import toml_data
from pieces.errors import FormatError
from pieces.garments.jacket_sides import side_of
from pieces.garments.sewing import SewingStep

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.jacket_style import JacketStyle
    from pieces.piece.pieces import PieceSet

Edges = tuple[tuple[str, str], ...]

CUFFS = (("cuff", "edge"), ("sleeve", "wrist"), ("upper sleeve", "wrist"), ("under sleeve", "wrist"))
STANDING = {"band": ("neckband", "edge"), "collar": ("collar", "neck"), "hood": ("hood", "neck")}
"""What stands on the neckline, and its edge there."""


def jacket_steps(drafted: PieceSet, style: JacketStyle) -> tuple[SewingStep, ...]:
    """The steps of a jacket, in their order; what it has not is left out."""
    every = (*_ready(drafted, style), *_flat(drafted, style), *_bands(drafted, style), *_closing(drafted, style))
    return tuple(_step(key, style, edges, pieces) for key, edges, pieces in every if edges or pieces)


Planned = tuple[str, Edges, tuple[str, ...]]
"""A step by its key in the table, what is sewn in it, and which pieces are shown with it."""


@cache
def _table() -> dict[str, Any]:
    text = (files("pieces") / "tables" / "sewing.toml").read_text(encoding="utf-8")
    return toml_data(text, "sewing.toml", FormatError)


def _step(key: str, style: JacketStyle, edges: Edges, pieces: tuple[str, ...]) -> SewingStep:
    table = _table()
    said, ends = table[key], style.ends
    text = said["text"].format(
        band=table["band"][ends],
        elastic=table["elastic"][ends],
        elastic_hem=table["elastic-hem"][ends],
        band_ends=table["band-ends"][style.closure],
        collar_ends=table["collar-ends"][style.closure],
        cuff_seam=table["cuff-seam"][style.sleeve_pieces],
    )
    return SewingStep(said["title"], text, edges, pieces)


def _ready(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """What is done to single pieces."""
    yield "interfacing", (), tuple(piece.name for piece in drafted.of("interfacing"))
    if any(notch.name == "dart" for piece in drafted for notch in piece.notches):
        yield "dart", (), _named(drafted, "front")
    if style.pockets != "none":
        parts = ("patch pocket", "welt", "pocket strip", "pocket bag")
        yield (
            style.pockets,
            (),
            (*_named(drafted, "front"), *(name for part in parts for name in _named(drafted, part))),
        )


def _flat(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """The seams of the body and the sleeves."""
    yield "yoke", _seam(drafted, "yoke"), ()
    if style.back == "seam":
        yield "centre-back", _edges(drafted, ("back yoke", "centre back"), ("back", "centre back")), ()
    yield "shoulder", _seam(drafted, "shoulder"), ()
    yield "loop", (), _named(drafted, "hanger loop")
    set_in, side = _seam(drafted, "front armhole", "back armhole"), _seam(drafted, "side")
    if style.sleeve_pieces == "two":
        yield "sleeve-seams", _seam(drafted, "back sleeve seam", "front sleeve seam"), ()
        yield "side", side, ()
        yield "sleeve-round", set_in, ()
        return
    yield "sleeve-flat", set_in, ()
    yield "side-and-underarm", side + _seam(drafted, "underarm"), ()


def _bands(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """Cuffs and hem."""
    yield "rings", _seam(drafted, "cuff"), ()
    yield "cuffs", _edges(drafted, *CUFFS), ()
    if style.tab_width > 0:
        yield "tabs", _edges(drafted, ("hem tab", "band"), ("hem band", "other end")), ()
    yield "hem", _edges(drafted, ("hem band", "edge"), ("back", "hem"), ("front", "hem")), ()


def _closing(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """Neckline, front edges, facings and lining."""
    yield "facing-shoulder", _seam(drafted, "facing shoulder"), ()
    neck = _edges(drafted, ("back", "neck"), ("back yoke", "neck"), ("front", "neck"))
    piece, edge = STANDING[style.neckline]
    yield "neckband" if style.neckline == "band" else style.neckline, _edges(drafted, (piece, edge)) + neck, ()
    grown = style.facing == "grown-on"
    if style.closure == "zip":
        yield "zip-fold" if grown else "zip", _edges(drafted, ("front", "front edge")), _named(drafted, "front")
    if grown:
        yield "grown-facing", _edges(drafted, ("front", "inner edge")), ()
    yield "facings", _seam(drafted, "front edge", "front neckline", "back neckline"), ()
    yield "label", (), _named(drafted, "back yoke") or _named(drafted, "back")
    lining = (edge for seam in drafted.seams if "lining" in seam.name for edge in (*seam.first, *seam.second))
    yield "lining", tuple(dict.fromkeys(lining)), ()
    if style.closure == "buttons":
        yield "buttons", (), _named(drafted, "front")
    yield "last", (), _named(drafted, "back")


def _named(drafted: PieceSet, name: str) -> tuple[str, ...]:
    """The pieces of that name, or of each side where they differ."""
    return tuple(piece.name for piece in drafted if side_of(piece.name) == name)


def _seam(drafted: PieceSet, *names: str) -> Edges:
    """The edges of seams, of each side where those differ."""
    wanted = [seam for name in names for seam in drafted.seams if side_of(seam.name) == name]
    return tuple(dict.fromkeys(edge for seam in wanted for edge in (*seam.first, *seam.second)))


def _edges(drafted: PieceSet, *wanted: tuple[str, str]) -> Edges:
    """Edges by piece and name, as far as there are any, of each side where those differ."""
    return tuple(
        (piece.name, edge.name)
        for name, of in wanted
        for piece in drafted
        if side_of(piece.name) == name
        for edge in piece.edges
        if side_of(edge.name) == of
    )
