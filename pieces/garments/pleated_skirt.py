"""A skirt pleated all round: straight panels in knife pleats, box pleats or inverted pleats.

A pleat is as wide as it is seen, and folds as deep as asked: fullness is 1 + 2 fold / spacing, with two folds to a box
or inverted pleat 1 + 4 fold / spacing: arithmetic. The rest is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import floor
from typing import TYPE_CHECKING, Literal

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.idle import idle_notes
from pieces.garments.parts.waistband import UNDERLAP, BandMake
from pieces.garments.skirt.checked import checked
from pieces.garments.skirt.rectangle import rectangle
from pieces.garments.skirt.sewing import skirt_steps
from pieces.garments.skirt.style import (
    ZipAt,
    cloth_width_option,
    ease_option,
    finished_waist,
    hip_ease_option,
    interfacing_option,
    length_option,
    seam_option,
    usual_length,
    waistband_depth_option,
    zip_option,
)
from pieces.garments.skirt.trims import skirt_trims
from pieces.garments.skirt.waist import banded, zip_along, zip_opening
from pieces.garments.style import GarmentStyle
from pieces.piece.finished import Finished
from pieces.piece.piece import InnerLine, Notch
from pieces.piece.pieces import PieceSet, Seam
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.piece.piece import Piece

Pleat = Literal["knife", "box", "inverted"]

FOLD, MEETS = "fold", "meets"
"""The line that a pleat is folded at, drawn through, and the line that the fold is laid on, dashed."""

MOST_PANELS = 12
"""No skirt is pieced of more."""

OVERLAP = 1.0
"""Pleats that overlap by more, mm, are noted."""

NEAR = 0.15
"""Pleats come out even at a spacing that differs by no more than that share from what is asked for, if they can."""

FULL_KNIFE, FULL_BOX = 1.0, 0.5
"""How deep a fold is as a share of the spacing, so that the cloth lies threefold."""


class PleatedSkirtStyle(GarmentStyle):
    """How a pleated skirt is to be made; lengths are given with their units."""

    length: Mm = length_option()
    pleat: Pleat = option("knife", "folds all one way, boxes, or folds that meet at the centre front", "choice")
    spacing: Mm = option(
        1.5 * INCH, "from one pleat to the next, as worn, about: they come out even", example="1 1/2 in", least=INCH / 4
    )
    fold: MmOrNone = option(
        None,
        "how deep each fold is; by default as the spacing, of box and inverted pleats half: three layers of cloth",
        example="1 1/2 in",
        least=ABOVE_NOTHING,
    )
    fitted_to: Literal["hip", "waist"] = option(
        "hip", "pleats narrow from the hip up, or fit the waist and hang free from it", "choice"
    )
    panels: Literal["by cloth", "1", "2", "3", "4", "5", "6"] = option(
        "by cloth", "in how many panels it is cut, or as many as the cloth asks", "choice"
    )
    cloth_width: Mm = cloth_width_option()
    ease: Mm = ease_option()
    hip_ease: Mm = hip_ease_option()
    seam: Mm = seam_option()
    hem: Mm = option(1.5 * INCH, "turned up at the hem", example="1 1/2 in", least=0)
    zip: ZipAt = zip_option("side")
    waistband: BandMake = option("folded", "one piece folded double, or two layers", "choice")
    waistband_depth: Mm = waistband_depth_option()
    interfacing: Literal["none", "cut"] = interfacing_option()


@dataclass(frozen=True)
class EvenPleats:
    """Pleats that come out even.

    Parameters
    ----------
    count, panels
        Of all, and in how many panels alike.
    spacing, fold
        As worn where they are fitted, mm.
    folds
        How many a pleat has.
    """

    count: int
    panels: int
    spacing: float
    fold: float
    folds: int

    @property
    def pitch(self) -> float:
        """The cloth that a pleat takes, mm."""
        return self.spacing + 2 * self.folds * self.fold

    @property
    def fullness(self) -> float:
        """How many times as wide the cloth is."""
        return self.pitch / self.spacing

    @property
    def panel(self) -> float:
        """A panel's width, sewn, mm."""
        return self.count // self.panels * self.pitch

    def lines(self, spacing: float) -> Iterator[tuple[str, float]]:
        """Each line across a panel where pleats are so far apart as worn: what it is, and where, mm from the side."""
        under = (self.pitch - spacing) / 2
        for number in range(self.count // self.panels):
            start = number * self.pitch
            yield (FOLD if self.folds == 2 else MEETS), start + under
            yield FOLD, start + under + spacing
            if self.folds == 2 and number:
                yield MEETS, start


def draft(body: Body, style: PleatedSkirtStyle) -> PieceSet:
    """Draft the skirt.

    Returns
    -------
    PieceSet
        The panel and the waistband, checked.

    Raises
    ------
    DraftError
        If a single pleat is wider than the cloth, it takes too many panels, or the waist leaves a pleat no width.
    """
    worn = replace(style, length=usual_length(body, style.length))
    return checked("pleated-skirt", _draft, body, worn, more="hip_ease")


def _draft(body: Body, style: PleatedSkirtStyle) -> PieceSet:
    waist, hip = finished_waist(body, style), body.hip + style.hip_ease
    girth = max(hip, waist) if style.fitted_to == "hip" else waist
    pleats = even_pleats(girth, style)
    opening, deep = zip_opening(body, style), measured_or_usual(body, "hip_depth")
    at_waist = waist / pleats.count
    panel = _panel(pleats, at_waist, min(deep, style.length / 2), opening, style)
    total = pleats.panels * pleats.panel
    places = [("seam", number * waist / pleats.panels) for number in range(1, pleats.panels)]
    sewn_to = (("panel", "waist"),) * pleats.panels
    fold_at_waist = (pleats.pitch - at_waist) / 2 / pleats.folds
    # The cloth that a knife pleat has below the zip is held by the underlap; folds that meet have none there.
    underlap = max(UNDERLAP, fold_at_waist) if style.pleat == "knife" else UNDERLAP
    band = banded(style, waist, style.waistband, sewn_to, places, ease=waist - total, underlap=underlap)
    return PieceSet(
        "pleated-skirt",
        (panel, *band.pieces),
        (Seam("panels", (("panel", "side"),), (("panel", "other side"),)), *band.seams),
        measures={
            "waist_seam": waist,
            "pleat_spacing": pleats.spacing,
            "pleat_fold": pleats.fold,
            "pleat_spacing_at_waist": at_waist,
            "pleat_fold_at_waist": fold_at_waist,
            "hem_round": total,
            "zip_opening": opening,
        },
        notes=tuple(_notes(pleats, style, at_waist, fold_at_waist)),
        finished=(
            Finished("waist", waist, measured_or_usual(body, "waist")),
            Finished("hip", girth if style.fitted_to == "hip" else total, body.hip),
            Finished("length from the waist seam", style.length),
            Finished("hem round, open", total),
        ),
    )


def even_pleats(girth: float, style: PleatedSkirtStyle) -> EvenPleats:
    """Pleats that fit a girth, mm, as near as can be to the spacing asked for, and as full.

    The number is whole in each panel. At the centre front lies the middle of a box, or two folds of inverted pleats
    meet, where that takes about the spacing asked for, and at most one panel more.

    Raises
    ------
    DraftError
        If no number of panels takes them.
    """
    folds = 1 if style.pleat == "knife" else 2
    share = FULL_KNIFE if folds == 1 else FULL_BOX
    share = share if style.fold is None else style.fold / style.spacing
    most = style.cloth_width - 2 * style.seam if style.panels == "by cloth" else float("inf")
    counts = range(1, MOST_PANELS + 1) if style.panels == "by cloth" else (int(style.panels),)
    for off in (NEAR, 1.0):
        found = [
            pleats
            for panels in counts
            for pleats in _in_panels(girth, panels, style.spacing, share, folds)
            if pleats.panel <= most and abs(pleats.spacing / style.spacing - 1) <= off
        ]
        if found:
            few = [pleats for pleats in found if pleats.panels <= found[0].panels + 1]
            return next((pleats for pleats in few if is_centred(pleats, style)), found[0])
    raise DraftError(
        f"pleats {format_both(style.spacing)} apart, {1 + 2 * folds * share:.2g} times full, do not fit into"
        f" {MOST_PANELS} panels of cloth {format_both(style.cloth_width)} wide: make spacing or fold smaller",
        about="fold" if style.fold is not None else "spacing",
    )


def _in_panels(girth: float, panels: int, spacing: float, share: float, folds: int) -> Iterator[EvenPleats]:
    """Whole numbers of pleats in so many panels, the spacing nearest to that asked for first."""
    each = max(1, floor(girth / spacing / panels + 0.5))
    for number in sorted(range(max(1, each - 3), each + 4), key=lambda n: abs(n - each)):
        even = girth / (number * panels)
        if number * panels > 1:
            yield EvenPleats(number * panels, panels, even, share * even, folds)


def is_centred(pleats: EvenPleats, style: PleatedSkirtStyle) -> bool:
    """Whether the middle of a box, or two folds that meet, lie at the centre front; knife pleats have no middle."""
    if style.pleat == "knife":
        return True
    quarters = (
        pleats.count * (2 if style.zip == "back" else 1) % 4
    )  # from the zip to the centre front, in quarter pleats
    return quarters == (2 if style.pleat == "box" else 0)


def _panel(pleats: EvenPleats, at_waist: float, deep: float, opening: float, style: PleatedSkirtStyle) -> Piece:
    """A panel with the lines of its pleats; its sides lie in the depth of a fold."""
    top, low = list(pleats.lines(at_waist)), list(pleats.lines(pleats.spacing))
    notches = [Notch(name, (x, y)) for x, line in ((0.0, top), (style.length, low)) for name, y in line]
    inner = [
        InnerLine("sew" if name == MEETS else "line", ((0.0, y), (deep, below), (style.length, below)))
        for (name, y), (_, below) in zip(top, low, strict=True)
    ]
    size = (style.length, pleats.panel)
    piece = rectangle("panel", size, style.seam, ("waist", style.seam), ("hem", style.hem), cut=pleats.panels)
    for name, turn in (("side", 1), ("other side", -1)):
        notches += zip_along(piece.edge(name).points[::turn], opening)
    return replace(piece, notches=tuple(notches), inner=tuple(inner))


def _notes(pleats: EvenPleats, style: PleatedSkirtStyle, at_waist: float, fold: float) -> Iterator[str]:
    where = "hip" if style.fitted_to == "hip" else "waist"
    yield (
        f"pleats: {pleats.count}, {format_both(pleats.spacing)} apart at the {where} with folds of"
        f" {format_both(pleats.fold)}, so that they come out even: {pleats.fullness:.2f} times full"
    )
    if style.panels == "by cloth":
        yield f"panels: {pleats.panels}, each within the width of cloth {format_both(style.cloth_width)} wide"
    yield from idle_notes(
        style,
        (("cloth_width",), style.panels != "by cloth", "the number of panels is given"),
        (("hip_ease",), style.fitted_to == "waist", "the pleats hang free from the waist"),
    )
    if not is_centred(pleats, style):
        yield "pleat: with this zip and these panels the centre front is not in the middle of the pleats"
    over = fold * pleats.folds - at_waist
    if over > OVERLAP:
        yield (
            f"fold: at the waist pleats are {format_both(at_waist)} apart with folds of {format_both(fold)}, so that"
            f" they overlap by {format_both(over)}, more than three layers thick: choose less fold, or thin cloth"
        )


PLEATED_SKIRT = Garment(
    "pleated-skirt",
    "pleated skirt",
    ("waist", "hip"),
    PleatedSkirtStyle,
    draft,
    skirt_trims,
    skirt_steps,
    "M34 14H66V21H34ZM34 21L18 108H82L66 21M38 21L26 108M42 21L34 108M46 21L42 108M50 21V108M54 21L58 108M58 21L66 108"
    "M62 21L74 108",
)
