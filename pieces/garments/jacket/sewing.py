"""The order in which a rib jacket is sewn in class: flat as long as that goes. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, steps_by

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.jacket.style import JacketStyle
    from pieces.garments.planned import Edges, Planned
    from pieces.garments.sewing import SewingStep
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet

CUFFS = (("cuff", "edge"), ("sleeve", "wrist"), ("upper sleeve", "wrist"), ("under sleeve", "wrist"))
PARTS = ("patch pocket", "welt", "pocket strip", "pocket bag")
"""What pockets are made of."""

STANDING = {"band": ("neckband", "edge"), "collar": ("collar", "neck"), "hood": ("hood", "neck")}
"""What stands on the neckline, and its edge there."""


def jacket_steps(drafted: PieceSet, style: JacketStyle) -> tuple[SewingStep, ...]:
    """The steps of a jacket, in their order; what it has not is left out."""
    every = (*_ready(drafted, style), *_flat(drafted, style), *_bands(drafted, style), *_closing(drafted, style))
    return tuple(steps_by("jacket", every, **_words(style)))


def interfaced(drafted: PieceSet) -> tuple[Piece, ...]:
    """The facings, for which interfacing is bought by its area where none is drafted."""
    if drafted.of("interfacing"):
        return ()
    return tuple(piece for piece in drafted if piece.name.endswith("facing"))


def _words(style: JacketStyle) -> dict[str, str]:
    """What the texts say otherwise from style to style."""
    table, ends = sewing_table("jacket"), style.ends
    return {
        "band": table["band"][ends],
        "elastic": table["elastic"][ends],
        "elastic_hem": _elastic_hem(style),
        "band_ends": table["band-ends"][style.closure],
        "hem_ends": table["band-end-of-tabs"]["text"] if style.tab_width else table["band-ends"][style.closure],
        "zip_top": table["zip-top"][style.neckline],
        "front_edges": table["front-edges"][style.neckline],
        "collar_ends": table["collar-ends"][style.closure],
        "cuff_seam": table["cuff-seam"][style.sleeve_pieces],
    }


def _elastic_hem(style: JacketStyle) -> str:
    table = sewing_table("jacket")
    at_tabs = style.ends == "elastic" and style.tab_width > 0
    said: str = table["band-end-of-tabs"]["elastic"] if at_tabs else table["elastic-hem"][style.ends]
    return said


def _ready(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """What is done to single pieces."""
    yield "interfacing", (), tuple(piece.name for piece in drafted.of("interfacing"))
    yield "interfacing-bought", (), tuple(piece.name for piece in interfaced(drafted))
    if any(notch.name == "dart" for piece in drafted for notch in piece.notches):
        yield "dart", (), named(drafted, "front", "front lining")
    if style.pockets != "none":
        edges = tuple(
            (name, edge.name) for part in PARTS for name in named(drafted, part) for edge in drafted[name].edges
        )
        yield style.pockets, edges, named(drafted, "front")


def _flat(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """The seams of the body and the sleeves."""
    yield "yoke", edges_of_seams(drafted, "yoke"), ()
    if style.back == "seam":
        yield "centre-back", edges_named(drafted, ("back yoke", "centre back"), ("back", "centre back")), ()
    yield "shoulder", edges_of_seams(drafted, "shoulder"), ()
    yield "loop", (), named(drafted, "hanger loop")
    set_in, side = edges_of_seams(drafted, "front armhole", "back armhole"), edges_of_seams(drafted, "side")
    if style.sleeve_pieces == "two":
        yield "sleeve-seams", edges_of_seams(drafted, "back sleeve seam", "front sleeve seam"), ()
        yield "side", side, ()
        yield "sleeve-round", set_in, ()
        return
    yield "sleeve-flat", set_in, ()
    yield "side-and-underarm", side + edges_of_seams(drafted, "underarm"), ()


def _bands(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """Cuffs and hem."""
    yield "rings", edges_of_seams(drafted, "cuff"), ()
    yield "cuffs", edges_named(drafted, *CUFFS), ()
    if style.tab_width > 0:
        yield "tabs", edges_named(drafted, ("hem tab", "band"), ("hem band", "other end")), ()
    yield "hem", edges_named(drafted, ("hem band", "edge"), ("back", "hem"), ("front", "hem")), ()


def _closing(drafted: PieceSet, style: JacketStyle) -> Iterator[Planned]:
    """Neckline, front edges, facings and lining."""
    yield "label", (), (*named(drafted, "back facing", "back lining", "back yoke"), *named(drafted, "back"))[:1]
    yield "facing-shoulder", edges_of_seams(drafted, "facing shoulder"), ()
    lined = (edge for seam in drafted.seams if "lining" in seam.name for edge in (*seam.first, *seam.second))
    lining, faced = tuple(dict.fromkeys(lined)), style.facing == "separate"
    yield "lining-faced", lining if faced else (), ()
    neck = edges_named(drafted, ("back", "neck"), ("back yoke", "neck"), ("front", "neck"))
    if style.neckline == "collar":
        own, upper = (edges_named(drafted, ("collar", edge)) for edge in ("neck", "upper edge"))
        inside = _inside(drafted, style)
        yield "collar-outer" if inside else "collar", own + neck + (() if inside else upper), ()
        yield "collar-faced", own + inside if inside else (), ()
    else:
        piece, edge = STANDING[style.neckline]
        over = edges_named(drafted, ("hood", "over the head"), ("hood", "face"))
        key = "neckband" if style.neckline == "band" else style.neckline
        yield key, edges_named(drafted, (piece, edge)) + over + neck, ()
    grown = style.facing == "grown-on"
    if style.closure == "zip":
        yield "zip-fold" if grown else "zip", edges_named(drafted, ("front", "front edge")), named(drafted, "front")
    if grown:
        yield "grown-facing", edges_named(drafted, ("front", "inner edge")), ()
    yield "facings", edges_of_seams(drafted, "front edge", "front neckline", "back neckline"), ()
    yield "lining", () if faced else lining, ()
    hems = edges_named(drafted, ("back lining", "hem"), ("front lining", "hem"), ("sleeve lining", "wrist"))
    yield "lining-hems", hems if faced else (), ()
    if style.neckline == "collar" and not any(name.startswith("back") for name, _ in _inside(drafted, style)):
        yield "collar-down", edges_named(drafted, ("collar", "neck")), ()
    if style.closure == "buttons":
        yield "buttons", (), named(drafted, "front")
    yield "last", (), named(drafted, "back")


def _inside(drafted: PieceSet, style: JacketStyle) -> Edges:
    """The neckline that the inner layer of a collar is sewn to: of separate facings, and what lies behind."""
    if style.facing != "separate":
        return ()
    behind = named(drafted, "back facing") or named(drafted, "back lining")
    return edges_named(drafted, ("front facing", "neck"), *((name, "neck") for name in behind))
