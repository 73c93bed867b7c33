"""Front or back of a skirt with darts, as a piece: half of it on a fold, or left and right with a seam.

Vent and slit are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.errors import DraftError
from pieces.garments.parts.hem import HEM_FOLD, LEAST, fold_line, fold_of, turned_up
from pieces.garments.skirt.waist import zip_along
from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from pieces.garments.skirt.darted import Quarter

    Floats = NDArray[np.float64]

SHARE, MOST_HIGH = 0.3, 7 * INCH
"""How high a vent or slit is, of the length, and at the most."""

VENT_WIDE, VENT_SLOPE = 1.75 * INCH, 0.5
"""Finished width of a vent, and how far its top slopes, a millimetre of its width."""

ABOVE_HEM = INCH
"""How far a vent or slit goes on above the depth of the hem at the least."""

BELOW_ZIP = 2 * INCH
"""How much of the seam lies between zip and vent at the least."""


@dataclass(frozen=True)
class Opening:
    """A vent or slit at the hem of a centre back; its height from the hem, mm."""

    kind: Literal["vent", "slit"]
    height: float

    @classmethod
    def of(cls, kind: Literal["none", "vent", "slit"], length: float, zip_opening: float, hem: float) -> Opening | None:
        """One that suits a length, mm; DraftError where the zip leaves no room for it, or the hem is deeper."""
        if kind == "none":
            return None
        height = min(SHARE * length, MOST_HIGH)
        if length - height < zip_opening + BELOW_ZIP:
            raise DraftError(
                f"a {kind} {format_both(height)} high and a zip of {format_both(zip_opening)} do not fit into a length"
                f" of {format_both(length)}: make the skirt longer, or leave opening out",
                about="opening",
            )
        if hem + ABOVE_HEM > height:
            raise DraftError(
                f"a hem of {format_both(hem)} leaves nothing of a {kind} {format_both(height)} high: choose"
                f" {format_both(height - ABOVE_HEM)} or less, or leave opening out",
                about="hem",
            )
        return cls(kind, height)


def panel(
    name: str,
    drawn: Quarter,
    seam: float,
    hem: float,
    *,
    on_fold: bool,
    zips: Mapping[str, float],
    opening: Opening | None = None,
) -> Piece:
    """A front or back.

    Parameters
    ----------
    name
        Front or back.
    zips
        By edge, how long it stays open for a zip, mm.
    opening
        At the hem of its centre.
    """
    hem = hem if hem >= LEAST else 0.0
    centre, foot = f"centre {name}", float(drawn.hem[0, 0]) + hem
    fold: list[Edge] = [Edge(centre, Line((0.0, 0.0), (foot, 0.0)).flatten(), 0.0 if on_fold else seam, "seam")]
    notches: list[Notch] = []
    if on_fold:
        fold = [Edge(centre, fold[0].points.copy(), 0.0, "fold")]
        notches = [Notch(centre, (0.0, 0.0))]
    elif opening is not None:
        fold, notches = _opened(centre, opening, foot, hem, seam)
    inside = float(fold[-1].points[-1, 1])  # the edge of a vent lies beyond the centre
    finished = np.vstack([(foot - hem, inside), drawn.hem]) if inside else drawn.hem
    side, raw = turned_up(drawn.side, finished, hem)
    ends = fold_of(side, hem) if on_fold or not hem else (*fold_of(side, hem), Notch(HEM_FOLD, (foot - hem, inside)))
    edges = (
        *fold,
        Edge("hem", raw, 0.0, turned=hem),
        Edge("side", np.ascontiguousarray(side[::-1]), seam),
        *_waist(drawn, seam),
    )
    notches += ends
    lines = {"side": side, **({} if on_fold else {centre: fold[0].points})}
    notches += [notch for edge, open_to in zips.items() if edge in lines for notch in zip_along(lines[edge], open_to)]
    notches += [Notch("dart", at) for dart in drawn.darts for at in (dart.leg, dart.other_leg)]
    y = 0.0 if on_fold else 0.4 * float(drawn.hem[-1, 1])
    return Piece(
        name,
        edges,
        cut=1 if on_fold else 2,
        mirrored_pair=not on_fold,
        grain=((0.35 * foot, y), (0.85 * foot, y)),
        notches=tuple(notches),
        drill_points=tuple(dart.tip for dart in drawn.darts),
        label=f"{centre} on fold" if on_fold else "",
        inner=(
            *(InnerLine("sew", (dart.leg, dart.tip, dart.other_leg)) for dart in drawn.darts),
            *fold_line(finished, hem),
        ),
    )


def _waist(drawn: Quarter, seam: float) -> list[Edge]:
    """The waist from the side to the centre: its stretches are numbered from the centre, and so are the darts."""
    found = []
    for number in range(len(drawn.waist), 0, -1):
        found.append(Edge(f"waist {number}", np.ascontiguousarray(drawn.waist[number - 1][::-1]), seam))
        if number > 1:
            dart = drawn.darts[number - 2]
            found.append(Edge(f"dart {number - 1}", np.array([dart.other_leg, dart.roof, dart.leg]), seam))
    return found


def _opened(centre: str, opening: Opening, foot: float, hem: float, seam: float) -> tuple[list[Edge], list[Notch]]:
    """The edges of a centre seam with a vent or a slit, from the waist down to the raw edge, and its notches."""
    top: Point = (foot - hem - opening.height, 0.0)
    if opening.kind == "slit":
        return [Edge(centre, Line((0.0, 0.0), (foot, 0.0)).flatten(), seam)], [Notch("slit top", top)]
    outer: Point = (top[0] + VENT_SLOPE * VENT_WIDE, -VENT_WIDE)
    lines = (Line((0.0, 0.0), top), Line(top, outer), Line(outer, (foot, -VENT_WIDE)))
    names = (centre, "vent top", "vent edge")
    edges = [Edge(name, line.flatten(), seam) for name, line in zip(names, lines, strict=True)]
    return edges, [Notch("vent top", top), Notch("vent fold", (foot, 0.0))]
