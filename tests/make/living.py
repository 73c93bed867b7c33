"""Files whose living workbooks hold all there is: a plain order, a rich one, and a job with offers side by side."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import xlsxwriter

from pieces.units import Units
from reports.ask.job import parse_job
from reports.ask.offer import RibOffer
from reports.ask.pricing import Pricing
from reports.book.making import LiveMaking
from reports.book.offered import rib_good
from reports.money.yardage import Increment, purchase
from reports.plan.effort import Effort
from reports.plan.plan import Plan, plan_job
from reports.sheets.living_xlsx import LiveWriter
from tests.make.model import RIB, with_fabrics
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from reports.sheets.living import LiveBook

YARD = 914.4

PLAIN = changed(*SMALL, (r"^rust = .*$", "rust = { S = 2, L = 1 }"), (r"^navy = .*$", "navy = { L = 1 }"))
"""Four jackets in two sizes and two colours."""

RICH = """
garment = "rib-jacket"
units = "cm"
sizes = "women-letters"
[style]
length = "25 in"
sleeve = "23 in"
closure = "zip"
[quantity]
rust = { S = 2, L = 1 }
navy = { L = 1 }
[tolerance]
over = 1
[cutting]
tool = "rotary cutter"
table = "4 m"
most_layers = 6
[[fabric]]
name = "rust canvas"
colour = "rust"
width = "60 in"
spread = "face-up"
sold_by = "0.1 m"
shrinkage = 3
margin = 4
minimum = "1 m"
price = "EUR16.50 / kg"
weight = "300 g/m2"
breaks = [{ at_least = "4.5 m", price = "EUR11.80 / kg" }]
[[fabric]]
name = "navy canvas"
colour = "navy"
width = "60 in"
sold_by = "1/4 yd"
shrinkage = 3
splice = "5 cm"
price = "EUR16.50 / m"
breaks = [{ at_least = "3 yd", price = "EUR11.40 / yd" }, { at_least = "2 yd", price = "EUR12.30 / yd" }]
[[fabric]]
name = "cream lining"
width = "56 in"
material = "lining"
pieces = ["back", "front"]
price = "EUR6.00 / yd"
[[rib]]
name = "strips"
form = "strips"
width = "60 in"
depth = "8 in"
price = "EUR4.15 / strip"
[[trim]]
name = "zip"
amount = 1
colours = ["rust"]
sold_by = 3
price = "EUR2.40 / piece"
breaks = [{ at_least = 5, price = "EUR1.95 / piece" }]
[[trim]]
name = "thread"
amount = "120.5 m"
by_size = { L = "133.25 m" }
sold_by = "1000 m"
price = "EUR3.20 / piece"
[[trim]]
name = "tape"
amount = "1.25 m"
price = "EUR0.333 / m"
[[trim]]
name = "label"
amount = 2
sizes = ["S"]
price = "EUR0.351 / piece"
minimum = 5
[[operation]]
name = "seams"
minutes = 14.5
set_up = 20
grade = "fine"
[[operation]]
name = "seams"
minutes = 18
rate = "EUR0.45 / min"
[[operation]]
name = "pressing"
minutes = 8
part = "finishing"
[pricing]
rate = "EUR19.00 / h"
grades = { fine = "EUR24.35 / h" }
efficiency = 85
overhead = 18
overhead_on = "labour"
waste = 2
set_up = { "pattern" = "EUR180.00", "sample" = "EUR90.005" }
margin = 37.5
price_by_size = true
retail_markup = 110
tax = 20
price_step = "EUR0.05"
line_charges = [
    { name = "duty", percent = 6.5, on = ["cloth", "zip", "lining"] },
    { name = "risk", percent = 2, on = ["other", "seams"] },
]
after = [{ name = "freight", amount = "EUR24.995" }, { name = "insurance", percent = 1.25 }]
second = { currency = "$", rate = 1.0837, date = 2026-11-02 }
"""
"""Metric and in euro: cloth by weight and by two units, strips of rib, over-cut garments, a price for each size."""

LABOUR = """
[[trim]]
name = "label"
price = "$0.40 / piece"

[[operation]]
name = "cutting"
minutes = 30
part = "cutting"

[[operation]]
name = "sewing"
minutes = 150
set_up = 12

[pricing]
rate = "$20.00 / h"
overhead = 10
waste = 3
markup = 50
retail = "$250.00"
tax = 20
set_up = { pattern = "$45.00" }
"""

JOB = (
    "garments = 2\n"
    + with_fabrics(
        'name = "wide"\nwidth = "60 in"\nspread = "open"\nprice = "$14.00 / yd"',
        'name = "lining"\nwidth = "56 in"\nmaterial = "lining"\npieces = ["back"]\nspread = "open"\n'
        'price = "$6.00 / m"\nshrinkage = 3\nmargin = 5\nbreaks = [{ at_least = "1 yd", price = "$5.10 / yd" }]',
        'name = "wider"\nwidth = "64 in"\nspread = "open"\nprice = "$16.00 / yd"\nsold_by = "10 cm"',
        rib=RIB.replace("18.00 /", "$18.00 /"),
    )
    + LABOUR
)
"""Two cloths for the shell, a lining, trims without a price, and a cost."""


def job_planned(text: str) -> Plan:
    """A job by first layouts."""
    return plan_job(parse_job(text), Effort(0.0))


def exact_steps() -> LiveMaking:
    """Rib that needs whole quarters of a yard, and just more or less: its steps are exact, and its half cents."""
    offer = RibOffer.model_validate({"opened": "36 in", "sold_by": "1/4 yd", "price": "16.50 / yd"})
    lengths = [7.25 * YARD + more for more in (-0.1, 0.0, 0.0004, 0.002)] + [n * YARD / 4 for n in range(1, 30)]
    step = Increment(YARD / 4, "1/4 yd")
    bought = [purchase(length, step, ends=0.0, shrinkage=0.0, margin=0.0) for length in lengths]
    goods = [rib_good(f"rib.{i}", offer, one, 0, Units.INCHES) for i, one in enumerate(bought)]
    return LiveMaking("Steps", "", ("S",), ("rust",), {("rust", "S"): 1}, tuple(goods), Pricing())


def bare_workbook(book: LiveBook) -> bytes:
    """A workbook of living sheets alone."""
    stream = io.BytesIO()
    written = xlsxwriter.Workbook(stream, {"in_memory": True})
    LiveWriter(written, 1).write(book)
    written.close()
    return stream.getvalue()
