"""The lining of a jacket: back with a pleat, fronts up to the facings, sleeves; longer at hem and wrist, to jump.

All rules are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.piece.curve import Line
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import Seam
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from pieces.garments.jacket.style import JacketStyle

    Floats = NDArray[np.float64]

PLEAT = INCH
"""Depth of the pleat at the centre back, so that the back can move."""

JUMP = 0.5 * INCH
"""How much longer the lining is than the shell at hem and wrist: it folds down over the seam there."""

BEFORE_FACING = 0.5 * INCH
"""How far before the facing a dart of the lining ends."""

APART = 1e-6
"""Points nearer than so, mm, are one."""

SEAMS = (
    Seam("side of the lining", (("front lining", "side"),), (("back lining", "side"),)),
    Seam("front armhole of the lining", (("sleeve lining", "front cap"),), (("front lining", "armhole"),)),
    Seam("back armhole of the lining", (("sleeve lining", "back cap"),), (("back lining", "armhole"),)),
    Seam("underarm of the lining", (("sleeve lining", "front underarm"),), (("sleeve lining", "back underarm"),)),
)
TO_FRONT_FACING = Seam(
    "lining to front facing", (("front lining", "inner edge"),), (("front facing", "inner edge"),), JUMP
)
TO_BACK_FACING = Seam("lining to back facing", (("back lining", "neck"),), (("back facing", "inner edge"),), PLEAT)
TO_BACK_NECK = Seam("lining to back neckline", (("back lining", "neck"),), (("back", "neck"),), PLEAT)
TO_FRONT_NECK = Seam("lining to front neckline", (("front lining", "neck"),), (("front", "neck"),))
_OUTER = ("hem", "side", "armhole", "shoulder", "neck")


def draft_lining(shell: Mapping[str, Piece], style: JacketStyle) -> tuple[list[Piece], tuple[Seam, ...]]:
    """The pieces of a full lining, and their seams.

    Parameters
    ----------
    shell
        Back, front, sleeve and facings by name, before they get their allowances.
    """
    in_front, behind = shell.get("front facing"), shell.get("back facing")
    lining = [_back(shell["back"], behind), _front(shell["front"], in_front, style), _sleeve(shell["sleeve"])]
    seams = list(SEAMS)
    if in_front is not None:
        seams.append(TO_FRONT_FACING)
    if behind is not None:
        seams.append(TO_BACK_FACING)
    else:
        seams.append(TO_BACK_NECK)
    if style.facing == "none":
        seams.append(TO_FRONT_NECK)
    shoulder = (("front lining", "shoulder"),) + ((("front facing", "shoulder"),) if in_front and not behind else ())
    return lining, (*seams, Seam("shoulder of the lining", shoulder, (("back lining", "shoulder"),)))


def _back(back: Piece, facing: Piece | None) -> Piece:
    """Half the back on a fold, the pleat beyond its centre; below a back facing where there is one."""
    hem, side, armhole, shoulder, neck = (back.edge(name).points for name in _OUTER)
    if facing is not None:
        inner = facing.edge("inner edge").points[::-1]  # from the shoulder seam to the centre
        shoulder, neck = np.vstack([shoulder[:1], inner[:1]]), inner
    foot = _lowered(hem) + (0.0, PLEAT)
    low, moved = float(foot[0, 0]), np.array([0.0, PLEAT])
    neck = np.vstack([neck + moved, [(neck[-1, 0], 0.0)]])
    edges = (
        Edge("centre back", Line((float(neck[-1, 0]), 0.0), (low, 0.0)).flatten(), 0.0, "fold"),
        Edge("hem", np.vstack([[(low, 0.0)], foot]), back.edge("hem").allowance),
        Edge("side", _longer(side) + moved, back.edge("side").allowance),
        Edge("armhole", armhole + moved, back.edge("armhole").allowance),
        Edge("shoulder", shoulder + moved, back.edge("shoulder").allowance),
        Edge("neck", neck, back.edge("neck").allowance),
    )
    notches = tuple(Notch(n.name, (n.point[0], n.point[1] + PLEAT)) for n in back.notches if n.name == "back armhole")
    return Piece(
        "back lining",
        edges,
        material="lining",
        grain=((back.grain[0][0], 0.0), (back.grain[1][0], 0.0)),
        notches=(*notches, Notch("pleat", (float(neck[-1, 0]), PLEAT))),
        label="pleat on fold",
    )


def _front(front: Piece, facing: Piece | None, style: JacketStyle) -> Piece:
    """The front from the facing's inner edge to the side seam, or all of it where there is no facing."""
    hem, side, armhole, shoulder, neck = (front.edge(name).points for name in _OUTER)
    if facing is not None:
        inner = facing.edge("inner edge").points[::-1]  # from the shoulder seam down
        shoulder, neck = np.vstack([shoulder[:1], inner[:1]]), np.empty((0, 2))
        inner = np.vstack([inner, inner[-1:] + (JUMP, 0.0)])
        hem = np.vstack([facing.edge("hem").points[-1:], hem[hem[:, 1] > inner[-1, 1] + APART]])
    else:
        across = 0.0 if style.facing != "grown-on" else -2 * style.overlap - float(hem[0, 1])
        if style.facing == "grown-on":
            neck = _up_to(neck, across)
        hem = _from(hem, float(neck[-1, 1]))
        inner = np.array([neck[-1], hem[0] + (JUMP, 0.0)])
    seam = front.edge("hem").allowance
    edges = [
        Edge("inner edge", inner, seam),
        Edge("hem", _lowered(hem), seam),
        Edge("side", _longer(side), front.edge("side").allowance),
        Edge("armhole", armhole.copy(), front.edge("armhole").allowance),
        Edge("shoulder", shoulder.copy(), front.edge("shoulder").allowance),
    ]
    if len(neck):
        edges.append(Edge("neck", neck.copy(), front.edge("neck").allowance))
    return Piece(
        "front lining",
        tuple(edges),
        cut=2,
        mirrored_pair=True,
        material="lining",
        grain=front.grain,
        notches=tuple(notch for notch in front.notches if notch.name in ("front armhole", "dart")),
        **_dart(front, inner),
    )


