"""Back, front, facing and tabs of the rib jacket.

The rules give cut sizes, so the corners of the cut line are set first; the sew line starts one seam inside.
Curves leave straight seams at right angles, so that both meet smoothly once sewn, and so that the
mitred cut line passes through the corners set, as nearly as curves are flattened. All rules are common practice,
no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import DraftError
from pieces.piece.curve import Cubic, Line, Point, flatten, point_along
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.jacket_style import JacketStyle

    Floats = NDArray[np.float64]

NECK = 15 * INCH
"""The neck girth for which the neckline's depths and width are quoted; they scale with the neck."""

FACING = 2.5 * INCH
"""Finished width of a facing, where the neckline is wide enough for it."""

FRONT_SCOOP, BACK_SCOOP = 1.15, 0.85
"""How far towards the centre the armhole swings before it rises: the front is hollowed out more."""


def armhole_depth(body: Body) -> float:
    """Depth of the armhole under the shoulder point, mm: as measured, or bust / 8 + 5 1/2 in.

    The rule gives 10 3/4 in for a bust of 42 in (10 1/2 to 11 is usual): common practice, no source.
    """
    return body.armhole_depth if body.armhole_depth is not None else body.bust / 8 + 5.5 * INCH


@dataclass(frozen=True)
class Block:
    """The corners that back and front share; cut unless called sewn; x down from the neck point, y from centre."""

    neck: Point
    tip: Point
    underarm: Point
    hem: Point
    seam: float
    across: Point
    """Unit vector along the shoulder, outwards."""

    @classmethod
    def of(cls, body: Body, style: JacketStyle) -> Block:
        """Work out the corners from the rules.

        Raises
        ------
        DraftError
            If the neck is wider than the shoulder, or the armhole reaches below the hem.
        """
        seam = style.seam
        half_neck = (4 * INCH) * body.neck / NECK - seam
        shoulder = body.across_shoulder / 2 + seam + style.drop_shoulder
        if shoulder < half_neck + 2 * seam + INCH:
            raise DraftError(
                f"the neck is wider than the shoulder: half the neckline takes {format_both(half_neck)}, but the "
                f"shoulder point is {format_both(shoulder)} from the centre; measure neck and across_shoulder again",
                about="neck",
            )
        slope = INCH / (8 * INCH - half_neck)  # drops 1 in at 8 in from the centre
        tip = (slope * (shoulder - half_neck), shoulder)
        depth, bottom = tip[0] + armhole_depth(body), cut_length(style)
        if bottom < depth + 2 * INCH:
            raise DraftError(
                f"the body is cut {format_both(bottom)} long, but its armhole is {format_both(depth)} deep: make the "
                "jacket longer, the rib shallower or armhole_depth smaller",
                about="length",
            )
        run = np.hypot(slope, 1.0)
        width = panel_width(body, style) / 4
        quarter = bust_quarter(body, style)
        if quarter < shoulder - 2 * INCH:
            raise DraftError(
                f"a quarter of the body is {format_both(quarter)} wide, but the shoulder point is "
                f"{format_both(shoulder)} from the centre: give more ease, or drop the shoulder less",
                about="ease",
            )
        return cls((0.0, half_neck), tip, (depth, quarter), (bottom, width), seam, (slope / run, 1 / run))

    def _inside(self, corner: Point, along: float) -> Point:
        """One seam down from the shoulder line, and `along` it."""
        (dx, dy), s = self.across, self.seam
        return corner[0] + along * dx + s * dy, corner[1] + along * dy - s * dx

    @property
    def sewn_neck(self) -> Point:
        """Neck point on the sew line."""
        return self._inside(self.neck, self.seam)

    @property
    def sewn_tip(self) -> Point:
        """Shoulder point on the sew line."""
        return self._inside(self.tip, -self.seam)

    @property
    def sewn_underarm(self) -> Point:
        """Underarm point on the sew line."""
        return self.underarm[0] + self.seam, self.underarm[1] - self.seam

    @property
    def match(self) -> Point:
        """Where back and front lie on the lines of the cloth's pattern: at the underarm's level, on the centre line.

        So lines across meet at the side seams, and one along runs down the centres. Common practice, no source.
        """
        return self.sewn_underarm[0], 0.0

    @property
    def sewn_hem(self) -> Point:
        """Where the side seam meets the hem on the sew line."""
        return self.hem[0] - self.seam, self.hem[1] - self.seam

    def side(self) -> Floats:
        """Side seam from hem to underarm, square to both."""
        (x0, y0), (x1, y1) = self.sewn_hem, self.sewn_underarm
        lead = (x0 - x1) * 0.4
        return flatten([Cubic((x0, y0), (x0 - lead, y0), (x1 + lead, y1), (x1, y1))])

    def armhole(self, scoop: float) -> Floats:
        """Armhole from underarm to shoulder point, square to side seam and shoulder."""
        (x0, y0), (x1, y1), (dx, dy) = self.sewn_underarm, self.sewn_tip, self.across
        rise = 0.5 * (x0 - x1)
        inwards = max(y0 - y1, 0.0) * scoop + 0.06 * (x0 - x1)
        return flatten([Cubic((x0, y0), (x0, y0 - inwards), (x1 + rise * dy, y1 - rise * dx), (x1, y1))])

    def neckline(self, depth: float) -> Floats:
        """Neckline from the neck point to the centre, `depth` mm below it when cut; square to shoulder and centre."""
        (x0, y0), (dx, dy) = self.sewn_neck, self.across
        x1 = depth + self.seam
        fall, reach = 0.55 * (x1 - x0), 0.55 * y0
        return flatten([Cubic((x0, y0), (x0 + fall * dy, y0 - fall * dx), (x1, reach), (x1, 0.0))])

    def outer_edges(self, scoop: float) -> tuple[Edge, ...]:
        """Side, armhole and shoulder: what back and front have in common."""
        shoulder = Line(self.sewn_tip, self.sewn_neck).flatten()
        return (
            Edge("side", self.side(), self.seam),
            Edge("armhole", self.armhole(scoop), self.seam),
            Edge("shoulder", shoulder, self.seam),
        )


