"""What garments of the wardrobe take, against yardages that shops and sewers tell; and lining against shell.

Their tables name no size and keep a margin for all. So ours must take no more than they say, and not absurdly less.
"""

from __future__ import annotations

import pytest

from pieces.body.sizes import find_table
from reports.ask.job import parse_job
from reports.plan.effort import Effort
from reports.plan.plan import plan_job

LEAST_SHARE = 0.45
"""Of the figure in a table: Bermuda shorts are longer than ours, and tables are rounded up for the largest size."""


def bought(garment: str, table: str, size: str, width: str, *materials: str) -> list[float]:
    """Yards to buy of each material in one width, with all defaults; lining where it is asked for."""
    body = find_table(table).body(size).measurements()
    told = "".join(f'{name} = "{mm!r} mm"\n' for name, mm in body.items())
    style = '[style]\nlining = "full"\n' if "lining" in materials else ""
    cloths = "".join(
        f'[[fabric]]\nname = "{of}"\nmaterial = "{of}"\nwidth = "{width}"\nselvedge = "1/2 in"\nspread = "best"\n'
        for of in materials
    )
    job = parse_job(f'garment = "{garment}"\n[body]\n{told}{style}{cloths}')
    plan = plan_job(job, Effort(0, proof=0), rib=False)
    return [fabric.purchase.buy / 914.4 for _, fabric in plan.markers]


@pytest.mark.parametrize(
    ("garment", "table", "size", "width", "said"),
    [
        # A shop's common table, as a sewing page of 2010 copies it (seen there; the table's own source is not named).
        ("elastic-trousers", "women", "88", "36 in", 3.25),
        ("elastic-trousers", "women", "88", "50 in", 2.625),
        ("shorts", "women", "88", "36 in", 2.5),
        ("shorts", "women", "88", "50 in", 1.875),
        ("straight-skirt", "women", "88", "36 in", 2.0),
        ("straight-skirt", "women", "88", "50 in", 1.5),
        # Answers on a page of questions: a man's long-sleeved shirt on 60 in, 1.6 m.
        ("shirt", "men", "100", "60 in", 1.6 / 0.9144),
        # A sewer's rule (2013): most trousers 2 1/2 yd of 45 in.
        ("elastic-trousers", "women", "96", "45 in", 2.5),
    ],
)
def test_no_more_than_shops_say(garment: str, table: str, size: str, width: str, said: float) -> None:
    """The purchase is at most the table's, and at least a stated share of it."""
    (yards,) = bought(garment, table, size, width, "shell")
    assert LEAST_SHARE * said <= yards <= said


@pytest.mark.parametrize(
    ("garment", "table", "size"), [("rib-jacket", "women", "88"), ("straight-skirt", "women", "88")]
)
@pytest.mark.parametrize("width", ["45 in", "60 in"])
def test_lining_takes_no_more_than_the_shell(garment: str, table: str, size: str, width: str) -> None:
    """A pattern house's answer to customers: the shell's yardage is more lining than is needed at the same width."""
    shell, lining = bought(garment, table, size, width, "shell", "lining")
    assert lining <= shell
