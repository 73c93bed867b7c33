"""The circle skirt, against its formula: r = waist / (2 pi fullness)."""

from __future__ import annotations

import math
from itertools import product
from typing import Any, get_args

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError
from pieces.garments.circle_skirt import SHARES, CircleShare, CircleSkirtStyle, across
from tests.make.lengths import in_mm
from tests.make.skirts import along_the_waist, every_body, is_sound, some_body

INCH = 25.4
CIRCLE = GARMENTS["circle-skirt"]
BODY = Body(waist=inches(28), hip=inches(38))


def style(fullness: Any = "full", panels: Any = "2", **more: Any) -> CircleSkirtStyle:
    """A style without ease."""
    return CircleSkirtStyle(**in_mm({"ease": 0.0} | more), fullness=fullness, panels=panels)


@pytest.mark.parametrize(
    ("fullness", "radius", "hem"),
    [("full", 4.46, 178.8), ("three-quarter", 5.94, 141.1), ("half", 8.91, 103.4), ("quarter", 17.83, 65.7)],
)
@pytest.mark.parametrize("panels", ["2", "4", "8"])
def test_worked_example(fullness: Any, radius: float, hem: float, panels: Any) -> None:
    """A waist of 28 in and a length of 24 in: radius and hem by the formula; 4.46 in also stands on two web pages."""
    asked = style(fullness, panels, length=24 * INCH)
    drafted = CIRCLE.draft(BODY, asked)
    assert drafted.measures["waist_radius"] / INCH == pytest.approx(radius, abs=0.006)
    assert drafted.measures["hem_round"] / INCH == pytest.approx(hem, abs=0.06)
    edges = drafted["panel"]
    for name, round_it in (("waist", 28.0), ("hem", hem)):
        assert int(panels) * edges.edge(name).length / INCH == pytest.approx(round_it, abs=0.06)


def test_trap_of_the_narrow_cloth() -> None:
    """2 (r + L) / 36 = 1.58 yd counts on cloth as wide as the circle, 56.9 in: on 45 in it takes two panels."""
    asked = style("full", "1", length=24 * INCH, seam=0.01, hem=0.01)
    drafted = CIRCLE.draft(BODY, asked)
    assert across(drafted["skirt"]) / INCH == pytest.approx(2 * (4.46 + 24), abs=0.05)  # 56.9
    assert any("too much for cloth 45 in (1143 mm) wide: cut it in 2 panels" in note for note in drafted.notes)
    in_two = CIRCLE.draft(BODY, style("full", "2", length=24 * INCH))
    assert across(in_two["panel"]) < 45 * INCH and not any("too much" in note for note in in_two.notes)
    longer = CIRCLE.draft(BODY, style("full", "1", length=40 * INCH))
    assert any("45 in (1143 mm) or 60 in" in note for note in longer.notes)


def test_a_ring_cut_open_keeps_its_waist() -> None:
    """A full circle in one piece: opened out, a ring whose edges do not touch, and whose seam has its allowances."""
    drafted = CIRCLE.draft(BODY, style("full", "1"))
    skirt = drafted["skirt"]
    assert 2 * skirt.edge("waist").length == pytest.approx(28 * INCH, abs=0.2)
    ring = shapely.Polygon(skirt.unfolded)
    assert ring.is_valid and ring.area > 0.97 * math.pi * (28.6**2 - 4.6**2) * INCH**2
    gap = 2 * (skirt.edge("centre back").points[0, 1] - skirt.edge("centre back").allowance)
    assert gap == pytest.approx(1.0)


def test_a_ring_is_told_to_be_cut_open() -> None:
    """A full circle in one piece has no opening before it is cut; all others have one."""
    assert CIRCLE.steps
    for fullness, panels in product(get_args(CircleShare), ("1", "2")):
        asked = style(fullness, panels)
        told = "Ring cut open" in {step.title for step in CIRCLE.steps(CIRCLE.draft(BODY, asked), asked)}
        assert told == ((fullness, panels) == ("full", "1"))


@pytest.mark.parametrize(("fullness", "panels"), [*product(get_args(CircleShare), ("1", "2", "6"))])
def test_every_size(fullness: Any, panels: Any) -> None:
    """Sound in every size of every table, and the waistband meets each quarter and each seam."""
    asked = CircleSkirtStyle(fullness=fullness, panels=panels, length=inches(16))
    for body in every_body():
        drafted = CIRCLE.draft(body, asked)
        is_sound(CIRCLE, drafted, asked)
        band, skirt = along_the_waist(drafted)
        quarters = [at / 4 * drafted.measures["waist_seam"] for at in (1, 2, 3)]
        assert np.allclose(band, sorted(skirt), atol=0.5) and all(min(abs(np.array(band) - q)) < 0.5 for q in quarters)


def test_hip_of_a_quarter_circle() -> None:
    """A quarter circle grows by a quarter of the circle of the hip depth: where that is too little, a note says so."""
    drafted = CIRCLE.draft(BODY, style("quarter"))
    hip = next(size for size in drafted.finished if size.name == "hip")
    assert hip.garment == pytest.approx(28 * INCH + 2 * math.pi * 0.25 * 0.175 * 38 * INCH)
    assert any(note.startswith("hip:") and "fullness" in note for note in drafted.notes)


def test_what_is_refused_and_what_is_noted() -> None:
    """No length for the zip; a deep hem of a curve; the zip behind, where there is no other seam."""
    with pytest.raises(DraftError, match="the zip takes 7 in") as raised:
        CIRCLE.draft(BODY, style(length=7 * INCH))
    assert raised.value.about == "length"
    notes = CIRCLE.draft(BODY, style("half", "1", hem=2 * INCH)).notes
    assert any("ease it in" in note for note in notes) and "zip: in the only seam, centre back" in notes
    assert any("hang the skirt for a day" in note for note in notes)


@settings(max_examples=15)
@given(
    body=some_body(),
    asked=st.builds(
        lambda **options: CircleSkirtStyle(**in_mm(options)),
        fullness=st.sampled_from(list(SHARES)),
        panels=st.sampled_from(("1", "2", "4", "6", "8")),
        length=st.floats(4 * INCH, 48 * INCH),
        ease=st.floats(0, 4 * INCH),
        seam=st.floats(3, 25),
        hem=st.floats(1, 60),
        waistband=st.sampled_from(("folded", "two-layer")),
        zip=st.sampled_from(("back", "side")),
        interfacing=st.sampled_from(("none", "cut")),
    ),
)
def test_sound_or_one_line(body: Body, asked: CircleSkirtStyle) -> None:
    """Any body in any style: sound pieces, or one clear line."""
    try:
        drafted = CIRCLE.draft(body, asked)
    except DraftError as error:
        assert "\n" not in str(error)
        return
    is_sound(CIRCLE, drafted, asked)
