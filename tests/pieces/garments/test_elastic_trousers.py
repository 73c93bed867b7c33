"""Elastic trousers: what is asked for is what the pieces have. Figures without a source are worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body, PieceSet
from pieces.body.corrections import corrections_of
from pieces.errors import DraftError
from pieces.garments.trouser.measured import crotch_ease
from pieces.length import mm
from tests.make.lengths import in_mm

INCH = 25.4
TROUSERS = GARMENTS["elastic-trousers"]
BODY = Body(waist="31 in", hip="40 in", crotch_depth="10 1/2 in", inside_leg="30 in", hip_depth="8 in", thigh="23 in")


def drafted(body: Body = BODY, **asked: Any) -> PieceSet:
    """Trousers in a style, its lengths in inches."""
    sizes = {name: INCH * size if isinstance(size, int | float) else size for name, size in asked.items()}
    return TROUSERS.draft(body, TROUSERS.style(**in_mm(sizes)))


def across(pieces: PieceSet, level: float) -> float:
    """A leg round at a level below the waist, by shapely, in."""
    line = shapely.LineString([(level * INCH, -1000), (level * INCH, 1000)])
    return sum(shapely.Polygon(pieces[name].sew_line).intersection(line).length for name in ("front", "back")) / INCH


@pytest.mark.parametrize(("hip", "ease"), [(35, 0.5), (37, 0.75), (40, 1)])
def test_crotch_ease(hip: float, ease: float) -> None:
    """1/2 in under a hip of 36 in, 3/4 between, 1 in over 38: New Mexico State University, Guide C-209."""
    assert crotch_ease(hip * INCH) == ease * INCH


def test_sizes_asked_for() -> None:
    """Hip 40 and 4 in of ease, 22 in at the knee, 18 at the hem; the seam inside 28 in, by lines across and lengths."""
    pieces = drafted(ease=4, knee_width=22, hem_width=18, inseam=28, hem=1)
    crotch = 10.5 + 1
    assert 44 <= 2 * across(pieces, 8) < 44.25  # the curve of the crotch begins a little above
    assert across(pieces, crotch + 0.43 * 30) == pytest.approx(22, abs=0.02)
    fold = next(notch.point[0] for notch in pieces["front"].notches if notch.name == "hem fold") / INCH
    assert across(pieces, fold) == pytest.approx(18, abs=0.02)
    for name in ("front", "back"):
        below = shapely.LineString(pieces[name].edge("inseam").points)
        assert below.intersection(shapely.box(-1e4, -1e4, fold * INCH, 1e4)).length / INCH == pytest.approx(
            28, abs=0.02
        )
        assert pieces[name].edge("hem").points[0, 0] / INCH == pytest.approx(fold + 1)
    assert crotch == pytest.approx(pieces.measures["crotch_depth_with_ease"] / INCH)


def test_hem_lies_flat() -> None:
    """Folded up, the hem is as wide as the leg it lies on: 1 in below the fold as 1 in above it."""
    pieces = drafted(hem=1)
    fold = next(notch.point[0] for notch in pieces["front"].notches if notch.name == "hem fold") / INCH
    assert across(pieces, fold + 0.999) == pytest.approx(across(pieces, fold - 0.999), abs=0.01)
    assert across(pieces, fold - 0.999) > across(pieces, fold) + 0.05  # the leg is narrower at the fold


def test_length_at_the_side() -> None:
    """A length of 40 in is that of the side seam, and of the band above it; the casing does not change it."""
    for waistband in ("grown-on", "separate"):
        pieces = drafted(length=40, waistband=waistband)
        (length,) = (size.garment for size in pieces.finished if size.name == "length at the side")
        band = pieces.measures["casing_depth"] if waistband == "separate" else 0.0
        seam = shapely.LineString(pieces["front"].edge("side").points)
        fold = next(notch.point[0] for notch in pieces["front"].notches if notch.name == "hem fold")
        sewn = seam.intersection(shapely.box(-1e4, -1e4, fold, 1e4)).length
        assert length == pytest.approx(40 * INCH, abs=0.1)
        assert band + sewn == pytest.approx(40 * INCH, abs=0.1)


def test_default_inseam() -> None:
    """The inside leg of 30 in, less 1 in that the crotch is lowered and 1 in above the floor."""
    assert drafted().measures["inseam_length"] == pytest.approx(28 * INCH, abs=0.1)


def test_waist_asked_for() -> None:
    """The upper edges add up to the waist asked for; a leg far wider is refused."""
    pieces = drafted(waist_width=42)
    assert 2 * sum(pieces[name].edge("waist").length for name in ("front", "back")) == pytest.approx(42 * INCH, abs=0.1)
    with pytest.raises(DraftError, match="lean the side seams too far"):
        drafted(waist_width=70)


def test_large_thigh() -> None:
    """A thigh of 28 in on a hip of 40 gets 2 in of room at the inseams, and a note."""
    pieces = drafted(replace(BODY, thigh=mm(28 * INCH)))
    assert 30 - 0.5 < pieces.measures["thigh_round"] / INCH < 30.5
    assert any(note.startswith("thigh: ") for note in pieces.notes)


@pytest.mark.parametrize(
    ("asked", "said", "about"),
    [
        ({"inseam": 28, "length": 40}, "^length of 40 in .* both say where the hem lies", "length"),
        ({"inseam": 1}, "^inseam: leaves a leg of 1 in", "inseam"),
        ({"knee_width": 11}, "^knee_width of 11 in .* does not pass the foot", "knee_width"),
        ({"hem_width": 60, "inseam": 8}, "^hem_width of 60 in .* flares too far", "hem_width"),
        ({"hem_width": 11}, "does not pass the foot, about 12 1/4 in", "hem_width"),
        ({"inseam": 3, "hem": 2}, "^a hem of 2 in .* too deep", "hem"),
        ({"elastic_share": 0.5 / INCH}, "^elastic_share must be 0.6 to 1", "elastic_share"),
        ({"pockets": "patch", "pocket_mouth": 12}, "^a patch pocket with a mouth of 12 in", "pocket_mouth"),
        ({"elastic_width": 4}, "^elastic_width of 4 in", "elastic_width"),
    ],
)
def test_refused(asked: dict[str, Any], said: str, about: str) -> None:
    """Each in one line that names the option."""
    with pytest.raises(DraftError, match=said) as raised:
        drafted(**asked)
    assert raised.value.about == about and "\n" not in str(raised.value)


def test_nothing_is_ignored() -> None:
    """What an option cannot change is said."""
    notes = " ".join(drafted(inseam=8, knee_width=20, pocket_mouth=5).notes)
    assert "knee_width: " in notes and "pocket_mouth: " in notes


def test_places_of_pockets() -> None:
    """Patches lie on the back within its sew line; bags keep from casing and hem."""
    back = drafted(pockets="patch")["back"]
    patch = shapely.Polygon(back.inner[0].points)
    assert shapely.Polygon(back.sew_line).buffer(-5).contains(patch)
    pieces = drafted(pockets="side-seam", inseam=5)
    ends = {notch.name: notch.point[0] for notch in pieces["front"].notches}
    assert 1.25 * INCH < ends["pocket top"] < ends["pocket end"] < ends["hem fold"]
    bag = shapely.Polygon(pieces["pocket bag"].sew_line).bounds
    assert ends["pocket top"] - INCH / 2 + bag[2] < ends["hem fold"]


def test_cord_holes() -> None:
    """The hole lies 3/4 in from the centre front and in the middle of the casing, in front or band."""
    for waistband, piece in (("grown-on", "front"), ("separate", "waistband")):
        pieces = drafted(cord="cord", waistband=waistband)
        ((x, y),) = pieces[piece].drill_points
        assert np.allclose(sorted((x, y)), [0.625 * INCH, 0.75 * INCH])
        assert sum(len(other.drill_points) for other in pieces) == 1


def test_try_on() -> None:
    """Longer and wider by what a try-on has shown; what changes nothing is said."""
    tried = corrections_of({"longer": 20.0, "narrower": 10.0, "sleeve_longer": 5.0})
    pieces, before = drafted(replace(BODY, tried_on=tried)), drafted()
    assert pieces.measures["inseam_length"] == pytest.approx(before.measures["inseam_length"] + 20, abs=0.1)
    assert pieces.measures["hip_width"] == pytest.approx(before.measures["hip_width"] - 10)
    said = [note for note in pieces.notes if note.startswith("try-on")]
    assert [note.endswith("changes nothing here") for note in said] == [False, True, False]


def test_by_rule() -> None:
    """A thigh that was not measured is told: 0.6 of the hip."""
    assert "by rule, since not measured: thigh 24 in (610 mm)" in drafted(replace(BODY, thigh=None)).notes
    assert not any(note.startswith("by rule") for note in drafted().notes)
