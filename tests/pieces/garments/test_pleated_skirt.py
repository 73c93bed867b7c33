"""The pleated skirt: fullness is 1 + 2 fold / spacing, and the pleats come out even."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError
from pieces.garments.pleated_skirt import PleatedSkirtStyle, even_pleats, is_centred
from tests.make.lengths import in_mm
from tests.make.skirts import every_body, is_sound, some_body

INCH = 25.4
PLEATED = GARMENTS["pleated-skirt"]
BODY = Body(waist=inches(28), hip=inches(38))


def style(**asked: Any) -> PleatedSkirtStyle:
    """A style; numbers in mm."""
    return PleatedSkirtStyle(**in_mm(asked))


@pytest.mark.parametrize(("fold", "full"), [(1.0, 3.0), (0.5, 2.0), (1.5, 4.0), (2.0, 5.0)])
def test_fullness_of_knife_pleats(fold: float, full: float) -> None:
    """A fold as deep as the spacing 3, half 2, three halves 4, twice 5: all four stand on a page of a teacher."""
    asked = style(spacing=INCH, fold=fold * INCH, panels="4")
    pleats = even_pleats(40 * INCH, asked)
    assert (pleats.count, pleats.spacing) == (40, pytest.approx(INCH)) and pleats.fullness == pytest.approx(full)
    drafted = PLEATED.draft(BODY, asked)
    assert drafted["panel"].cut * drafted["panel"].edge("hem").length / INCH == pytest.approx(40 * full)


@pytest.mark.parametrize("pleat", ["box", "inverted"])
def test_fullness_of_box_pleats(pleat: Any) -> None:
    """A box has two folds: half as deep as it is wide they take three layers of cloth."""
    pleats = even_pleats(40 * INCH, style(pleat=pleat, spacing=4 * INCH, cloth_width=60 * INCH))
    assert pleats.fullness == pytest.approx(3) and pleats.fold == pytest.approx(pleats.spacing / 2)


def test_one_inch_pleats_with_half_inch_spaces() -> None:
    """4 1/2 in finished take 10 1/2 in: 2.333 times (a shop's page); the spacing is 1 1/2 in, and a fold 1 in deep."""
    pleats = even_pleats(4.5 * INCH, style(spacing=1.5 * INCH, fold=INCH))
    assert pleats.count * pleats.pitch / INCH == pytest.approx(10.5) and pleats.fullness == pytest.approx(
        2.333, abs=1e-3
    )


def test_folded_it_fits_waist_and_hip() -> None:
    """What is seen between 'meets' and 'fold' adds up to the waist above, and to the hip with its ease below."""
    drafted = PLEATED.draft(BODY, style(length=24 * INCH))
    panel = drafted["panel"]
    for x, girth in ((0.0, 29.0), (24 * INCH, 40.0)):
        lines = sorted((n.point[1], n.name) for n in panel.notches if abs(n.point[0] - x) < 1e-6)
        assert [name for _, name in lines] == ["meets", "fold"] * (len(lines) // 2)
        seen = sum(fold - meets for (meets, _), (fold, _) in zip(lines[::2], lines[1::2], strict=True))
        assert panel.cut * seen / INCH == pytest.approx(girth)
    assert drafted["waistband"].edge("waist").length / INCH == pytest.approx(29)


def test_centre_front_of_box_and_inverted() -> None:
    """From a zip at the side the centre front is a quarter on: there is the middle of a box, or two folds meet."""
    for pleat, middle in (("box", 0.5), ("inverted", 0.0)):
        pleats = even_pleats(40 * INCH, style(pleat=pleat, spacing=3 * INCH, panels="2"))
        assert pleats.count / 4 % 1 == middle
    off = style(pleat="box", spacing=3 * INCH, zip="back", panels="2")
    assert not is_centred(even_pleats(40 * INCH, off), off)
    assert any(note.startswith("pleat:") for note in PLEATED.draft(BODY, off).notes)


def test_panels_lie_on_the_cloth() -> None:
    """As few panels as the cloth takes, each with whole pleats, its sides in the depth of a fold."""
    for cloth in (36.0, 45.0, 60.0):
        asked = style(cloth_width=cloth * INCH)
        panel = PLEATED.draft(BODY, asked)["panel"]
        assert panel.width <= cloth * INCH + 1e-6
        assert (panel.cut - 1) * (cloth - 1) < 1.3 * 120  # three times 40 in, and pleats of up to 15 % more
        folds = [notch for notch in panel.notches if notch.name == "fold"]
        assert len(folds) % 2 == 0 and len(folds) > 4


@pytest.mark.parametrize(
    "asked",
    [{}, {"pleat": "box", "spacing": 3 * INCH}, {"pleat": "inverted", "spacing": 4 * INCH, "fitted_to": "waist"}],
    ids=str,
)
def test_every_size(asked: dict[str, Any]) -> None:
    """Sound in every size of every table; no pleat is folded deeper than its cloth, above or below."""
    for body in every_body():
        worn = style(length=18 * INCH, waistband="two-layer", **asked)
        drafted = PLEATED.draft(body, worn)
        is_sound(PLEATED, drafted, worn)
        assert drafted.measures["pleat_fold_at_waist"] > 0
        across = np.array([[point[1] for point in line.points] for line in drafted["panel"].inner])
        assert (np.diff(np.sort(across, axis=0), axis=0) > 0).all() and (
            np.ptp(np.argsort(across, axis=0), axis=1) == 0
        ).all()


def test_what_is_refused_and_what_is_noted() -> None:
    """A pleat wider than the cloth; options that change nothing; folds that overlap."""
    with pytest.raises(DraftError, match="make spacing or fold smaller") as raised:
        PLEATED.draft(BODY, style(spacing=6 * INCH, fold=60 * INCH))
    assert raised.value.about == "fold"
    asked = style(panels="3", cloth_width=60 * INCH, fitted_to="waist", hip_ease=INCH, fold=2 * INCH)
    notes = PLEATED.draft(BODY, asked).notes
    for name in ("cloth_width", "hip_ease", "fold"):
        assert any(note.startswith(f"{name}:") for note in notes), name


def test_a_pleat_covers_the_zip() -> None:
    """It is sewn in before the pleats are folded; a knife pleat's cloth below it is held by a longer underlap."""
    assert PLEATED.steps
    for pleat, spacing in (("knife", 1.5), ("box", 3.0)):
        asked = style(pleat=pleat, spacing=spacing * INCH)
        drafted = PLEATED.draft(BODY, asked)
        titles = [step.title for step in PLEATED.steps(drafted, asked)]
        assert titles.index("Zip") < titles.index("Pleats") and titles.count("Zip") == 1
        underlap, fold = drafted["waistband"].edge("underlap").length, drafted.measures["pleat_fold_at_waist"]
        assert underlap == pytest.approx(fold if pleat == "knife" else 1.25 * INCH)
        kinds = {line.kind for line in drafted["panel"].inner}
        assert kinds == {"line", "sew"}  # what is folded, and what it meets


def test_pleats_that_overlap_at_the_waist_are_noted() -> None:
    """Threefold at the hip, they are more at the waist: folds of 1.66 in 1.07 in apart overlap by 0.59 in."""
    drafted = PLEATED.draft(BODY, style())
    at_waist, fold = (drafted.measures[f"pleat_{name}_at_waist"] for name in ("spacing", "fold"))
    assert (at_waist, fold) == (pytest.approx(29 * INCH / 27), pytest.approx((3 * 40 - 29) / 54 * INCH))
    assert any("overlap by 5/8 in (16 mm)" in note for note in drafted.notes)
    assert not any("overlap" in note for note in PLEATED.draft(BODY, style(fitted_to="waist")).notes)


@settings(max_examples=15)
@given(
    body=some_body(),
    asked=st.fixed_dictionaries(
        {
            "length": st.floats(4 * INCH, 45 * INCH),
            "ease": st.floats(0, 4 * INCH),
            "hip_ease": st.floats(0, 6 * INCH),
            "seam": st.floats(3, 20),
            "hem": st.floats(0, 60),
            "spacing": st.floats(0.5 * INCH, 6 * INCH),
            "cloth_width": st.floats(30 * INCH, 60 * INCH),
            "pleat": st.sampled_from(("knife", "box", "inverted")),
            "fitted_to": st.sampled_from(("hip", "waist")),
            "panels": st.sampled_from(("by cloth", "1", "2", "3")),
            "zip": st.sampled_from(("back", "side")),
        },
        optional={"fold": st.floats(0.2 * INCH, 4 * INCH)},
    ),
)
def test_sound_or_one_line(body: Body, asked: dict[str, Any]) -> None:
    """Any body in any style: sound pieces, or one clear line."""
    worn = style(**asked)
    try:
        drafted = PLEATED.draft(body, worn)
    except DraftError as error:
        assert "\n" not in str(error)
        return
    is_sound(PLEATED, drafted, worn)
