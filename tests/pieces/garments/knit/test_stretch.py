"""What must stretch, and how far: held against figures of teachers."""

from __future__ import annotations

import pytest

from pieces.errors import DraftError
from pieces.garments.knit.stretch import Passing, require_stretch, stretch_notes
from pieces.piece.ribbing import Swatch

INCH = 25.4


@pytest.mark.parametrize(("stretched", "percent"), [(5, 25), (7, 75), (10, 150)])
def test_stretch_of_a_swatch(stretched: float, percent: float) -> None:
    """4 in pulled to 5 is 25 %, to 7 is 75 %, to 10 is 150 %: figures of teachers on the web."""
    swatch = Swatch(4 * INCH, stretched * INCH, "knit")
    assert (swatch.ratio - 1) * 100 == pytest.approx(percent)
    enough = [Passing("body", 100.0, "over the bust", 100.0 + percent, "give more ease", "knit_stretched")]
    require_stretch("knit", swatch, enough)
    short = [enough[0]._replace(girth=101.0 + percent)]
    with pytest.raises(DraftError, match="give more ease") as raised:
        require_stretch("knit", swatch, short)
    assert raised.value.about == "knit_stretched"
    assert f"must stretch {1.01 + percent / 100:.2f} times" in str(raised.value)


def test_notes() -> None:
    """The place that must stretch furthest is told, with its figure; with a swatch what that gave, never less."""
    places = [
        Passing("body", 900.0, "over the bust", 900.0, "", ""),
        Passing("neckline", 400.0, "over the head", 560.0, "", ""),
    ]
    (without,) = stretch_notes("knit", None, places)
    assert without.startswith("knit: it must stretch by 40%. neckline:") and "knit_relaxed" in without
    (given,) = stretch_notes("rib", Swatch(100, 150), places)
    assert given.startswith("rib: the swatch gave 1.50 times") and "1.40 times" in given
    (even,) = stretch_notes("rib", Swatch(400, 561), [places[1]._replace(girth=560.5)])
    assert "gave 1.40 times" in even and "1.41" not in even
    (none,) = stretch_notes("knit", None, places[:1])
    assert "nothing of it must stretch" in none