def cut_length(style: JacketStyle) -> float:
    """Cut body length: finished length less the rib's depth plus two seam allowances."""
    return style.length - style.rib_depth + 2 * style.seam


def panel_width(body: Body, style: JacketStyle) -> float:
    """Cut width all round: the larger of bust and hip, ease, and the four seam allowances of the side seams."""
    return max(body.bust, body.hip) + style.ease + 4 * style.seam


def bust_quarter(body: Body, style: JacketStyle) -> float:
    """Cut width at the armhole line, a quarter of it: (bust + ease + four seam allowances) / 4 if shaped."""
    if style.side == "straight":
        return panel_width(body, style) / 4
    return (body.bust + style.ease + 4 * style.seam) / 4


def cut_extension(style: JacketStyle) -> float:
    """Cut width beyond the centre front: the extension, or the seam of an edge that has none; 0 on a fold there."""
    if style.facing == "grown-on":
        return style.overlap
    return style.overlap + style.front_allowance


def neck_depths(body: Body) -> tuple[float, float]:
    """Cut depth of the back and the front neckline: 2 in and 4 3/4 in at a neck of 15 in."""
    return 2 * INCH * body.neck / NECK, 4.75 * INCH * body.neck / NECK


def draft_back(block: Block, body: Body, style: JacketStyle) -> Piece:
    """The back: half of it on the fold, or left and right with a centre-back seam."""
    neckline = block.neckline(neck_depths(body)[0])
    hem, top = block.sewn_hem, (float(neckline[-1, 0]), 0.0)
    on_fold = style.back == "fold"
    centre = Line(top, (hem[0], 0.0)).flatten()
    edges = (
        Edge("centre back", centre, 0.0 if on_fold else block.seam, "fold" if on_fold else "seam"),
        Edge("hem", Line((hem[0], 0.0), hem).flatten(), block.seam),
        *block.outer_edges(BACK_SCOOP),
        Edge("neck", neckline, block.seam),
    )
    return Piece(
        "back",
        edges,
        cut=1 if on_fold else 2,
        mirrored_pair=not on_fold,
        grain=_grain(hem),
        notches=_armhole_notches(edges, "back", 2),
        match=block.match,
        label="centre back on fold" if on_fold else "centre-back seam",
    )


