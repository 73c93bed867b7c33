"""A knit top, drafted: back, front, sleeve, its bands of rib, and a hood or a pocket where the style has one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.body.rules import RULES, measured_or_usual
from pieces.errors import DraftError, OutlineError
from pieces.garments.idle import idle_by
from pieces.garments.knit.bands import draft_bands, rings
from pieces.garments.knit.block import KnitBlock
from pieces.garments.knit.body import draft_back, draft_front
from pieces.garments.knit.finished import finished_sizes, fit_notes
from pieces.garments.knit.girths import body_length
from pieces.garments.knit.passing import knit_places, rib_places
from pieces.garments.knit.sleeve import draft_sleeve, fit_cap
from pieces.garments.knit.stretch import require_stretch, stretch_notes
from pieces.garments.parts.kangaroo import kangaroo_of, kangaroo_place, kangaroo_pocket
from pieces.garments.parts.neck import NO_CORD, hood
from pieces.garments.plausible import long_sleeve, require_cuff, require_hems, require_lengths, require_stand
from pieces.piece.piece import Notch
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.knit.style import KnitStyle
    from pieces.garments.parts.cap import Cap
    from pieces.piece.piece import Piece

SEAMS = (
    Seam("shoulder", (("front", "shoulder"),), (("back", "shoulder"),)),
    Seam("front armhole", (("sleeve", "front cap"),), (("front", "armhole"),)),
    Seam("back armhole", (("sleeve", "back cap"),), (("back", "armhole"),)),
    Seam("side", (("front", "side"),), (("back", "side"),)),
    Seam("underarm", (("sleeve", "front underarm"),), (("sleeve", "back underarm"),)),
)
HOOD_SEAM = Seam("hood", (("hood", "neck"),), (("back", "neck"), ("front", "neck")))

FOLLOWED = ("length", "sleeve", "ease", "armhole", "arm")
"""Corrections of a try-on that a knit top is drafted by."""

BELOW_ARM = 1.5 * INCH
"""How far a pocket keeps from the level of the underarm."""

DIRECTION = "knit: its stretch must run round the body: measure it across the cloth, and lay each grainline along it"


def draft_top(name: str, body: Body, style: KnitStyle) -> PieceSet:
    """Back, front and sleeve of the shell, what the style adds to them, and its bands of rib, checked.

    Raises
    ------
    DraftError
        If the measurements and options do not go together, or cloth or rib stretch too little to pull it on.
    """
    try:
        return _draft(name, body, style)
    except OutlineError as error:
        raise DraftError(f"these measurements and options do not make a {name} together: {error}") from error


def _draft(name: str, body: Body, style: KnitStyle) -> PieceSet:
    require_lengths(body, body_length(body, style), style.sleeve or 0.0)
    if style.stood_by != "neck":
        require_stand(body, style.stood_by, style.stands)
    head = measured_or_usual(body, "head")
    block = KnitBlock.of(body, style, head)
    back, front = draft_back(block, style), draft_front(block, style)
    cap = fit_cap(front.edge("armhole").length, back.edge("armhole").length, body, style)
    rise = block.underarm[0] - front.notches[0].point[0]
    if style.band_depth and style.sleeve:
        require_cuff("rib_depth", style.band_depth, style.sleeve)
    sleeve = draft_sleeve(cap, block.tip[1] - body.across_shoulder / 2, rise, body, style)
    necks = back.edge("neck").length, front.edge("neck").length
    front, added, seams = _added(block, front, necks, body, style)
    wrist = sleeve.edges[1].length
    wanted = rings(wrist, 4 * block.hem[1], necks, style)
    bands = list(draft_bands(wanted, style))
    pieces = (back, front, sleeve, *added, *(band for band, _ in bands))
    closed = (Seam(band.name, ((band.name, "end"),), ((band.name, "other end"),)) for band, _ in bands)
    drafted = PieceSet(name, pieces, (*SEAMS, *seams, *closed))
    drafted.check()
    if style.turned > style.seam:
        require_hems(drafted, style.turned)
    drafted = replace(drafted, measures=_measures(drafted, block, cap, head))
    finished = tuple(finished_sizes(drafted, block, body, style))
    notes = (
        *_tried(body),
        *_head(body, head),
        DIRECTION,
        *_stretch(drafted, body, style),
        *(said for _, said in bands),
        *long_sleeve(body, style.sleeve or 0.0),
        *fit_notes(finished, block, body, name),
        *idle_by(style, style.idle),
        *((NO_CORD,) if "hood" in {piece.name for piece in pieces} else ()),
    )
    return replace(drafted, notes=notes, finished=finished)


def _added(
    block: KnitBlock, front: Piece, necks: tuple[float, float], body: Body, style: KnitStyle
) -> tuple[Piece, list[Piece], list[Seam]]:
    """The front with the place of a pocket; pocket and hood, as far as the style has them, and their seams."""
    pieces: list[Piece] = []
    seams: list[Seam] = []
    if style.has_pocket:
        foot = block.hem[0]
        room = foot - block.underarm[0] - BELOW_ARM
        pocket = kangaroo_of(body.bust, block.hem[1], room, style.mouth)
        end = Notch("pocket", (foot, pocket.lower))
        front = replace(front, notches=(*front.notches, end), inner=(kangaroo_place(pocket, foot),))
        pieces.append(kangaroo_pocket(pocket, style.seam))
    height = style.hood_over(body.wearer)
    if height is not None:
        pieces.append(hood(sum(necks), height, style.seam, style.seam, necks[1]))
        seams.append(HOOD_SEAM)
    return front, pieces, seams


def _measures(drafted: PieceSet, block: KnitBlock, cap: Cap, head: float) -> dict[str, float]:
    names = {piece.name for piece in drafted}
    bands = {
        f"{name.replace(' ', '_')}_{what}": size
        for name in ("cuff", "hem band", "neckband")
        if name in names
        for what, size in (
            ("cut_length", drafted[name].width),
            ("cut_depth", drafted[name].length),
            ("sewn_length", drafted[name].edge("edge").length),
        )
    }
    return bands | {
        "chest": 4 * block.underarm[1],
        "hem_opening": 4 * block.hem[1],
        "neck_opening": block.neck_opening,
        "wrist_opening": drafted["sleeve"].edges[1].length,
        "upper_arm": cap.width,
        "cap_height": cap.height,
        "armhole_seam": sum(drafted[name].edge("armhole").length for name in ("back", "front")),
        "head": head,
    }


def _stretch(drafted: PieceSet, body: Body, style: KnitStyle) -> Iterator[str]:
    """Refuse what cannot be pulled on; say what the cloth, and the rib, must stretch to."""
    ribbed = rib_places(drafted, body, style)
    for cloth, swatch, places in (("knit", style.knit, knit_places(drafted, body, style)), ("rib", style.rib, ribbed)):
        if swatch is not None:
            require_stretch(cloth, swatch, places)
        yield from stretch_notes(cloth, swatch, places)
    if style.rib is not None and "cuff_sewn_length" in drafted.measures:
        yield from style.rib.passing_hand("cuff", drafted.measures["cuff_sewn_length"], body.wrist, body.wearer)


def _tried(body: Body) -> Iterator[str]:
    """What a try-on has shown, and what of it is not drafted here."""
    for correction, value in body.tried_on.each():
        said = f"{correction.words} by {format_both(value)}"
        yield f"try-on: {said}" + ("" if correction.of in FOLLOWED else ": left out, a knit top is not drafted by it")


def _head(body: Body, head: float) -> Iterator[str]:
    if body.head is None:
        yield f"head: not measured, so {format_both(head)} by rule: {RULES['head'].words}"
