"""Finished sizes against the body, and what is said where there is too little room."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.sizes import find_table
from pieces.length import mm

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def sizes(pieces: PieceSet) -> dict[str, tuple[float, float | None]]:
    """What is finished, in inches: garment and ease."""
    return {s.name: (s.garment / INCH, None if s.ease is None else s.ease / INCH) for s in pieces.finished}


def test_finished_sizes(body: Body, style: JacketStyle) -> None:
    """Bust 42 and hip 48 with 5 in of ease: 47 and 53 sewn; the sleeve 24 in cut, 23 sewn, 7 more than an arm of 16."""
    found = sizes(JACKET.draft(body, style))
    assert found["chest"] == pytest.approx((47, 5))
    assert found["hem against the hip"] == pytest.approx((53, 5))
    assert found["upper arm"] == pytest.approx((23, 7), abs=0.01)
    assert found["length from the neck point"] == (pytest.approx(30, abs=0.15), None)  # the rules say what is cut
    assert found["cuff"] == pytest.approx((8.5, 0))


def test_chest_by_the_sew_lines(jacket: PieceSet) -> None:
    """Four quarters, to the corner of side seam and armhole, by the sew lines' own points."""
    corners = [float(jacket[name].edge("side").points[-1, 1]) for name in ("back", "front")]
    assert sizes(jacket)["chest"][0] * INCH == pytest.approx(2 * sum(corners))
    round_arm = shapely.Polygon(jacket["sleeve"].sew_line).bounds
    assert sizes(jacket)["upper arm"][0] * INCH == pytest.approx(round_arm[3] - round_arm[1])


def test_a_cropped_jacket_is_not_held_against_the_hip(body: Body, style: JacketStyle) -> None:
    """20 in from the neck point it ends above the hip."""
    assert sizes(JACKET.draft(body, replace(style, length=mm(20 * INCH))))["hem against the hip"][1] is None


def test_usual_jackets_raise_no_note() -> None:
    """In every size of all tables, and every fit, there is room, and arms can be lifted."""
    for table in ("women", "men", "children"):
        rows = find_table(table)
        for size in rows.sizes:
            for fit in ("close", "regular", "loose"):
                own = {"length": "38 cm", "rib_depth": "5 cm"} if table == "children" else {}
                style = JACKET.style(**{"length": "65 cm", "fit": fit, **own})
                notes = JACKET.draft(rows.body(size), style).notes
                assert not [note for note in notes if note.startswith(("chest", "hem against", "upper arm", "armhole"))]


def test_too_little_room_is_noted(body: Body, style: JacketStyle) -> None:
    """Ease of 1 in is little; a sleeve with 1/2 in of it is, too."""
    tight = JACKET.draft(body, replace(style, ease=mm(INCH)))
    assert any(note.startswith("chest: 43 in (1092 mm) finished, only 1 in (25 mm) more") for note in tight.notes)
    arm = JACKET.draft(body, replace(style, fit="close", sleeve_ease=mm(0.0), sleeve_room=mm(1.5 * INCH)))
    assert any(note.startswith("upper arm: 16 1/2 in") and "sleeve_room" in note for note in arm.notes)


@pytest.mark.parametrize(("depth", "said"), [(220.0, "a lifted arm takes the jacket along"), (130.0, "cuts in")])
def test_an_armhole_of_the_wrong_depth_is_noted(depth: float, said: str) -> None:
    """On a child of 66 cm an armhole 22 cm deep lies too low, one of 13 cm too high: the arm's line is at 16.5."""
    child = replace(find_table("children").body("128"), bust=mm(660.0), armhole_depth=mm(depth))
    pieces = JACKET.draft(child, JACKET.style(length="42 cm", rib_depth="5 cm", sleeve_room="3 in"))
    assert any(said in note for note in pieces.notes if note.startswith("armhole"))


@pytest.mark.parametrize("fit", ["close", "regular", "loose"])
def test_lengths_are_those_of_the_pieces(fit: str, body: Body, style: JacketStyle) -> None:
    """Measured along the sew lines, with a wide seam and a sloping shoulder: the printed length and sleeve are so long.

    The sleeve is told from the body's shoulder point: what the seam lies beyond it comes on top.
    """
    sloping = replace(body, shoulder_slope=mm(70.0), armhole_depth=None)
    pieces = JACKET.draft(sloping, replace(style, fit=fit, seam=mm(20.0)))  # type: ignore[arg-type]
    found = sizes(pieces)
    shoulder, side = pieces["back"].edge("shoulder").points, pieces["back"].edge("side").points
    rib = style.rib_depth / INCH
    assert found["length from the neck point"][0] - rib == pytest.approx((side[0, 0] - shoulder[-1, 0]) / INCH)
    beyond = (shoulder[0, 1] - body.across_shoulder / 2) / INCH
    sewn = np.ptp(pieces["sleeve"].sew_line[:, 0]) / INCH
    assert found["sleeve from the shoulder point"][0] - rib == pytest.approx(sewn + beyond)
    if fit != "loose":  # what is sewn is set
        assert beyond == pytest.approx(0, abs=1e-6)


def test_a_cuff_tighter_than_the_wrist_is_noted(body: Body, style: JacketStyle) -> None:
    """With 1 in of seam, a cuff cut an inch longer than the wrist closes to an inch less."""
    notes = JACKET.draft(body, replace(style, seam=mm(INCH), front_extension=mm(1.5 * INCH))).notes
    assert any(note.startswith("cuff: 7 1/2 in (190 mm) finished, 1 in (25 mm) less") for note in notes)
