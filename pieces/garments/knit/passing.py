"""The narrow places of a knit top, and what must pass them: head, shoulders, hip, arm, hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.girths import reaches_hip, to_waist
from pieces.garments.knit.girths import body_length, widest
from pieces.garments.knit.stretch import Passing

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pieces.body.body import Body
    from pieces.garments.knit.style import KnitStyle
    from pieces.piece.pieces import PieceSet

OVER_HEAD, OVER_HAND = "over the head", "over the hand"


def knit_places(drafted: PieceSet, body: Body, style: KnitStyle) -> list[Passing]:
    """Those of the shell."""
    return list(_of_shell(drafted.measures, body, style))


def rib_places(drafted: PieceSet, body: Body, style: KnitStyle) -> list[Passing]:
    """Those of the bands, each of which must also meet its opening."""
    return list(_of_bands(drafted.measures, body, style))


def _of_shell(sizes: Mapping[str, float], body: Body, style: KnitStyle) -> Iterator[Passing]:
    about = "knit_stretched"
    narrow = min(sizes["chest"], sizes["hem_opening"])
    yield Passing("body", narrow, *_widest(body), "give more ease or girth_share", about)
    if body.waist is not None and body_length(body, style) >= to_waist(body):
        yield Passing("body", narrow, "round the waist", body.waist, "give more ease or girth_share", about)
    if reaches_hip(body, body_length(body, style)):
        yield Passing("hem", sizes["hem_opening"], "over the hip", body.hip, "give more ease or girth_share", about)
    yield Passing("neckline", sizes["neck_opening"], OVER_HEAD, sizes["head"], "give more neck_wider", about)
    yield Passing("sleeve", sizes["upper_arm"], "round the upper arm", body.upper_arm, "choose a looser fit", about)
    end, change = sizes["wrist_opening"], "give more sleeve_hem"
    if style.is_short:
        yield Passing("sleeve hem", end, "round the upper arm", body.upper_arm, change, about)
    elif body.wrist is not None:
        yield Passing("sleeve end", end, OVER_HAND, body.wrist, change, about)


def _of_bands(sizes: Mapping[str, float], body: Body, style: KnitStyle) -> Iterator[Passing]:
    changes = {
        "cuff": ("sleeve_hem", "cuff_share"),
        "hem band": ("ease", "hem_share"),
        "neckband": ("neck_wider", "neck_share"),
    }
    passed = {"cuff": [], "hem band": [_widest(body)], "neckband": [(OVER_HEAD, sizes["head"])]}
    openings = {"cuff": sizes["wrist_opening"], "hem band": sizes["hem_opening"], "neckband": sizes["neck_opening"]}
    if body.wrist is not None:
        passed["cuff"].append((OVER_HAND, body.wrist))
    if reaches_hip(body, body_length(body, style)):
        passed["hem band"].append(("over the hip", body.hip))
    for band, opening in openings.items():
        sewn = sizes.get(f"{band.replace(' ', '_')}_sewn_length")
        if sewn is None:
            continue
        change = " or ".join(changes[band] if style.rule_is_share else changes[band][:1])
        for over, girth in (*passed[band], ("for its opening", opening)):
            yield Passing(band, sewn, over, girth, f"give more {change}", "swatch_stretched")


def _widest(body: Body) -> tuple[str, float]:
    girth = widest(body)
    return "over the bust" if girth == body.bust else "over shoulders and arms", girth