def draft_front(block: Block, body: Body, style: JacketStyle) -> Piece:
    """The front, with its extension for the closure, and the facing grown on where the style asks for it."""
    neckline = _to_front_edge(block.neckline(neck_depths(body)[1]), style.overlap)
    hem = block.sewn_hem
    allowance = style.front_allowance
    if style.facing == "grown-on":
        neckline = np.vstack([neckline, _facing_top(neckline, block, style)[1:]])
        allowance = block.seam
    edge, top = float(neckline[-1, 1]), float(neckline[-1, 0])
    edges = (
        Edge("front edge", Line((top, edge), (hem[0], edge)).flatten(), allowance),
        Edge("hem", Line((hem[0], edge), hem).flatten(), block.seam),
        *block.outer_edges(FRONT_SCOOP),
        Edge("neck", neckline, block.seam),
    )
    centre = Notch("centre front", (hem[0], 0.0))
    return Piece(
        "front",
        edges,
        cut=2,
        mirrored_pair=True,
        grain=_grain(hem),
        notches=(*_armhole_notches(edges, "front", 1), *(() if edge == 0 else (centre,))),
        match=block.match,
        label="facing grown on" if style.facing == "grown-on" else "",
    )


def draft_facing(block: Block, body: Body, style: JacketStyle) -> Piece:
    """The separate front facing: the front edge's shape, `facing_width` wide, its inner edge turned under."""
    neckline = _to_front_edge(block.neckline(neck_depths(body)[1]), style.overlap)
    folded = _facing_top(neckline, block, style)  # as if grown on, then turned back over the front edge
    top = (folded * (1, -1) - (0, 2 * style.overlap))[::-1]
    hem = block.sewn_hem[0]
    inner, edge = float(top[0, 1]), float(top[-1, 1])
    edges = (
        Edge("front edge", Line((float(top[-1, 0]), edge), (hem, edge)).flatten(), style.front_allowance),
        Edge("hem", Line((hem, edge), (hem, inner)).flatten(), block.seam),
        Edge("inner edge", Line((hem, inner), (float(top[0, 0]), inner)).flatten(), block.seam),
        Edge("neck", top, block.seam),
    )
    middle = (inner + edge) / 2
    grain = ((hem * 0.35, middle), (hem * 0.75, middle))
    return Piece("front facing", edges, cut=2, mirrored_pair=True, grain=grain)


def draft_tab(style: JacketStyle) -> Piece:
    """A fabric tab between front edge and hem band: as deep as the rib, folded double."""
    depth, width = 2 * style.rib_depth, style.tab_width
    corners: list[Point] = [(0.0, 0.0), (depth, 0.0), (depth, width), (0.0, width)]
    names = ("front edge", "hem", "band", "other hem")
    edges = tuple(
        Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), style.seam) for i, name in enumerate(names)
    )
    return Piece("hem tab", edges, cut=2, grain=((depth * 0.2, width / 2), (depth * 0.8, width / 2)))


def _to_front_edge(neckline: Floats, overlap: float) -> Floats:
    return np.vstack([neckline, [(neckline[-1, 0], -overlap)]]) if overlap else neckline


def _facing_top(neckline: Floats, block: Block, style: JacketStyle) -> Floats:
    """The neckline mirrored at the front edge, from there as far as the facing is wide."""
    widest = block.sewn_neck[1] + style.overlap - 2 * block.seam
    if widest <= 0:
        raise DraftError(
            f"a seam of {format_both(block.seam)} leaves no room for a facing below this neckline:"
            " use a narrower seam, or set facing to 'none'",
            about="seam",
        )
    width = min(FACING, widest) if style.facing_width is None else style.facing_width
    if not 0 < width <= widest:
        raise DraftError(
            f"facing_width must be between 0 and {format_both(widest)} to end below the neckline,"
            f" not {format_both(width)}",
            about="facing_width",
        )
    edge = float(neckline[-1, 1])
    mirrored = neckline[::-1] * (1, -1) + (0, 2 * edge)  # starts at the front edge, y falling
    end = edge - width
    inside = mirrored[mirrored[:, 1] > end + 1e-6]
    height = np.interp(-end, -mirrored[:, 1], mirrored[:, 0])
    return np.vstack([inside, [(height, end)]])


def _grain(hem: Point) -> tuple[Point, Point]:
    return (hem[0] * 0.45, hem[1] * 0.45), (hem[0] * 0.9, hem[1] * 0.45)


def _armhole_notches(edges: tuple[Edge, ...], name: str, count: int) -> tuple[Notch, ...]:
    """Notches a third of the way up the armhole from the side seam: one in front, two behind."""
    armhole = next(edge for edge in edges if edge.name == "armhole")
    return tuple(
        Notch(f"{name} armhole", point_along(armhole.points, armhole.length / 3 + 10.0 * i)) for i in range(count)
    )
