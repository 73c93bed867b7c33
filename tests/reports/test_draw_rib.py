"""The picture of how rib is cut: legible on one page, whatever the shape of the rib."""

from __future__ import annotations

import pytest

from nesting.strips import RibBand, RibStock, plan_rib
from pieces import Units
from reports.draw.rib import rib_page
from reports.draw.sheet import PAGE_HEIGHT
from tests.reports.drawn import overlapping, texts

INCH = 25.4
BANDS = (
    RibBand("cuff", 9.5 * INCH, 7 * INCH, 2),
    RibBand("hem band", 50 * INCH, 7 * INCH),
    RibBand("neckband", 21 * INCH, 3 * INCH),
)
STOCKS = (
    RibStock("tube", "tube", 40 * INCH),
    RibStock("flat rib", "flat", 60 * INCH, selvedge=INCH / 2),
    RibStock("long strips", "strips", 42 * INCH, 8 * INCH),
    RibStock("short strips with a name that takes its room", "strips", 14 * INCH, 8 * INCH),
    RibStock("very short strips", "strips", 6 * INCH, 8 * INCH),
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
    assert sum(words == "row 1" or words.startswith(("row ", "strip ")) for words in written) == len(plan.cuts)
    assert all(words in written for words in map(str, range(1, len(plan.cuts) + 1)))
