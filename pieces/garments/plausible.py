"""Lengths that no body has a use for: refused in a line that names the option, or told. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.girths import to_waist
from pieces.body.ranges import usual_range
from pieces.body.rules import measured_or_usual
from pieces.errors import DraftError
from pieces.garments.planned import side_of
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

MOST_SLEEVE, OVER_HAND = 1.5, 4 * INCH
"""No sleeve is so many times as long as the arm; one that goes so far beyond it, mm, is told to cover the hand."""

MOST_LENGTH = 1.1
"""No garment is so many times as long as from the neck point to the floor."""

MOST_STAND = 1 / 3
"""Nothing stands higher on a neckline, as a share of the neck's girth: beyond it, it covers the mouth."""

MOST_CUFF = 0.45
"""No cuff takes more of its sleeve."""

HEMMED = ("back", "front", "body", "sleeve")
"""Pieces with hems."""


def require_lengths(body: Body, length: float, sleeve: float) -> None:
    """Refuse a garment that lies on the floor, and a sleeve far longer than any arm of the kind, or than this one.

    Raises
    ------
    DraftError
        About ``length`` or ``sleeve``.
    """
    floor = to_waist(body) + measured_or_usual(body, "crotch_depth") + measured_or_usual(body, "inside_leg")
    if length > MOST_LENGTH * floor:
        raise DraftError(
            f"a length of {format_both(length)} from the neck point lies on the floor, which is about"
            f" {format_both(floor)} below it: make it shorter, or check the unit",
            about="length",
        )
    whose, arm = ("the arm", body.arm_length) if body.arm_length else ("an arm", _longest_arm(body))
    if sleeve > MOST_SLEEVE * arm:
        raise DraftError(
            f"a sleeve of {format_both(sleeve)} is far longer than {whose} of {format_both(arm)}: make it shorter, or"
            " check the unit",
            about="sleeve",
        )


def long_sleeve(body: Body, sleeve: float) -> Iterator[str]:
    """A line where a sleeve is so much longer than the arm that it covers the hand."""
    if body.arm_length is not None and sleeve > body.arm_length + OVER_HAND:
        yield f"sleeve: {format_both(sleeve - body.arm_length)} longer than the arm: it covers the hand"


def require_stand(body: Body, option: str, height: float) -> None:
    """Refuse what stands higher on the neckline than a neck is, and points of a collar as long."""
    most = MOST_STAND * body.neck
    if height > most:
        raise DraftError(
            f"{option} of {format_both(height)} is more than a neck takes: write {format_both(most)} or less",
            about=option,
        )


def require_cuff(option: str, depth: float, sleeve: float) -> None:
    """Refuse a cuff that takes most of its sleeve, mm."""
    if depth > MOST_CUFF * sleeve:
        raise DraftError(
            f"{option} of {format_both(depth)} takes most of a sleeve of {format_both(sleeve)}: write"
            f" {format_both(MOST_CUFF * sleeve)} or less, or make the sleeve longer",
            about=option,
        )


def require_hems(drafted: PieceSet, depth: float, *, with_wrist: bool = True) -> None:
    """Refuse a hem that is deeper than a seam or a slit that ends in it, mm.

    Parameters
    ----------
    with_wrist
        Whether sleeves end in the same hem.
    """
    ends = (("side", "side slit"), ("side", "side slit", "underarm"))[with_wrist]
    short = min(
        (
            edge
            for piece in drafted
            if side_of(piece.name) in HEMMED
            for edge in piece.edges
            if edge.name.endswith(ends)
        ),
        key=lambda edge: edge.length,
    )
    if depth > short.length:
        raise DraftError(
            f"hem of {format_both(depth)} is deeper than the {short.name} of {format_both(short.length)} that ends in"
            " it: make it shallower",
            about="hem",
        )


def _longest_arm(body: Body) -> float:
    return usual_range(body.wearer, "arm_length").high
