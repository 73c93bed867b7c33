"""Pieces on cloth: spreads, markers, proven bounds, rib; knows nothing of money or pictures."""

from __future__ import annotations

from nesting.cloth.band import Band
from nesting.cloth.fabric import Fabric
from nesting.errors import NestingError
from nesting.marker.marker import Marker, Result
from nesting.marker.opinion import check
from nesting.problem.lay import lay_pieces
from nesting.problem.problem import Problem
from nesting.proof.bounds import lower_bound
from nesting.rib.planning import plan_rib
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import AnyOf, MaxIterations, MaxRuntime

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
