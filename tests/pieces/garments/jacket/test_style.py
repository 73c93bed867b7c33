"""Options of the jacket that make no garment are refused, by name."""

from __future__ import annotations

import pytest

from pieces.errors import DraftError
from pieces.garments import JacketStyle
from pieces.garments.jacket.style import WIDEST_EXTENSION
from tests.make.lengths import in_mm

INCH = 25.4


def test_the_defaults_are_sound() -> None:
    """Nothing need be said."""
    assert JacketStyle().closure == "buttons"


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("length", 0.0),
        ("seam", -1.0),
        ("rib_depth", 0.0),
        ("neck_rib_depth", 0.0),
        ("drop_shoulder", -1.0),
        ("tab_width", -1.0),
        ("ease", float("nan")),
        ("sleeve", 20_000.0),
        ("front_extension", WIDEST_EXTENSION + 1),
        ("front_extension", INCH / 4),  # buttons need more than the seam
    ],
)
def test_what_makes_no_garment_is_named(name: str, value: float) -> None:
    """The error knows which option to look at."""
    with pytest.raises(DraftError, match=name) as caught:
        JacketStyle(**in_mm({name: value}))
    assert caught.value.about == name
