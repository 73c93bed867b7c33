"""Joggers: bands of rib by their rules, and what each must pass. Worked out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from pieces import GARMENTS, Body, PieceSet
from pieces.body.sizes import TABLES, find_table
from pieces.errors import DraftError
from tests.make.lengths import in_mm

INCH = 25.4
JOGGERS = GARMENTS["joggers"]
BODY = Body(waist="31 in", hip="40 in", crotch_depth="10 1/2 in", inside_leg="30 in", hip_depth="8 in", thigh="23 in")
SWATCH = {"swatch_relaxed": 4, "swatch_stretched": 6}


def drafted(**asked: Any) -> PieceSet:
    """Joggers in a style, its lengths in inches; shares stay numbers."""
    sizes = {name: INCH * size if isinstance(size, int) else size for name, size in asked.items()}
    shares = {name: sizes.pop(name) for name in [*sizes] if name.endswith("_share")}
    return JOGGERS.draft(BODY, JOGGERS.style(**in_mm(sizes), **shares))


def test_cuffs_by_share() -> None:
    """Two cuffs of 0.7 of a leg of 15 in, seams included, as deep as twice 2 1/2 in and two seams."""
    pieces = drafted(hem_width=15)
    cuff = pieces["cuff"]
    assert (cuff.cut, cuff.material) == (2, "rib")
    assert cuff.width / INCH == pytest.approx(10.5)
    assert cuff.length / INCH == pytest.approx(6)
    assert {piece.name for piece in pieces.of("rib")} == {"cuff"}


def test_bands_by_a_swatch() -> None:
    """A rib that gives 1.5 times: a cuff stretches 1.25 times to a leg of 15 in, so it is sewn 12 in long."""
    pieces = drafted(hem_width=15, band_rule="stretch", **SWATCH)
    assert pieces["cuff"].edge("edge").length / INCH == pytest.approx(12)
    assert any(note.startswith("cuff: must pass the foot, about 12 1/4 in") for note in pieces.notes)


def test_rib_waistband() -> None:
    """One band of rib, 0.9 of the waist, with its places at both sides and the front; it is told what it must pass."""
    pieces = drafted(waistband="rib")
    band, waist = pieces["waistband"], pieces.measures["waist_opening"]
    assert (band.cut, band.material) == (1, "rib")
    assert band.width == pytest.approx(0.9 * waist)
    assert band.length / INCH == pytest.approx(2 * 1.25 + 1)
    behind = pieces["back"].edge("waist").length / waist
    start, long = band.edge("edge").points[0, 1], band.edge("edge").length
    shares = sorted({round((notch.point[1] - start) / long, 6) for notch in band.notches})
    assert shares == pytest.approx([behind, 0.5, 1 - behind], abs=1e-4)
    assert any(note.startswith("waistband: must pass the hip, 40 in") for note in pieces.notes)


def test_what_does_not_pass() -> None:
    """A cuff that its rib cannot stretch over the foot is noted, and so is a band shorter than its elastic."""
    notes = drafted(hem_width=13, cuff_share=0.6, swatch_relaxed=10, swatch_stretched=11).notes
    assert any("cuff" in note and "the swatch gave 1.10" in note and "pass the foot" in note for note in notes)
    notes = drafted(waistband="rib", waistband_share=0.65, elastic_share=1.0).notes
    assert any("shorter than its elastic" in note for note in notes)


def test_length_has_the_cuff() -> None:
    """An inseam of 27 in is leg and cuff; by default it ends 2 in above the floor."""
    pieces = drafted(inseam=27)
    assert pieces["front"].edge("inseam").length / INCH == pytest.approx(24.5, abs=0.01)
    assert drafted().measures["inseam_length"] / INCH == pytest.approx(30 - 1 - 2, abs=0.01)


def test_ease_by_cloth() -> None:
    """2 in of knit, 4 in of woven cloth, or as asked."""
    assert [drafted(**asked).measures["hip_width"] / INCH for asked in ({}, {"cloth": "woven"}, {"ease": 3})] == (
        pytest.approx([42, 44, 43])
    )


def test_cuffs_fit_ankles_of_full_hips() -> None:
    """By default no cuff is loose, in any size; one on a wide hem is, with both figures: 0.7 of a foot of 12 1/4 in."""
    for name in TABLES:
        table = find_table(name)
        for body in map(table.body, table.sizes):
            assert not any("loose on an ankle" in note for note in JOGGERS.draft(body, JOGGERS.style()).notes)
    loose = drafted(hem_width=20).notes
    assert any("sewn 13 in (330 mm) long, loose on an ankle of about 8 1/2 in (217 mm)" in note for note in loose)


@pytest.mark.parametrize(
    ("asked", "said", "about"),
    [
        ({"band_rule": "stretch"}, "^band_rule 'stretch' needs a swatch", "band_rule"),
        ({"swatch_relaxed": 4}, "^swatch_relaxed is given without swatch_stretched", "swatch_stretched"),
        ({"cuff_share": 1.0}, "^cuff_share of 1 makes a band that holds nothing in", "cuff_share"),
        ({"waistband": "rib", "waistband_share": 1.1}, "holds nothing in", "waistband_share"),
        ({"cuff_share": 0.2}, "^cuff: cut .* by no rib", "cuff_share"),
        ({"hem_width": 10}, "does not pass the foot", "hem_width"),
    ],
)
def test_refused(asked: dict[str, Any], said: str, about: str) -> None:
    """Each in one line that names the option."""
    with pytest.raises(DraftError, match=said) as raised:
        drafted(**asked)
    assert raised.value.about == about and "\n" not in str(raised.value)
