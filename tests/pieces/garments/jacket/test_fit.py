"""How a fit sets ease, armhole, widths and sleeve together."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, get_args

import numpy as np
import pytest

from pieces import GARMENTS, Body
from pieces.body.sizes import find_table
from pieces.garments.jacket.fit import FITS, FitName, armhole_depth, widths_across
from pieces.length import mm

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]
CLOSER_FIRST = get_args(FitName)


def drafts(body: Body, style: JacketStyle, **more: Any) -> list[PieceSet]:
    """The jacket in each fit, the closest first."""
    plain = replace(body, armhole_depth=None)
    return [JACKET.draft(plain, replace(style, ease=None, fit=fit, **more)) for fit in CLOSER_FIRST]


def finished(pieces: PieceSet, name: str) -> float:
    """A finished size, mm."""
    return next(size.garment for size in pieces.finished if size.name == name)


def test_a_closer_fit_is_closer_everywhere(body: Body, style: JacketStyle) -> None:
    """Chest, armhole and upper arm grow from close to loose, and the armhole gets deeper."""
    fits = drafts(body, style)
    for name in ("chest", "armhole round", "upper arm"):
        sizes = [finished(pieces, name) for pieces in fits]
        assert sizes == sorted(sizes) and len(set(sizes)) == len(sizes), name
    levels = [pieces["back"].edge("armhole").points[0, 0] for pieces in fits]
    assert levels == sorted(levels)


def test_the_ease_of_each_fit(body: Body, style: JacketStyle) -> None:
    """8 cm (a sewing course's notes on the web), 4 and 5 in (from memory); what is asked for counts before."""
    assert [finished(pieces, "chest") - body.bust for pieces in drafts(body, style)] == pytest.approx(
        [80, 4 * INCH, 5 * INCH]
    )
    asked = JACKET.draft(body, replace(style, fit="close", ease=mm(6 * INCH)))
    assert finished(asked, "chest") - body.bust == pytest.approx(6 * INCH)


def test_armhole_of_a_child() -> None:
    """On a chest of 66 cm an armhole of 22 cm would be an adult's rule; it lies 3 cm under the arm at the most.

    The line of the arm: 66 / 6 + 5.5 = 16.5 cm under the nape (common practice, no source).
    """
    child = find_table("children").body("134")
    line = child.bust / 6 + 55
    for fit, lower in zip(CLOSER_FIRST, (5, 15, 30), strict=True):
        nape = 0.05 * child.neck
        assert armhole_depth(child, fit, nape) == pytest.approx(line + lower)
    adults = child.bust / 8 + 5.5 * INCH
    assert armhole_depth(child, "loose", 20.0) < adults - 10


def test_armhole_by_the_measured_line(body: Body) -> None:
    """The arm lies 20 cm under the nape: a regular armhole 2.5 cm lower (notes of a sewing course on the web)."""
    measured = replace(body, armhole_depth=None, nape_to_armhole=mm(200.0), neck=mm(380.0))
    assert armhole_depth(measured, "regular", 40.0) == pytest.approx(0.05 * 380 + 200 + 25 - 40)


def test_widths_across(body: Body, style: JacketStyle) -> None:
    """The armholes of back and front come as near as half the widths; the back has a fifth of the ease besides."""
    wide = replace(body, back_width=mm(380.0), chest_width=mm(360.0), armhole_depth=None)
    assert widths_across(wide, "close", 80.0) == pytest.approx((190 + 4, 180))
    pieces = JACKET.draft(wide, replace(style, fit="close", ease=None))
    nearest = [float(pieces[name].edge("armhole").points[:, 1].min()) for name in ("back", "front")]
    assert nearest == pytest.approx([194, 180], abs=0.5)
    assert widths_across(replace(body, back_width=None), "loose", 80.0) == (None, None)


def test_a_loose_jacket_as_in_the_shops(style: JacketStyle) -> None:
    """Finished bust and hip of a loose unlined jacket in nine sizes, as on a pattern envelope read on the web.

    Its bodies are from memory. It has 6 to 6 1/4 in of ease at the bust and 7 1/2 to 8 at the hip, ours 5 at both: we
    come within 1 3/8 in of each bust, and within 3 1/8 in of each hip.
    """
    busts = (31.5, 32.5, 34, 36, 38, 40, 42, 44, 46)
    theirs = (37.75, 38.75, 40.25, 42.25, 44.25, 46, 48, 50, 52)
    hips = (33.5, 34.5, 36, 38, 40, 42, 44, 46, 48)
    round_hips = (41, 42, 43.5, 45.5, 47.5, 50, 52, 54, 56)
    women = find_table("women")
    for bust, chest, hip, seat in zip(busts, theirs, hips, round_hips, strict=True):
        near = min(women.sizes, key=lambda size: abs(women.measures(size)["bust"] - bust * INCH))
        body = replace(women.body(near), bust=mm(bust * INCH), hip=mm(hip * INCH))
        pieces = JACKET.draft(body, replace(style, ease=None, fit="loose"))
        assert abs(finished(pieces, "chest") / INCH - chest) <= 1.375
        assert abs(finished(pieces, "hem against the hip") / INCH - seat) <= 3.125


@pytest.mark.parametrize("fit", CLOSER_FIRST)
@pytest.mark.parametrize("table", ["women", "men", "children"])
def test_seams_meet_without_a_corner(fit: FitName, table: str, style: JacketStyle) -> None:
    """In every size side and shoulder seams meet the armhole squarely, and the sleeve's seam its cap.

    Two pieces sewn together make no corner over 2 degrees.
    """
    sizes = find_table(table)
    for size in sizes.sizes[::3]:
        own = {"length": mm(380.0), "rib_depth": mm(50.0), "sleeve": None} if table == "children" else {"sleeve": None}
        pieces = JACKET.draft(sizes.body(size), replace(style, fit=fit, ease=None, **own))
        off = [0.0, 0.0]  # at the side seam, at the shoulder seam: of back and front together
        for name in ("back", "front"):
            side, armhole, shoulder = (pieces[name].edge(edge).points for edge in ("side", "armhole", "shoulder"))
            off = [off[0] + abs(90 - corner(side, armhole)), off[1] + abs(90 - corner(armhole, shoulder))]
        assert max(off) <= 2, size
        sleeve = pieces["sleeve"]
        assert corner(sleeve.edge("front underarm").points, sleeve.edge("front cap").points) == pytest.approx(90, abs=1)
        assert corner(sleeve.edge("front cap").points, sleeve.edge("back cap").points) == pytest.approx(0, abs=2)


def corner(first: np.ndarray, second: np.ndarray) -> float:
    """By how much an outline turns from one edge to the next, degrees."""
    (ax, ay), (bx, by) = first[-1] - first[-2], second[1] - second[0]
    return float(abs(np.degrees(np.arctan2(ax * by - ay * bx, ax * bx + ay * by))))


def test_a_sloping_shoulder_slopes(body: Body, style: JacketStyle) -> None:
    """A shoulder measured an inch lower than usual drops an inch more on the seam, in every fit."""
    usual = 0.115 * body.across_shoulder
    for fit in CLOSER_FIRST:
        drops = []
        for slope in (usual, usual + INCH):
            pieces = JACKET.draft(
                replace(body, shoulder_slope=mm(slope), armhole_depth=None), replace(style, fit=fit, ease=None)
            )
            (x0, y0), (x1, y1) = pieces["back"].edge("shoulder").points[[-1, 0]]
            drops.append((x1 - x0) / (y1 - y0))
        run = body.across_shoulder / 2 - 4 / 15 * body.neck
        assert (drops[1] - drops[0]) * run == pytest.approx(INCH)


def test_room_of_the_arm(body: Body) -> None:
    """A close sleeve has an eighth of the arm, from 1 1/2 to 2 1/2 in; a child's may have less."""
    room = [FITS["close"].arm_room(replace(body, upper_arm=mm(arm * INCH))) / INCH for arm in (8, 16, 22)]
    assert room == pytest.approx([1.5, 2, 2.5])
    child = replace(body, wearer="children", upper_arm=mm(8 * INCH))
    assert FITS["close"].arm_room(child) / INCH == pytest.approx(1)
