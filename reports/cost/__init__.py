"""What a garment and a run cost, what to charge, and what makes the cost fall with quantity."""

from reports.money.cost.breakeven import break_even
from reports.money.cost.curve import CostCurve, cost_curve
from reports.money.cost.pricing import PriceRule, Rate
from reports.money.cost.quote import Quote, make_quote
from reports.money.cost.sheet import Charge, CostSheet, RunCost, cost_run
from reports.money.cost.sources import Expense, MaterialUse, Supply, Work

__all__ = [
    "Charge",
    "CostCurve",
    "CostSheet",
    "Expense",
    "MaterialUse",
    "PriceRule",
    "Quote",
    "Rate",
    "RunCost",
    "Supply",
    "Work",
    "break_even",
    "cost_curve",
    "cost_run",
    "make_quote",
]
