"""A sleeve of two pieces: upper and under sleeve, with seams in front and behind instead of one under the arm.

The upper sleeve takes half the width at every height, so that each seam is as long on either side. Both follow the bend
of the arm. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.curve import point_along
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

BEND = 0.75 * INCH
"""How far the wrist lies in front of a straight sleeve's."""

LEVELS = 24
"""Points on each long seam."""

LEAST_RISE = 5.0
"""How far above the underarm a seam must meet the cap at the least, mm."""


def cut_two_piece_sleeve(drafted: PieceSet, seam: float) -> PieceSet:
    """The set with upper and under sleeve in place of the sleeve.

    Parameters
    ----------
    seam
        Allowance of the seams between them, mm.

    Raises
    ------
    DraftError
        If a seam between them would not reach the cap.
    """
    upper, under = _cut(drafted["sleeve"], seam)
    pieces = [piece for one in drafted for piece in ((upper, under) if one.name == "sleeve" else (one,))]
    seams = [_through(each) for each in drafted.seams if each.name != "underarm"]
    seams += [_between(where) for where in ("front", "back")]
    return replace(drafted, pieces=tuple(pieces), seams=tuple(seams))


def _between(where: str) -> Seam:
    """The seam between upper and under sleeve, in front or behind."""
    first, second = ((f"{part} sleeve", f"{where} seam") for part in ("upper", "under"))
    return Seam(f"{where} sleeve seam", (first,), (second,))


def _cut(sleeve: Piece, seam: float) -> tuple[Piece, Piece]:
    """Upper and under sleeve, both as they look from outside: the front is where y rises above, and falls below."""
    caps = sleeve.edge("front cap").points, sleeve.edge("back cap").points[::-1]
    base, foot = float(caps[0][0, 0]), float(sleeve.edge("wrist").points[0, 0])
    wide = float(caps[0][0, 1]), float(caps[1][0, 1])  # of the front half, and (below nought) of the back half
    outer, inner = zip(*(split_across(cap, half / 2) for cap, half in zip(caps, wide, strict=True)), strict=True)
    if max(float(part[0, 0]) for part in inner) > base - LEAST_RISE:
        raise DraftError(
            "a sleeve in two pieces needs a higher cap: choose a closer fit, less sleeve_room, or a sleeve in one",
            about="sleeve_pieces",
        )
    front, back = (
        _seam_line(sleeve.edge(f"{name} underarm").points, float(part[0, 0]), half, (base, foot))
        for name, part, half in zip(("front", "back"), inner, wide, strict=True)
    )
    allowance = {edge.name: edge.allowance for edge in sleeve.edges}
    shift = np.array([0.0, 1.0])
    upper = (
        Edge("back seam", back, seam),
        Edge("wrist", np.array([back[-1], front[-1]]), allowance["wrist"]),
        Edge("front seam", front[::-1].copy(), seam),
        Edge("front cap", inner[0], allowance["front cap"]),
        Edge("back cap", inner[1][::-1].copy(), allowance["back cap"]),
    )
    front, back = front * (1, -1), back * (1, -1)
    under = (
        Edge("front seam", front, seam),
        Edge("wrist", np.array([front[-1], back[-1]]), allowance["wrist"]),
        Edge("back seam", back[::-1].copy(), seam),
        Edge("back cap", (outer[1] - wide[1] * shift)[::-1].copy(), allowance["back cap"]),
        Edge("front cap", outer[0] - wide[0] * shift, allowance["front cap"]),
    )
    grain = ((base + 0.2 * (foot - base), 0.0), (base + 0.8 * (foot - base), 0.0))
    above, below = _notches(sleeve, wide, base)
    return (
        replace(sleeve, name="upper sleeve", edges=upper, grain=grain, notches=(*above, *_elbows(upper))),
        replace(
            sleeve,
            name="under sleeve",
            edges=under,
            grain=grain,
            notches=(*below, *_elbows(under), Notch("underarm", (base, 0.0)), Notch("cuff seam", (foot, -BEND))),
            match=None,
        ),
    )


def _elbows(edges: tuple[Edge, ...]) -> Iterator[Notch]:
    """A notch in the middle of each long seam: as far along it on either part."""
    for edge in edges:
        if edge.name.endswith("seam"):
            yield Notch(f"{edge.name} middle", point_along(edge.points, edge.length / 2))


def _seam_line(underarm: Floats, start: float, half: float, ends: tuple[float, float]) -> Floats:
    """From the cap at `start` down to the wrist: half as far from the middle as the underarm, and bent forwards."""
    rising = underarm if underarm[0, 0] < underarm[-1, 0] else underarm[::-1]
    x = np.linspace(*ends, LEVELS)
    along = (x - ends[0]) / (ends[1] - ends[0])
    y = np.interp(x, rising[:, 0], rising[:, 1]) / 2 + BEND * along**2
    return np.vstack([[(start, half / 2)], np.column_stack([x, y])])


def split_across(cap: Floats, at: float) -> tuple[Floats, Floats]:
    """Half a cap, from the underarm up, in two where it is so far from the middle, mm."""
    across = np.abs(cap[:, 1])
    first = int(np.argmax(across <= abs(at)))
    share = (across[first - 1] - abs(at)) / (across[first - 1] - across[first])
    middle = cap[first - 1] + share * (cap[first] - cap[first - 1])
    middle[1] = at
    rest = cap[first:] if share < 1 - 1e-9 else cap[first + 1 :]
    return np.vstack([cap[:first], middle]), np.vstack([middle, rest])


def _notches(sleeve: Piece, wide: tuple[float, float], base: float) -> tuple[tuple[Notch, ...], tuple[Notch, ...]]:
    """The sleeve's notches, each on the part that has its edge now; that at the wrist bends with it."""
    above, below = [], []
    for notch in sleeve.notches:
        x, y = notch.point
        if x > base:
            above.append(Notch(notch.name, (x, y + BEND)))
        elif wide[1] / 2 <= y <= wide[0] / 2:
            above.append(notch)
        else:
            below.append(Notch(notch.name, (x, y - (wide[0] if y > 0 else wide[1]))))
    return tuple(above), tuple(below)


def _through(seam: Seam) -> Seam:
    """A seam whose runs follow the sleeve's cap into its two parts."""

    def run(edges: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
        found: list[tuple[str, str]] = []
        for piece, edge in edges:
            parts = ("under sleeve", "upper sleeve") if piece == "sleeve" else (piece,)
            found += [(part, edge) for part in parts]
        return tuple(found)

    return replace(seam, first=run(seam.first), second=run(seam.second))
