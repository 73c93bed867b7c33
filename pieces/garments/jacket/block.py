"""The block of the rib jacket: the corners and curves that back, front and facings have in common.

The rules give cut sizes, so the corners of the cut line are set first; the sew line starts one seam inside.
Curves leave straight seams at right angles, so that both meet smoothly once sewn, and so that the
mitred cut line passes through the corners set, as nearly as curves are flattened. All rules are common practice,
no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.body.girths import covered_girth
from pieces.errors import DraftError
from pieces.garments.jacket.fit import HALF_NECK, armhole_depth, shoulder_slope
from pieces.garments.parts.trunk import armhole_curve, neckline_curve, side_curve
from pieces.piece.curve import Cubic, Line, Point, flatten
from pieces.piece.outline import Edge
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.jacket.allowances import Allowances
    from pieces.garments.jacket.style import JacketStyle

    Floats = NDArray[np.float64]

NECK = 15 * INCH
"""The neck girth for which the neckline's depths and width are quoted; they scale with the neck."""

CLOSE_MORE = 0.25 * INCH
"""Under a collar or a hood the neckline is a sixth of the neck wide, and so much more, on each side of the centre."""

CLOSE_BACK, CLOSE_FRONT = 1.0, 3.5
"""Its cut depths behind and in front, inches at a neck of 15 in."""

STEEPEST = 0.8
"""No shoulder drops more, a millimetre outwards, nor rises half as much."""

RAMP = 0.35
"""Over what share of an armhole, at each end, a move outwards fades in."""

LEAST_SWING = 1.25 * INCH
"""How far the armhole swings inwards at the least: a tighter curve leaves no room for a seam allowance."""


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
    def of(cls, body: Body, style: JacketStyle, other: Block | None = None) -> Block:
        """Work out the corners from the rules.

        Parameters
        ----------
        other
            The block of the other side, where left and right differ: both end at its hem.

        Raises
        ------
        DraftError
            If the neck is wider than the shoulder, or the armhole reaches below the hem.
        """
        seam = style.seam
        half = half_neckline(body, style)
        half_neck = half - seam
        shoulder = body.across_shoulder / 2 + seam + style.drop_shoulder
        if style.fit != "loose":  # what is sewn is set; of a loose one what is cut
            slope = shoulder_slope(body, style.fit, half_neck)
            run = math.hypot(slope, 1.0)
            half_neck = half - seam * (1 - slope) / run
            shoulder = body.across_shoulder / 2 + style.drop_shoulder + seam * (1 + slope) / run
        if shoulder < half_neck + 2 * seam + INCH:
            raise DraftError(
                f"the neck is wider than the shoulder: half the neckline takes {format_both(half_neck)}, but the "
                f"shoulder point is {format_both(shoulder)} from the centre; measure neck and across_shoulder again",
                about="neck",
            )
        slope = shoulder_slope(body, style.fit, half_neck)
        if not -STEEPEST / 2 < slope < STEEPEST:
            raise DraftError(
                f"the shoulder would {'drop' if slope > 0 else 'rise'} by {format_both(abs(slope) * 100)} on"
                f" {format_both(100)}: measure neck, across_shoulder and shoulder_slope again",
                about="across_shoulder" if body.shoulder_slope is None else "shoulder_slope",
            )
        tip = (slope * (shoulder - half_neck), shoulder)
        run = math.hypot(slope, 1.0)
        level = seam * (
            (slope + 1) / run - 1
        )  # by how much more than a seam the sewn neck point lies below the cut one
        depth = tip[0] + armhole_depth(body, style.fit, tip[0] - level) + body.tried_on.armhole
        bottom = cut_length(style)
        if other is not None:
            bottom = other.hem[0]
        elif style.fit != "loose":
            bottom += level  # from the sewn neck point, not from the cut one
        if bottom < depth + 2 * INCH:
            raise DraftError(
                f"the body is cut {format_both(bottom)} long, but its armhole is {format_both(depth)} deep: make the"
                f" {style.called} longer{style.if_rib(', the rib shallower')} or armhole_depth smaller",
                about="length",
            )
        width = panel_width(body, style) / 4
        quarter = bust_quarter(body, style)
        if quarter < shoulder - 2 * INCH:
            raise DraftError(
                f"a quarter of the body is {format_both(quarter)} wide, but the shoulder point is "
                f"{format_both(shoulder)} from the centre: give more ease{style.if_rib(', or drop the shoulder less')}",
                about="ease",
            )
        return cls((0.0, half_neck), tip, (depth, quarter), (bottom, width), seam, (slope / run, 1 / run))

    def _inside(self, corner: Point, along: float) -> Point:
        """One seam down from the shoulder line, and `along` it."""
        (dx, dy), s = self.across, self.seam
        return corner[0] + along * dx + s * dy, corner[1] + along * dy - s * dx

    def cut_corners(self, seams: Allowances) -> tuple[Point, Point, float]:
        """Neck and shoulder point, and the depth of the armhole below the latter, mm, as the allowances make them."""
        (dx, dy), shoulder = self.across, seams.of("shoulder")
        neck, tip = (
            (x + along * dx - shoulder * dy, y + along * dy + shoulder * dx)
            for (x, y), along in ((self.sewn_neck, -seams.of("neck")), (self.sewn_tip, seams.of("armhole")))
        )
        return neck, tip, self.sewn_underarm[0] - seams.of("armhole") - tip[0]

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
        return side_curve(self.sewn_hem, self.sewn_underarm)

    def armhole(self, scoop: float, across: float | None = None, wider: float = 0.0) -> Floats:
        """Armhole from underarm to shoulder point, square to side seam and shoulder.

        Parameters
        ----------
        scoop
            How far it swings towards the centre.
        across
            How near it comes to the centre line, halfway up, mm; where it is not given, the scoop alone decides.
        wider
            How much further out than the scoop puts it, halfway up, mm; its ends stay.
        """
        (x0, y0), (x1, y1), (dx, dy) = self.sewn_underarm, self.sewn_tip, self.across
        if across is None:
            rise = 0.5 * (x0 - x1)
            inwards = max(y0 - y1, 0.0) * scoop + 0.06 * (x0 - x1)
            free = flatten([Cubic((x0, y0), (x0, y0 - inwards), (x1 + rise * dy, y1 - rise * dx), (x1, y1))])
            return _moved_out(free, wider) if wider else free
        return armhole_curve((x0, y0), (x1, y1), (dx, dy), min(across, self.widest), scoop)

    @property
    def widest(self) -> float:
        """How far from the centre line an armhole may be kept at the most, mm."""
        return self.sewn_underarm[1] - LEAST_SWING

    def neckline(self, depth: float) -> Floats:
        """Neckline from the neck point to the centre, `depth` mm below it when cut; square to shoulder and centre."""
        return neckline_curve(self.sewn_neck, self.across, depth + self.seam)

    def outer_edges(self, scoop: float, across: float | None, wider: float = 0.0) -> tuple[Edge, ...]:
        """Side, armhole and shoulder: what back and front have in common."""
        shoulder = Line(self.sewn_tip, self.sewn_neck).flatten()
        return (
            Edge("side", self.side(), self.seam),
            Edge("armhole", self.armhole(scoop, across, wider), self.seam),
            Edge("shoulder", shoulder, self.seam),
        )


