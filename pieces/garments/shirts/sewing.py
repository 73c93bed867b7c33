"""The order in which a shirt is sewn, and what it needs besides cloth. Common practice, no source."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, steps_by
from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import buttons_for, thread_for
from pieces.trims.trim import TrimNeeded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.planned import Planned
    from pieces.garments.sewing import SewingStep
    from pieces.garments.shirts.style import ShirtStyle
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet


def shirt_steps(drafted: PieceSet, style: ShirtStyle) -> tuple[SewingStep, ...]:
    """The steps of a shirt, in their order; what it has not is left out."""
    table = sewing_table("shirt")["words"]
    words = {"where": table[style.pockets], "cuff": table["cuff"] if style.has_cuff else ""}
    return tuple(steps_by("shirt", (*_body(drafted), *_sleeves(drafted)), **words))


def _body(drafted: PieceSet) -> Iterator[Planned]:
    """What is done flat, and the neck."""
    yield "interfacing", (), tuple(piece.name for piece in drafted.of("interfacing"))
    yield "interfacing-bought", (), tuple(piece.name for piece in _interfaced(drafted))
    patch = named(drafted, "patch pocket")
    yield "pocket", (), (*patch, *named(drafted, "front")) if patch else ()
    yield "yoke", edges_of_seams(drafted, "yoke"), ()
    yield "shoulder", edges_of_seams(drafted, "shoulder"), ()
    yield "facing", edges_of_seams(drafted, "front edge"), ()
    yield "grown-facing", edges_named(drafted, ("front", "inner edge")), ()
    yield "collar", edges_of_seams(drafted, "collar"), ()
    ends = edges_of_seams(drafted, "front neckline", "front neck end")
    yield "neck-ends", ends or edges_named(drafted, ("front", "neck end")), ()


def _sleeves(drafted: PieceSet) -> Iterator[Planned]:
    """Sleeves, side seams, hems and buttons."""
    yield "sleeves", edges_of_seams(drafted, "front armhole", "back armhole"), ()
    binding = named(drafted, "slit binding")
    yield "slits", (), (*binding, *named(drafted, "sleeve")) if binding else ()
    yield "side-and-underarm", edges_of_seams(drafted, "side", "underarm"), ()
    yield "cuffs", edges_of_seams(drafted, "cuff"), ()
    if not named(drafted, "cuff"):
        yield "wrist", edges_named(drafted, ("sleeve", "wrist")), ()
    yield "hem", edges_named(drafted, ("back", "hem"), ("front", "hem"), ("front facing", "hem")), ()
    yield "buttons", (), named(drafted, "front")
    yield "label", (), named(drafted, "back yoke") or named(drafted, "back")
    yield "last", (), named(drafted, "back")


def front_edge(drafted: PieceSet) -> float:
    """The finished front edge from hem to neckline, mm; where the facing is grown on, the line it is folded at."""
    front = next(piece for piece in drafted if piece.name in ("front", "right front"))
    edges = [edge.length for edge in front.edges if edge.name == "front edge"]
    if edges:
        return edges[0]
    (start, end), *_ = (line.points for line in front.inner)
    return math.dist(start, end)


def shirt_trims(drafted: PieceSet, style: ShirtStyle) -> tuple[TrimNeeded, ...]:
    """Buttons of front and cuffs, thread, a label, and the area to interface where no pieces are cut for it."""
    buttons = [buttons_for(front_edge(drafted), ("front edge",))]
    if style.has_cuff:
        buttons.append(TrimNeeded("buttons or snaps", ("cuff",), count=2))
    thread = thread_for(_sewn(drafted, style))
    return (*buttons, *thread, TrimNeeded("label", ("back neck",), count=1), *_interfacing(drafted))


def _sewn(drafted: PieceSet, style: ShirtStyle) -> Iterator[Sewn]:
    yield from sewn_seams(drafted)
    for piece in drafted:
        for edge, layers, both in (
            ("outer edge", 2, False),
            ("front end", 2, False),
            ("hem", 3, True),
            ("wrist", 3, not style.has_cuff),
            ("mouth", 3, True),
            ("pocket side", 3, True),
            ("other pocket side", 3, True),
            ("bottom", 3, True),
        ):
            if (both or piece.name == "collar") and piece.material == "shell":
                yield from _along(piece, edge, layers)


def _along(piece: Piece, name: str, layers: int) -> Iterator[Sewn]:
    """An edge that is stitched; a collar's two layers are sewn to one another once."""
    times = piece.cut * (2 if piece.on_fold else 1) / (2 if piece.name == "collar" else 1)
    for edge in piece.edges:
        if edge.name == name:
            yield Sewn(f"{piece.name}, {name}", times * edge.length, layers, ("lockstitch",))


def _interfaced(drafted: PieceSet) -> tuple[Piece, ...]:
    """What interfacing is bought for by its area, where none is drafted."""
    if drafted.of("interfacing"):
        return ()
    return tuple(drafted[name] for name in named(drafted, "collar", "front facing", "cuff"))


def _interfacing(drafted: PieceSet) -> Iterator[TrimNeeded]:
    import shapely

    faced = _interfaced(drafted)
    if faced:
        area = sum(
            shapely.Polygon(piece.unfolded).area * (1 if piece.name == "collar" else piece.cut) for piece in faced
        )
        yield TrimNeeded("interfacing", tuple(piece.name for piece in faced), area=area)
