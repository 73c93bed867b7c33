"""Left and right that differ: each half is the draft of its own side."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.errors import DraftError
from pieces.garments.jacket.sides import mirrored
from pieces.length import mm
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces.garments import JacketStyle
    from pieces.piece.pieces import PieceSet

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def corrected(body: Body, **asked: float) -> Body:
    """The body after a try-on, in inches."""
    return replace(body, tried_on=corrections_of({name: value * INCH for name, value in asked.items()}))


@pytest.mark.parametrize(
    "options", [{}, {"back": "seam"}, {"lining": "full", "yoke": "back"}, {"sleeve_pieces": "two", "neckline": "hood"}]
)
def test_every_seam_walks(options: dict[str, Any], body: Body, style: JacketStyle) -> None:
    """All seams meet, left and right; what differs is there once for each side, and the rest as often as before."""
    usual = JACKET.draft(body, replace(style, **options))
    found = JACKET.draft(corrected(body, left_shoulder_lower=0.5, left_sleeve_longer=0.5), replace(style, **options))
    assert max(abs(walk(seam, found)) for seam in found.seams) < 1.0
    assert len(found.seams) > len(usual.seams)
    opened = sum(piece.label.startswith("opened") for piece in found)
    assert _halves(found) == _halves(usual) - opened
    assert {note for note in found.notes if note.startswith("try-on: left")} == {
        "try-on: left shoulder lower than the right by 1/2 in (13 mm)",
        "try-on: left sleeve longer than the right by 1/2 in (13 mm)",
    }
    names = {piece.name for piece in found}
    assert {"left front", "right front"} <= names
    assert "front" not in names


def _halves(pieces: PieceSet) -> int:
    """How many pieces of cloth are drawn: one on a fold counts for its two halves."""
    return sum(piece.cut * (2 if piece.on_fold else 1) for piece in pieces if piece.material != "rib")


def test_halves_of_the_back(body: Body, style: JacketStyle) -> None:
    """The opened back is the right side's half and the left side's, turned over."""
    found = JACKET.draft(corrected(body, left_shoulder_lower=0.75), style)
    right = JACKET.draft(body, style)["back"]
    slope = 0.115 * body.across_shoulder + 0.75 * INCH
    left = JACKET.draft(replace(body, shoulder_slope=mm(slope)), style)["back"]
    whole = shapely.Polygon(found["back"].sew_line)
    halves = shapely.union_all([shapely.Polygon(right.sew_line), shapely.Polygon(mirrored(left).sew_line)])
    assert whole.symmetric_difference(halves).area < 1.0
    assert whole.is_valid


def test_which_side_is_which(body: Body, style: JacketStyle) -> None:
    """Seen from outside, a left front has its side seam on the right, and a left sleeve its front on the left."""
    found = JACKET.draft(corrected(body, left_sleeve_longer=0.5), style)
    sleeves = {side: found[f"{side} sleeve"] for side in ("left", "right")}
    across = {side: float(sleeve.edge("front cap").points[:, 1].mean()) for side, sleeve in sleeves.items()}
    assert across["left"] < 0 < across["right"]
    longer = sleeves["left"].edge("front underarm").length - sleeves["right"].edge("front underarm").length
    assert longer == pytest.approx(0.5 * INCH, abs=1.0)  # along the slant
    shoulders = JACKET.draft(corrected(body, left_shoulder_lower=0.5), style)
    assert shoulders["left front"].edge("side").points[:, 1].mean() > 0
    assert shoulders["right front"].edge("side").points[:, 1].mean() < 0


def test_no_such_shoulder(body: Body, style: JacketStyle) -> None:
    """A left shoulder above the neck is refused in terms of what was measured."""
    with pytest.raises(DraftError, match="measure both shoulders again"):
        JACKET.draft(corrected(replace(body, shoulder_slope=mm(INCH)), left_shoulder_higher=2.0), style)


def test_yoke_of_uneven_shoulders_is_level(body: Body, style: JacketStyle) -> None:
    """The seam of the yoke runs straight across, whatever the shoulders do; it is as long on either side of it."""
    found = JACKET.draft(corrected(body, left_shoulder_lower=0.75), replace(style, yoke="back"))
    for name in ("back yoke", "back"):
        runs = [edge.points[:, 0] for edge in found[name].edges if edge.name.endswith("yoke seam")]
        assert len(runs) == 2
        assert max(float(x.max()) for x in runs) == pytest.approx(min(float(x.min()) for x in runs))
        assert all(edge.allowance > 0 for edge in found[name].edges)


@pytest.mark.parametrize("name", ["left_shoulder_lower", "left_shoulder_higher"])
def test_facing_and_collar_of_uneven_shoulders(name: str, body: Body, style: JacketStyle) -> None:
    """The halves of a back facing meet at the centre; the two layers of a collar are mirror images."""
    asked = replace(style, back_facing="facing", neckline="collar", closure="zip")
    for built in (body, replace(body, across_shoulder=mm(340), neck=mm(400))):  # also one of short shoulders
        found = JACKET.draft(corrected(built, **{name: 0.5}), asked)
        assert max(abs(walk(seam, found)) for seam in found.seams) < 1.0
        assert (found["collar"].cut, found["collar"].mirrored_pair) == (2, True)
        assert not found["back facing"].on_fold


@pytest.mark.parametrize("asked", [{"back_rounder": 0.6}, {"back_hollower": 0.3, "seat_fuller": 0.8}])
@pytest.mark.parametrize("fit", ["close", "loose"])
def test_halves_meet_whatever_else_was_found(asked: dict[str, float], fit: Any, body: Body, style: JacketStyle) -> None:
    """Yoke, back facing and lining of uneven shoulders meet at the centre, also on a back that is built otherwise."""
    options = replace(style, fit=fit, yoke="back", back_facing="facing", lining="full")
    found = JACKET.draft(corrected(body, left_shoulder_lower=0.75, **asked), options)
    assert max(abs(walk(seam, found)) for seam in found.seams) < 1.0
    assert all(piece.label.startswith("opened") for piece in found if piece.name in ("back yoke", "back facing"))
