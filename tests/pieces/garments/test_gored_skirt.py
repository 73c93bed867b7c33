"""The gored skirt, against the five-gore skirt of The Perfect Dressmaking System (1914)."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError
from pieces.garments.gored_skirt import GoredSkirtStyle
from tests.make.lengths import in_mm
from tests.make.skirts import along_the_waist, every_body, is_sound, notches_along, some_body

INCH = 25.4
GORED = GARMENTS["gored-skirt"]


def style(**asked: Any) -> GoredSkirtStyle:
    """A style; numbers in mm."""
    return GoredSkirtStyle(**in_mm(asked))


def test_five_gores_of_1914() -> None:
    """Waist 25, hip 40, hem 2 1/4 yd: gores of 5 and 8 in, the front one 10 at the hem, the hip 7 in down.

    The others are (81 - 10) / 4 = 17 3/4 in at the hem; the book prints 17 1/2, which adds up to 80 in.
    """
    asked = style(
        gores="5", front_gore="narrow", ease=0.0, hip_ease=0.0, length=39 * INCH, hem_round=81 * INCH, hem=0.0
    )
    drafted = GORED.draft(Body(waist=inches(25), hip=inches(40)), asked)
    front, gore = drafted["front gore"], drafted["gore"]
    assert drafted.measures["hip_depth"] == pytest.approx(7 * INCH)
    assert 2 * front.edge("waist").length / INCH == pytest.approx(5, abs=0.005)
    assert 2 * front.edge("hem").length / INCH == pytest.approx(10, abs=0.005)
    assert gore.edge("waist").length / INCH == pytest.approx(5, abs=0.005)
    assert gore.edge("hem").length / INCH == pytest.approx(17.75, abs=0.005)
    across = [np.interp(7 * INCH, *drafted[name].edge(edge).points[::-1].T) for name, edge in (("gore", "other side"),)]
    assert 2 * across[0] / INCH == pytest.approx(8, abs=0.01)
    assert front.edge("side").length / INCH == pytest.approx(39, abs=0.005)
    assert 38 < front.edge("centre front").length / INCH < 39  # the book's front is 1 in shorter than its sides


@pytest.mark.parametrize(("gores", "front", "zip_at"), [*product("45678", ("even", "narrow"), ("back", "side"))])
def test_every_size(gores: Any, front: Any, zip_at: Any) -> None:
    """Sound in every size of every table; the band meets each seam; the sides have a notch at the hip."""
    asked = style(gores=gores, front_gore=front, zip=zip_at, length=18 * INCH)
    for body in [*every_body()][::3]:
        drafted = GORED.draft(body, asked)
        is_sound(GORED, drafted, asked)
        band, _ = along_the_waist(drafted)
        seams = drafted.measures["waist_seam"] / int(gores)
        met = [at for at in band if abs(at / seams - round(at / seams)) < 1e-3]
        assert len(met) == int(gores) - 1
        deep = drafted.measures["hip_depth"]
        assert [at for name, at in notches_along(drafted, "gore", "side") if name == "hip"] == [pytest.approx(deep)]


def test_gores_run_on_into_one_another() -> None:
    """At each seam waist and fold of the hem stand square to it in both gores, so that they make no corner."""
    drafted = GORED.draft(Body(waist=inches(25), hip=inches(40)), style(gores="5", front_gore="narrow"))
    for name, side in (("front gore", "side"), ("gore", "other side")):
        line = drafted[name].edge(side).points
        fold, waist = np.array(drafted[name].inner[0].points), drafted[name].edge("waist").points
        for points, end, along in ((fold, -1, line[2] - line[1]), (waist, 0, line[-1] - line[-2])):
            leaving = points[1] - points[0] if end == 0 else points[-1] - points[-2]
            square = abs(leaving @ along) / np.hypot(*leaving) / np.hypot(*along)
            assert square < 0.02, name


def test_zip_goes_to_the_nearest_seam() -> None:
    """Five gores have a seam at the centre back; four with a narrow front have none there, and a note says so."""
    body = Body(waist=inches(28), hip=inches(38))
    assert not any("nearest seam" in note for note in GORED.draft(body, style(gores="5")).notes)
    assert any("nearest seam" in note for note in GORED.draft(body, style(gores="4", front_gore="narrow")).notes)


def test_what_is_refused_and_what_is_noted() -> None:
    """A hem too wide for its length; one narrower than the hip."""
    body = Body(waist=inches(28), hip=inches(38))
    with pytest.raises(DraftError, match="choose another hem_round") as raised:
        GORED.draft(body, style(gores="4", length=12 * INCH, hem_round=200 * INCH))
    assert raised.value.about == "hem_round"
    narrow = GORED.draft(body, style(hem_round=36 * INCH)).notes
    assert any("little to walk in" in note and "40 in" in note and "slit" not in note for note in narrow)


@pytest.mark.parametrize("front", ["even", "narrow"])
def test_thread_of_six_seams(front: Any) -> None:
    """Six gores have six seams, whether the front one is another or not: each sewn once, and neatened on both edges."""
    assert GORED.trims
    asked = style(front_gore=front, hem=0.0)
    drafted = GORED.draft(Body(waist=inches(28), hip=inches(38)), asked)
    (neatened,) = (trim.needed for trim in GORED.trims(drafted, asked) if trim.name == "overlock thread")
    side = drafted["gore"].edge("side").length
    assert neatened == pytest.approx(12 * side * 14 * 1.15, rel=1e-3)  # 14 m a metre, and 15 % to spare


@pytest.mark.parametrize("hem_round", [34, 44, 58])
@pytest.mark.parametrize("front", ["even", "narrow"])
def test_a_hem_is_as_long_as_what_it_lies_on(hem_round: float, front: Any) -> None:
    """The raw edge, and what lies as far above the fold by shapely: alike where gores narrow, and where they widen."""
    body, deep = Body(waist=inches(28), hip=inches(38)), 2 * INCH
    drafted = GORED.draft(body, style(hem_round=hem_round * INCH, hem=deep, front_gore=front, gores="4"))
    for piece in drafted.of("shell")[:-1]:
        (fold,) = (shapely.LineString(line.points) for line in piece.inner)
        lies_on = fold.offset_curve(deep, join_style="mitre").intersection(shapely.Polygon(piece.sew_line))
        assert piece.edge("hem").length == pytest.approx(lies_on.length, abs=1.0)
        ends = [notch.point for notch in piece.notches if notch.name == "hem fold"]
        assert len(ends) == (1 if piece.on_fold else 2)
        assert all(fold.distance(shapely.Point(end)) < 0.01 for end in ends)


@settings(max_examples=15)
@given(
    body=some_body(),
    asked=st.builds(
        style,
        gores=st.sampled_from("45678"),
        front_gore=st.sampled_from(("even", "narrow")),
        length=st.floats(6 * INCH, 45 * INCH),
        hem_round=st.none() | st.floats(20 * INCH, 150 * INCH),
        ease=st.floats(0, 4 * INCH),
        hip_ease=st.floats(0, 6 * INCH),
        seam=st.floats(3, 25),
        hem=st.floats(1, 60),
        zip=st.sampled_from(("back", "side")),
        waistband=st.sampled_from(("folded", "two-layer")),
    ),
)
def test_sound_or_one_line(body: Body, asked: GoredSkirtStyle) -> None:
    """Any body in any style: sound pieces, or one clear line."""
    try:
        drafted = GORED.draft(body, asked)
    except DraftError as error:
        assert "\n" not in str(error)
        return
    is_sound(GORED, drafted, asked)