def _moved_out(armhole: Floats, wider: float) -> Floats:
    """An armhole, from the underarm up, moved outwards in the middle; at both ends it runs as before."""
    import numpy as np

    x = armhole[:, 0]
    up = (x[0] - x) / (x[0] - x[-1])
    ramps = np.clip(np.array([up, 1 - up]) / RAMP, 0.0, 1.0)
    faded = np.prod(ramps**2 * (3 - 2 * ramps), axis=0)
    moved: Floats = np.column_stack([x, armhole[:, 1] + wider * faded])
    return moved


def cut_length(style: JacketStyle) -> float:
    """Cut body length: finished length less the rib's depth plus two seam allowances."""
    return style.length - style.rib_depth + 2 * style.seam


def panel_width(body: Body, style: JacketStyle) -> float:
    """Cut width all round: the widest girth it covers, ease, and the four seam allowances of the side seams."""
    return covered_girth(body, style.length) + style.room + 4 * style.seam


def bust_quarter(body: Body, style: JacketStyle) -> float:
    """Cut width at the armhole line, a quarter of it: (bust + ease + four seam allowances) / 4 if shaped."""
    if style.side == "straight":
        return panel_width(body, style) / 4
    return (body.bust + style.room + 4 * style.seam) / 4


def half_neckline(body: Body, style: JacketStyle) -> float:
    """Half the width of the neckline, sewn: wide under a band of rib, close to the neck under a collar or a hood."""
    return HALF_NECK * body.neck if style.neckline == "band" else body.neck / 6 + CLOSE_MORE


def neck_depths(body: Body, style: JacketStyle) -> tuple[float, float]:
    """Cut depth of the back and the front neckline: 2 in and 4 3/4 in at a neck of 15 in; less under collar or hood."""
    back, front = (2, 4.75) if style.neckline == "band" else (CLOSE_BACK, CLOSE_FRONT)
    return back * INCH * body.neck / NECK, front * INCH * body.neck / NECK
