"""The independent check knows the cloth: its layers, folds, stretches, pattern, nap and faults, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError
from nesting.folds.fold_then_open import fold_then_open
from nesting.verify import Asked, Laid, LaidMarker
from pieces import Piece
from pieces.length import mm
from pieces.piece.piece import InnerLine, Notch
from tests.make import forging
from tests.make.forging import (
    TWILL,
    added,
    back,
    behind,
    changed,
    first,
    held,
    laid,
    moved,
    patch,
    sleeve,
    solved,
    tab,
    turned,
)
from tests.make.outlines import sides

WIDE = replace(TWILL, width=mm(2000.0))
PIECES = [back(), sleeve(), tab()]


def test_a_fault_is_left_out_in_every_layer() -> None:
    """A fault in the upper layer alone is seen: the back on the fold lies over it there."""
    pieces, fabric = [back(), sleeve(), tab()], replace(TWILL, nap=True)
    layout, asked = LaidMarker.of(laid(pieces, fabric, "folded")), Asked.of(pieces, fabric, "folded")
    spot = first(layout, "back").outline
    x, middle = float(spot[:, 0].mean()), asked.fabric.width / 2
    for low in (middle + 20, middle - 40):
        flawed = replace(asked, flaws=((x, x + 5, low, low + 20),))  # type: ignore[arg-type]
        with pytest.raises(CheckError, match="'back' and a fault in the cloth overlap"):
            held(layout, flawed)
    held(layout, replace(asked, flaws=((layout.length + 10, layout.length + 20, 100, 200),)))  # type: ignore[arg-type]
    with pytest.raises(CheckError, match="long, but the cloth"):
        held(layout, replace(asked, length=layout.length - 1))


def test_off_the_pattern() -> None:
    """On checks a match point 1 mm off the lines, along or across, is seen; so is a pattern that begins elsewhere.

    By hand: lines run along the cloth 60 mm apart, one at its middle; the point lies at 210 + 30 = 600 - 6 x 60.
    """
    piece, fabric = patch(match=(10.0, 30.0)), replace(TWILL, repeat_along=mm(90.0), repeat_across=mm(60.0))
    asked, outline = Asked.of([piece], fabric, "open"), piece.cut_line + (180.0, 210.0)
    layout = LaidMarker(500.0, 5.0, (Laid("patch", outline, 0.0, False, False),), (), start=10.0)
    held(layout, asked)
    held(replace(layout, start=None), asked)
    for x, y, reason in (
        (1.0, 0.0, "1.00 mm from the pattern's lines across"),
        (0.0, 1.0, "1.00 mm from .* along the cl"),
    ):
        with pytest.raises(CheckError, match=reason):
            held(changed(layout, "patch", moved(x, y)), asked)
    with pytest.raises(CheckError, match=r"5\.00 mm from the pattern's lines across"):
        held(replace(layout, start=15.0), asked)


def test_tube_misses_the_pattern_at_its_upper_fold() -> None:
    """On a tube of 1,000 mm with lines 60 mm apart a half on the upper fold lies 20 mm off a line.

    By hand: the folds are 500 = 8 x 60 + 20 mm apart.
    """
    tube = Fabric("tube", mm(1000.0), repeat_across=mm(60.0))
    piece = back(match=(50.0, 0.0))
    low = piece.cut_line
    asked = Asked.of([piece], tube, "tube")
    sound = Laid("back", low, 0.0, False, True)
    held(LaidMarker(300.0, 0.0, (sound,), ()), asked)
    high = Laid("back", low * (1, -1) + (0, 500.0), 0.0, True, True)
    with pytest.raises(CheckError, match=r"20\.00 mm from the pattern's lines along the cloth in the lower layer"):
        held(LaidMarker(300.0, 0.0, (high,), ()), asked)


def test_band_of_another_stretch() -> None:
    """A half moved behind the line from which the cloth lies open has no fold there."""
    wide = Piece("wide", sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), cut=2, mirrored_pair=True)
    pieces = [back(), sleeve(), wide]
    asked = Asked.of(pieces, TWILL, "fold-then-open")
    layout = LaidMarker.of(solved(fold_then_open(pieces, TWILL, most=0)))
    held(layout, asked)
    with pytest.raises(CheckError, match="'back' is half a piece, but there is no fold in the cloth opened out"):
        held(changed(behind(layout, "back"), "back", moved(0, 100)), asked)
    with pytest.raises(CheckError, match="where the cloth is opened out"):
        held(replace(layout, opened=None), asked)
    assert layout.opened is not None
    with pytest.raises(CheckError, match=r"beyond the (start|end|upper edge) of the"):
        held(replace(layout, opened=layout.opened - 50), asked)


def test_twins_are_wasted_only_if_asked() -> None:
    """A patch needed once is cut double on folded cloth: its twin is wasted, which is said or refused; never two."""
    piece = patch()
    marker = laid([piece], TWILL, "folded", waste_twins=True)
    asked = Asked.of([piece], TWILL, "folded", waste_twins=True)
    held(LaidMarker.of(marker), asked)
    with pytest.raises(CheckError, match="'patch' is cut 1 as drafted and 1 as its mirror image"):
        held(LaidMarker.of(marker), replace(asked, waste_twins=False))
    layout = LaidMarker.of(marker)
    with pytest.raises(CheckError, match="an outline could be left out"):
        held(added(layout, layout.laid[0]), asked)


@pytest.mark.parametrize(
    ("what", "changes"),
    [
        ("notch", {"notches": (Notch("n", (20.0, 50.0)),)}),
        ("drill point", {"drill_points": ((20.0, 10.0),)}),
        ("cutout", {"inner": (InnerLine("cutout", ((10.0, 5.0), (20.0, 5.0), (20.0, 15.0))),)}),
        ("inner line", {"inner": (InnerLine("line", ((10.0, 5.0), (20.0, 5.0))),)}),
    ],
)
def test_a_mark_off_centre_makes_a_twin_wrong(what: str, changes: dict[str, Any]) -> None:
    """A rectangle with one mark off its centre line is not its own mirror image: cut double, its twin is wrong."""
    plain = tab()
    outline = np.array(plain.cut_line)
    layout = LaidMarker(100.0, 0.0, (Laid("tab", outline, 0.0, False, False),), ())
    fabric = Fabric("twill", mm(1000.0))
    held(layout, Asked.of([plain], fabric, "folded"))
    with pytest.raises(CheckError, match="'tab' is cut 1 as drafted and 1 as its mirror image, needed 2"):
        held(layout, Asked.of([tab(**changes)], fabric, "folded"))


def test_twin_on_the_wrong_grain() -> None:
    """A pair with its grain at 45°: laid on the bias the left is right and so is its twin; turned over too far, not.

    Right hand by hand: turned over, the grain runs at -45° and comes along the cloth by a turn of +45°, not of -45°.
    """
    piece = sleeve(grain=forging.BIAS, notches=(), drill_points=(), inner=())
    fabric, outline = Fabric("twill", mm(4000.0)), piece.cut_line

    def lying(mirrored: bool, degrees: float, x: float) -> Laid:
        angle = np.radians(degrees)
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        placed = outline @ np.diag([1, -1 if mirrored else 1]) @ turn.T
        return Laid("sleeve", placed - placed.min(axis=0) + (x, 100.0), degrees, mirrored, False)

    sound = LaidMarker(1200.0, 0.0, (lying(False, -45, 0), lying(True, 45, 600)), ())
    held(sound, Asked.of([piece], fabric, "open"))
    held(replace(sound, laid=sound.laid[:1]), Asked.of([piece], fabric, "folded"))
    held(replace(sound, laid=sound.laid[1:]), Asked.of([piece], fabric, "folded"))
    forged = replace(sound, laid=(sound.laid[0], lying(True, -45, 600)))
    with pytest.raises(CheckError, match="'sleeve' lies 90° off the grain"):
        held(forged, Asked.of([piece], fabric, "open"))
    with pytest.raises(CheckError, match="'sleeve' lies 90° off the grain in the lower layer"):
        held(replace(forged, laid=forged.laid[1:]), Asked.of([piece], fabric, "folded"))


def test_nap_of_the_upper_layer() -> None:
    """Folded crosswise the nap of the upper layer runs the other way: a pair cut so shades differently."""
    piece, fabric = sleeve(), replace(TWILL, nap=True)
    layout = LaidMarker(400.0, 5.0, (Laid("sleeve", piece.cut_line + (20, 100), 0.0, False, False),), ())
    held(layout, Asked.of([piece], TWILL, "crosswise"))
    with pytest.raises(CheckError, match="'sleeve' lies against the nap in the upper layer"):
        held(layout, Asked.of([piece], fabric, "crosswise"))
    plies = Asked.of([piece], fabric, "face-to-face")
    held(layout, plies)


def test_nap_of_a_half_drawn_bottom_up() -> None:
    """A half whose arrow points from the bottom up lies the other way about than the pieces beside it."""
    fabric = Fabric("velvet", mm(1000.0), nap=True)
    pieces = [back(grain=((100.0, 0.0), (0.0, 0.0))), sleeve()]
    laid_so = (
        Laid("back", pieces[0].cut_line, 0.0, False, True),
        Laid("sleeve", pieces[1].cut_line + (250, 100), 0.0, False, False),
    )
    with pytest.raises(CheckError, match="against the nap"):
        held(LaidMarker(600.0, 0.0, laid_so, ()), Asked.of(pieces, fabric, "folded"))


def test_garments_that_point_both_ways() -> None:
    """Nap by garment: one sleeve turned round belongs to no garment."""
    fabric = replace(TWILL, nap="by garment")
    pieces = [sleeve(), patch()]
    marker = laid(pieces, fabric, "open", garments=2)
    layout, asked = behind(LaidMarker.of(marker), "sleeve"), Asked.of(pieces, fabric, "open", garments=2)
    held(layout, asked)
    with pytest.raises(CheckError, match="the pieces of one garment point both ways on the nap"):
        held(changed(layout, "sleeve", turned(180), which=3), asked)


def test_a_garment_turned_round_on_a_nap() -> None:
    """On a nap all garments point one way: two laid nap by garment, one of them turned, are right there alone."""
    pieces = [sleeve(), patch()]
    by_garment, nap = (replace(TWILL, nap=kind) for kind in ("by garment", True))
    layout = LaidMarker.of(laid(pieces, by_garment, "open", garments=2))
    held(layout, Asked.of(pieces, by_garment, "open", garments=2))
    with pytest.raises(CheckError, match="against the nap"):
        held(layout, Asked.of(pieces, nap, "open", garments=2))


def test_the_buffer_is_kept_where_cloth_is_opened() -> None:
    """A piece 2 mm behind one that was cut while the cloth lay folded is too near where 5 mm are asked for."""
    wide = Piece("wide", sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), cut=2, mirrored_pair=True)
    pieces = [back(), wide]
    asked = Asked.of(pieces, TWILL, "fold-then-open")
    layout = LaidMarker.of(solved(fold_then_open(pieces, TWILL, most=0)))
    held(layout, asked)
    assert layout.opened is not None
    on = [one for one in layout.laid if one.piece == "back"]
    nearer = [moved(-3, 0)(one) for one in layout.laid if one.piece == "wide"]
    with pytest.raises(CheckError, match=r"are 2\.\d\d mm apart instead of 5\.00"):
        held(replace(layout, laid=(*on, *nearer), opened=layout.opened - 3), asked)


def test_crosswise_a_pattern_meets_itself_only_at_whole_repeats() -> None:
    """Folded across its length at 430 mm, a point at 70 lies at 70 and at 2 x 430 - 70 = 790 mm: 720, or 8 x 90, on.

    On cloth of 400 mm the upper layer's point lies at 730 mm: 660, or 7 x 90 + 30.
    """
    piece, fabric = sleeve(match=(50.0, 60.0)), replace(TWILL, repeat_along=mm(90.0))
    asked = Asked.of([piece], fabric, "crosswise")
    layout = LaidMarker(430.0, 5.0, (Laid("sleeve", piece.cut_line + (20, 100), 0.0, False, False),), ())
    assert "pattern" in held(layout, asked)
    with pytest.raises(CheckError, match=r"30\.00 mm from the pattern's lines across the cloth in the upper layer"):
        held(replace(layout, length=400.0), asked)
