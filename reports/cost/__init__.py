"""What a garment and a run cost, what to charge, and what makes the cost fall with quantity."""

from reports.cost.breakeven import break_even
from reports.cost.curve import CostCurve, cost_curve
from reports.cost.pricing import PriceRule, Rate
from reports.cost.quote import Quote, make_quote
from reports.cost.sheet import Charge, CostSheet, RunCost, cost_run
from reports.cost.sources import Expense, MaterialUse, Supply, Work

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
