"""Pieces on cloth: spreads, markers, proven bounds, rib; knows nothing of money or pictures."""

from __future__ import annotations

from nesting.band import Band
from nesting.bounds import lower_bound
from nesting.errors import NestingError
from nesting.fabric import Fabric
from nesting.lay import lay_pieces
from nesting.listener import Listener
from nesting.marker import Marker, Result
from nesting.opinion import check
from nesting.problem import Problem
from nesting.solver import solve
from nesting.stop import AnyOf, MaxIterations, MaxRuntime
from nesting.strips import plan_rib

__all__ = [
    "AnyOf",
    "Band",
    "Fabric",
    "Listener",
    "Marker",
    "MaxIterations",
    "MaxRuntime",
    "NestingError",
    "Problem",
    "Result",
    "check",
    "lay_pieces",
    "lower_bound",
    "plan_rib",
    "solve",
]