def _dart(front: Piece, inner: Floats) -> dict[str, Any]:
    """The front's dart, of which the lining has one as well; it ends before the facing."""
    legs = [notch.point for notch in front.notches if notch.name == "dart"]
    if not legs:
        return {}
    tip = next(line.points[1] for line in front.inner if line.points[0] in legs)
    tip = (tip[0], max(tip[1], float(inner[:, 1].max()) + BEFORE_FACING))
    return {"inner": (InnerLine("line", (legs[0], tip, legs[1])),), "drill_points": (tip,)}


def _sleeve(sleeve: Piece) -> Piece:
    """The sleeve, longer at the wrist."""
    edges = [replace(edge, points=edge.points.copy()) for edge in sleeve.edges]
    wrist = next(i for i, edge in enumerate(edges) if edge.name == "wrist")
    foot = edges[wrist].points + (JUMP, 0.0)
    before, after = edges[wrist - 1], edges[wrist + 1]
    edges[wrist - 1] = replace(before, points=np.vstack([before.points, foot[:1]]))
    edges[wrist] = replace(edges[wrist], points=foot)
    edges[wrist + 1] = replace(after, points=np.vstack([foot[-1:], after.points]))
    return replace(
        sleeve,
        name="sleeve lining",
        edges=tuple(edges),
        material="lining",
        match=None,
        notches=tuple(notch for notch in sleeve.notches if notch.point[0] < foot[0, 0] - 2 * JUMP),
    )


def _lowered(hem: Floats) -> Floats:
    """A hem, as much lower as the lining is longer."""
    return np.ascontiguousarray(hem + (JUMP, 0.0))


def _longer(side: Floats) -> Floats:
    """A side seam, which begins at the hem, begun lower."""
    return np.vstack([side[:1] + (JUMP, 0.0), side])


def _from(hem: Floats, across: float) -> Floats:
    """A hem, which runs outwards, from so far from the centre on, mm."""
    start = (float(np.interp(across, hem[:, 1], hem[:, 0])), across)
    return np.vstack([[start], hem[hem[:, 1] > across + APART]])


def _up_to(neck: Floats, across: float) -> Floats:
    """A neckline from the neck point as far as it comes to so much from the centre, mm."""
    y = neck[:, 1]
    kept = neck[y > across + 1e-6]
    beyond = int(np.argmax(y <= across + 1e-6))
    before, after = neck[beyond - 1], neck[beyond]
    share = (before[1] - across) / (before[1] - after[1]) if before[1] != after[1] else 0.0
    return np.vstack([kept, before + share * (after - before)])
