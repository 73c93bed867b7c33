"""How long the first marker of hundreds of outlines takes, and the memory for it, each in a fresh process.

python benchmarks/many.py [--outlines N]... [--kinds K] [--seconds S] [--alike]
"""

import argparse
import json
import multiprocessing
import resource
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.marker.marker import Marker
from nesting.problem.problem import Problem
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import MaxRuntime

CLOTH = 1500.0
"""Width of the cloth, mm."""


def made_up(outlines: int, kinds: int, alike: bool) -> Problem:
    """Panels with curved sides, 20 corners each, 8 to 70 cm long; in equal numbers or in any."""
    rng = np.random.default_rng(7)
    share = rng.uniform(0.2, 1.0, kinds)
    numbers = np.maximum(1, np.rint(outlines * share / share.sum())).astype(int)
    numbers = np.full(kinds, outlines // kinds) if alike else numbers
    angles = np.linspace(0, 2 * np.pi, 20, endpoint=False)
    shapes = []
    for _ in range(kinds):
        long, wide = rng.uniform(80, 700), rng.uniform(60, 350)
        bent = 1 + 0.12 * np.sin(2 * angles + rng.uniform(0, 6)) + rng.uniform(-0.04, 0.04, 20)
        boxy = np.maximum(np.abs(np.cos(angles)), np.abs(np.sin(angles)))
        shapes.append(np.stack([long * np.cos(angles), wide * np.sin(angles)], axis=1) * (bent / boxy)[:, None] / 2)
    return Problem.from_outlines(CLOTH, shapes, numbers.tolist(), [[0.0, 180.0]] * kinds)


class First(Listener):
    """When the first marker was there, and how dense it was."""

    def __init__(self) -> None:
        self.began, self.at, self.density, self.length = time.monotonic(), 0.0, 0.0, 0.0

    def on_best(self, marker: Marker) -> None:
        """Note the first."""
        self.at = self.at or time.monotonic() - self.began
        self.density = self.density or 100 * marker.density


def measure(outlines: int, kinds: int, seconds: float, alike: bool) -> dict[str, Any]:
    """One search in this process."""
    problem = made_up(outlines, kinds, alike)
    first = First()
    result = solve(problem, MaxRuntime(seconds), listener=first)
    return {
        "outlines": problem.num_placements, "first_s": round(first.at, 2), "first_percent": round(first.density, 1),
        "percent": round(100 * result.marker.density, 1), "seconds": round(result.seconds, 1),
        "memory_mb": round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024),
    }  # fmt: skip


def main() -> None:
    """Measure each number of outlines in a process of its own, and print a line for each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--outlines", type=int, action="append", help="how many; may be given again")
    parser.add_argument("--kinds", type=int, default=12)
    parser.add_argument("--seconds", type=float, default=0.0, help="to search after the first marker")
    parser.add_argument("--alike", action="store_true", help="equal numbers of each kind")
    args = parser.parse_args()
    with multiprocessing.get_context("spawn").Pool(1, maxtasksperchild=1) as pool:
        for outlines in args.outlines or [500, 2000]:
            print(json.dumps(pool.apply(measure, (outlines, args.kinds, args.seconds, args.alike))), flush=True)


if __name__ == "__main__":
    main()
