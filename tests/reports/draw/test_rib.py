"""The picture of how rib is cut: legible on one page, whatever the shape of the rib."""

from __future__ import annotations

import pytest

from nesting.rib.band import RibBand, RibStock
from nesting.rib.planning import plan_rib
from pieces import Units
from pieces.length import inches
from reports.draw.kit.sheet import PAGE_HEIGHT
from reports.draw.rib import rib_page
from tests.make.drawn import overlapping, texts

INCH = 25.4
PLACES = (("right side seam", 0.27), ("centre back", 0.5), ("left side seam", 0.73))
BANDS = (
    RibBand("cuff", inches(9.5), inches(7), 2, ring=True),
    RibBand("hem band", inches(50), inches(7), places=PLACES),
    RibBand("neckband", inches(21), inches(3)),
)
STOCKS = (
    RibStock("tube", "tube", inches(40)),
    RibStock("flat rib", "flat", inches(60), selvedge=inches(0.5)),
    RibStock("long strips", "strips", inches(42), inches(8)),
    RibStock("short strips with a name that takes its room", "strips", inches(14), inches(8)),
    RibStock("very short strips", "strips", inches(6), inches(8)),
    RibStock("ready set", "set", inches(52), inches(7), cuff=inches(10)),
)


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: stock.name)
@pytest.mark.parametrize("units", Units)
def test_legible_on_one_page(stock: RibStock, units: Units) -> None:
    """No words stand on one another or leave the page, the page is an A4 one, and every part has its line."""
    plan = plan_rib(BANDS, stock, seam=inches(0.5))
    figure = rib_page(plan, title="Jacket: rib", units=units, lines=("Buy some", "the least possible"))
    assert overlapping(figure) == []
    assert figure.get_size_inches()[1] * 72 == pytest.approx(PAGE_HEIGHT)
    written = texts(figure)
    assert sum(words == "row 1" or words.startswith(("row ", "strip ", "set ")) for words in written) == len(plan.cuts)
    assert all(words in written for words in map(str, range(1, len(plan.cuts) + 1)))


def test_says_where_parts_are_joined() -> None:
    """A band joined at the centre back says so in the table; one joined between seams, how far from its start."""
    bands = (RibBand("hem band", inches(50), inches(7), places=PLACES),)
    at_seam = texts(rib_page(plan_rib(bands, STOCKS[0], seam=inches(0.5)), title="", units=Units.INCHES))
    assert "part 1 of 2, up to centre back" in at_seam
    assert "part 2 of 2" in at_seam
    off = (RibBand("hem band", inches(50), inches(7), places=(("left side seam", 0.95),)),)
    between = texts(rib_page(plan_rib(off, STOCKS[0], seam=inches(0.5)), title="", units=Units.INCHES))
    assert "part 1 of 2, up to 24 1/2 in from its start" in between


def test_ready_bands_are_drawn_as_long_as_they_are() -> None:
    """Above each band of a ready set stands its own length, not the hem band's."""
    written = texts(rib_page(plan_rib(BANDS, STOCKS[-1], seam=inches(0.5)), title="", units=Units.INCHES))
    assert written.count("10 in across, 7 in deep") == 2
    assert "ready set, set 1, cuff 2" in written


def test_closed_tube_says_so() -> None:
    """A cuff left a closed tube is told apart from one that is cut."""
    stock = RibStock("cuffing", "tube", inches(8.5), closed=True)
    assert (
        texts(rib_page(plan_rib(BANDS[:1], stock, seam=inches(0.5)), title="", units=Units.INCHES)).count(
            "closed tube, no seam"
        )
        == BANDS[0].count
    )
