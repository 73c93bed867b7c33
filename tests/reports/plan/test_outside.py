"""The whole job against figures from outside: usual yardages, and a published table of one garment on two widths."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest

from pieces.units import INCH, YARD
from reports.ask.job import parse_job
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from reports.plan.answers import FabricPlan

# Yards of one and the same garment on cloth of 44-45 in and of 58-60 in, garment by garment: "Fabric conversion chart",
# sewwithsarah.com; the same figures on hookedonsewing.com and greenspun.com.
ON_45 = "1 3/8, 1 5/8, 1 3/4, 2 1/8, 2 1/4, 2 1/2, 2 3/4, 2 7/8, 3 1/8, 3 3/8, 3 5/8, 3 7/8"
ON_60 = "1, 1 1/4, 1 3/8, 1 5/8, 1 3/4, 1 7/8, 2, 2 1/4, 2 3/8, 2 5/8, 2 3/4, 2 7/8"


def yards(row: Any) -> list[Fraction]:
    """A row of the table as fractions."""
    return [sum(map(Fraction, entry.split()), Fraction(0)) for entry in row.split(",")]


@pytest.fixture(scope="module")
def bought() -> dict[int, FabricPlan]:
    """The model jacket on cloth of 45 in and of 60 in, each laid in its best spread."""
    cloth = (f'name = "{width}"\nwidth = "{width} in"\nselvedge = "1/2 in"\nspread = "best"' for width in (45, 60))
    plan = plan_job(parse_job(with_fabrics(*cloth)), Effort(0, proof=0))
    return {int(fabric.offer.name): fabric for _, fabric in plan.markers}


def test_usual(bought: dict[int, FabricPlan]) -> None:
    """A jacket takes two to three yards of 45 in cloth (common practice, no source): ours takes no more."""
    assert bought[45].purchase.buy <= 3 * YARD + 1e-6


def test_wider_takes_less(bought: dict[int, FabricPlan]) -> None:
    """On 60 in cloth it takes less than on 45 in, as for every garment of the published table.

    How much less is printed, not asserted: it depends on how long one searches. The jacket's ratio was 0.735 after one
    layout, 0.696 after 8, 0.709 after 40 and 0.719 after 200 iterations; the table's garments have 0.727 to 0.786.
    """
    table = [wide / narrow for narrow, wide in zip(yards(ON_45), yards(ON_60), strict=True)]
    assert (float(min(table)), float(max(table))) == pytest.approx((0.727, 0.786), abs=0.001)
    ratio = bought[60].result.marker.length / bought[45].result.marker.length
    print(f"60 in over 45 in: {ratio:.3f}; in the table {float(min(table)):.3f} to {float(max(table)):.3f}")
    assert max(table) < 1
    assert bought[60].purchase.buy < bought[45].purchase.buy


def test_needs_its_area(bought: dict[int, FabricPlan]) -> None:
    """No purchase is less than the area of the pieces, however the cloth is laid."""
    for width, fabric in bought.items():
        area = fabric.result.marker.problem.piece_area
        assert fabric.purchase.buy * width * INCH > area
        # A bound allows for what the check lets pass: 0.01 mm all round each piece, far below a thousandth here.
        assert fabric.result.bound * (width - 1) * INCH >= area * 0.999
