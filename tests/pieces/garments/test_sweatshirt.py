"""The sweatshirt: its bands, its pocket, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.errors import DraftError

INCH = 25.4
SHIRT = GARMENTS["sweatshirt"]
MAN = find_table("men").body("100")


def test_bands() -> None:
    """Cuff and neckband, sewn, are 2/3 to 3/4 of their openings (Sewing & Craft Alliance); the rest by hand."""
    told = SHIRT.draft(MAN, SHIRT.style()).measures
    for band, opening in (("cuff", "wrist"), ("neckband", "neck")):
        assert 2 / 3 <= told[f"{band}_sewn_length"] / told[f"{opening}_opening"] <= 3 / 4 + 0.003
    assert told["hem_band_cut_length"] == pytest.approx(0.875 * told["hem_opening"])
    assert told["cuff_cut_depth"] == told["hem_band_cut_depth"] == pytest.approx(6 * INCH)


def test_the_rib_is_part_of_the_lengths() -> None:
    """Length and sleeve are measured with their bands: deeper rib, shorter pieces."""
    for depth in ("2 in", "4 in"):
        sizes = {
            size.name: size.garment for size in SHIRT.draft(MAN, SHIRT.style(rib_depth=depth, length="27 in")).finished
        }
        assert sizes["length from the neck point"] == pytest.approx(27 * INCH)
        assert sizes["sleeve from the shoulder point"] == pytest.approx(589, abs=0.01)


def test_notches_of_the_bands() -> None:
    """The hem band meets the quarters of the hem; the neckband its shoulder seams, as back and front share the neck."""
    pieces = SHIRT.draft(MAN, SHIRT.style())
    band = pieces["neckband"]
    at = {notch.name: notch.point[1] for notch in band.notches}
    start, length = band.edge("edge").points[:, 1].min(), band.edge("edge").length
    back, whole = pieces["back"].edge("neck").length, pieces.measures["neck_opening"]
    assert (at["right shoulder seam"] - start) / length == pytest.approx(back / whole)
    assert (at["centre front"] - start) / length == pytest.approx(0.5)
    assert pieces["back"].edge("hem").length == pytest.approx(pieces["front"].edge("hem").length)


def test_pocket() -> None:
    """A kangaroo pocket is cut once on the fold, its place is on the front, its lower end notched in the hem."""
    pieces = SHIRT.draft(MAN, SHIRT.style(pockets="kangaroo"))
    pocket, front = pieces["kangaroo pocket"], pieces["front"]
    (notch,) = (notch for notch in front.notches if notch.name == "pocket")
    assert notch.point[1] == pytest.approx(pocket.edge("bottom").length)
    assert len(front.inner) == 1
    unused = SHIRT.draft(MAN, SHIRT.style(pocket_mouth="6 in"))
    assert any(note.startswith("pocket_mouth") for note in unused.notes)


@pytest.mark.parametrize(
    ("asked", "about", "said"),
    [
        ({"swatch_relaxed": "4 in", "swatch_stretched": "5 1/2 in"}, "swatch_stretched", "cuff_share"),
        ({"swatch_relaxed": "4 in", "swatch_stretched": "6 in", "hem_share": 0.5}, "swatch_stretched", "hem_share"),
        ({"pockets": "kangaroo", "pocket_mouth": "16 in"}, "pocket_mouth", "no room"),
        ({"pockets": "kangaroo", "length": "17 1/2 in"}, "pockets", "no room"),
    ],
)
def test_refused(asked: dict[str, Any], about: str, said: str) -> None:
    """A rib that stretches too little, or a pocket without room, is refused by the name of the option."""
    with pytest.raises(DraftError, match=said) as raised:
        SHIRT.draft(MAN, SHIRT.style(**asked))
    assert raised.value.about == about
