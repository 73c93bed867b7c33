"""The picture of how rib is cut: legible on one page, whatever the shape of the rib."""

from __future__ import annotations

import pytest

from nesting.rib.band import RibBand, RibStock
from nesting.rib.planning import plan_rib
from pieces import Units
from reports.draw.kit.sheet import PAGE_HEIGHT
from reports.draw.rib import rib_page
from tests.make.drawn import overlapping, texts

INCH = 25.4
PLACES = (("right side seam", 0.27), ("centre back", 0.5), ("left side seam", 0.73))
BANDS = (
    RibBand("cuff", 9.5 * INCH, 7 * INCH, 2, ring=True),
    RibBand("hem band", 50 * INCH, 7 * INCH, places=PLACES),
    RibBand("neckband", 21 * INCH, 3 * INCH),
)
STOCKS = (
    RibStock("tube", "tube", 40 * INCH),
    RibStock("flat rib", "flat", 60 * INCH, selvedge=INCH / 2),
    RibStock("long strips", "strips", 42 * INCH, 8 * INCH),
    RibStock("short strips with a name that takes its room", "strips", 14 * INCH, 8 * INCH),
    RibStock("very short strips", "strips", 6 * INCH, 8 * INCH),
    RibStock("ready set", "set", 52 * INCH, 7 * INCH, cuff=10 * INCH),
)


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: stock.name)
@pytest.mark.parametrize("units", Units)
def test_legible_on_one_page(stock: RibStock, units: Units) -> None:
    """No words stand on one another or leave the page, the page is an A4 one, and every part has its line."""
    plan = plan_rib(BANDS, stock, seam=INCH / 2)
    figure = rib_page(plan, title="Jacket: rib", units=units, lines=("Buy some", "the least possible"))
    assert overlapping(figure) == []
    assert figure.get_size_inches()[1] * 72 == pytest.approx(PAGE_HEIGHT)
    written = texts(figure)
    assert sum(words == "row 1" or words.startswith(("row ", "strip ", "set ")) for words in written) == len(plan.cuts)
    assert all(words in written for words in map(str, range(1, len(plan.cuts) + 1)))


def test_says_where_parts_are_joined() -> None:
    """A band joined at the centre back says so in the table; one joined between seams, how far from its start."""
    bands = (RibBand("hem band", 50 * INCH, 7 * INCH, places=PLACES),)
    at_seam = texts(rib_page(plan_rib(bands, STOCKS[0], seam=INCH / 2), title="", units=Units.INCHES))
    assert "part 1 of 2, up to centre back" in at_seam
    assert "part 2 of 2" in at_seam
    off = (RibBand("hem band", 50 * INCH, 7 * INCH, places=(("left side seam", 0.95),)),)
    between = texts(rib_page(plan_rib(off, STOCKS[0], seam=INCH / 2), title="", units=Units.INCHES))
    assert "part 1 of 2, up to 24 1/2 in from its start" in between


def test_ready_bands_are_drawn_as_long_as_they_are() -> None:
    """Above each band of a ready set stands its own length, not the hem band's."""
    written = texts(rib_page(plan_rib(BANDS, STOCKS[-1], seam=INCH / 2), title="", units=Units.INCHES))
    assert written.count("10 in across, 7 in deep") == 2
    assert "ready set, set 1, cuff 2" in written


def test_closed_tube_says_so() -> None:
    """A cuff left a closed tube is told apart from one that is cut."""
    stock = RibStock("cuffing", "tube", 8.5 * INCH, closed=True)
    assert (
        texts(rib_page(plan_rib(BANDS[:1], stock, seam=INCH / 2), title="", units=Units.INCHES)).count(
            "closed tube, no seam"
        )
        == BANDS[0].count
    )
