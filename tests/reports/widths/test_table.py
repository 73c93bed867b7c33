"""Three sets of pieces on cloth of five widths against the published table of equal garments, row by row.

Source of the table: `reports.widths.conversion`. Lengths are laid for real, open or folded, whichever is shorter.
"""

from __future__ import annotations

from importlib.resources import files
from typing import Any

import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import NestingError
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from pieces.length import inches
from pieces.units import INCH
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.widths.conversion import ratios
from tests.make.model import MODEL

TEMPLATE = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")

WIDTHS = (36, 45, 50, 54, 60)
TOLERANCE = 0.06
"""Beyond the least and the greatest ratio of the table's twelve garments, whose yards are rounded to 1/8."""


def shortest(pieces: Any, garments: int, width: int) -> float:
    """The shorter of an open and a folded marker, mm."""
    found = []
    for spread in ("open", "folded"):
        try:
            problem = lay_pieces(pieces, Fabric("cloth", inches(width), inches(0.5)), spread, garments=garments)
        except NestingError:
            continue
        found.append(solve(problem, MaxIterations(25)).marker.length)
    return min(found)


@pytest.fixture(scope="module")
def laid() -> dict[tuple[str, int], float]:
    """For each set, its length on each width over that on 45 in."""
    jacket = draft_job(parse_job(MODEL)).of("shell")
    other = draft_job(parse_job(TEMPLATE)).of("shell")
    sets = {"jacket": (jacket, 1), "other jacket": (other, 1), "two jackets": (jacket, 2)}
    lengths = {(name, width): shortest(*of, width) for name, of in sets.items() for width in WIDTHS}
    return {key: length / lengths[key[0], 45] for key, length in lengths.items()}


@pytest.mark.parametrize("width", [36, 50, 54, 60])
@pytest.mark.parametrize("name", ["jacket", "other jacket", "two jackets"])
def test_ratio_to_45_in(laid: dict[tuple[str, int], float], name: str, width: int) -> None:
    """Each length, as a share of that on 45 in, lies within the table's range, give or take what is stated."""
    least, _, most = ratios()[width * INCH]
    inside = least - TOLERANCE <= laid[name, width] <= most + TOLERANCE
    assert inside, f"{laid[name, width]:.3f} against {least:.3f} to {most:.3f}"
