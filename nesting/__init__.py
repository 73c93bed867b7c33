"""Pieces on cloth: spreads, markers, proven bounds, rib; knows nothing of money or pictures.

These ten names are for daily use; every other public name is imported from its module.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.face import shown as _shown

if TYPE_CHECKING:
    from nesting.cloth.fabric import Fabric
    from nesting.errors import NestingError
    from nesting.marker.marker import Result
    from nesting.marker.opinion import check
    from nesting.problem.lay import lay_pieces
    from nesting.search.listener import Listener
    from nesting.search.solver import solve
    from nesting.search.stop import MaxIterations, MaxRuntime, MaxWork
    from nesting.search.sweep import sweep

__all__ = [
    "Fabric",
    "Listener",
    "MaxIterations",
    "MaxRuntime",
    "MaxWork",
    "NestingError",
    "Result",
    "check",
    "lay_pieces",
    "solve",
    "sweep",
]

__getattr__, __dir__ = _shown(
    __name__,
    {
        "Fabric": "cloth.fabric",
        "Listener": "search.listener",
        "MaxIterations": "search.stop",
        "MaxRuntime": "search.stop",
        "MaxWork": "search.stop",
        "NestingError": "errors",
        "Result": "marker.marker",
        "check": "marker.opinion",
        "lay_pieces": "problem.lay",
        "solve": "search.solver",
        "sweep": "search.sweep",
    },
)
