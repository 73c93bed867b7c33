"""Density on open instances, each layout verified without the project's own check.

python benchmarks/density.py --instances DIR --seconds S [--only NAME]... [--seed N] [--workers N | --processor]
                             [--json]
"""

import argparse
import json
import sys
import time
from pathlib import Path
from typing import Any

import shapely

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.marker.marker import Marker
from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import MaxRuntime

# Densities published, percent (Gardeyn, Vanden Berghe, Wauters 2025, arXiv 2509.13329): the best of 100 runs of 20
# minutes on 3 threads, and the mean of these runs, which is what one core-hour comes to.
BEST = {
    "shirts": 90.92, "trousers": 92.62, "albano": 89.82, "dagli": 90.17, "fu": 92.41, "shapes0": 69.98,
    "shapes1": 76.73, "blaz": 86.23, "dighe1": 100.0, "dighe2": 100.0,
}  # fmt: skip
MEAN = {
    "shirts": 89.66, "trousers": 91.73, "albano": 89.47, "dagli": 89.26, "fu": 92.24, "shapes0": 68.60,
    "shapes1": 75.69, "blaz": 84.68,
}  # fmt: skip


def load(path: Path) -> Problem:
    """An instance file: width, and pieces with quantity, turns and outline; gardeyn only along the grain."""
    data = json.loads(path.read_text())
    pieces = data["pieces"]
    along = path.stem.startswith("gardeyn")
    return Problem.from_outlines(
        data["width"],
        [piece["outline"] for piece in pieces],
        [piece["quantity"] for piece in pieces],
        [[0.0, 180.0] if along else piece["turns"] for piece in pieces],
        name=path.stem,
    )


def is_sound(marker: Marker) -> bool:
    """Whether all true outlines are there, lie in the strip, and share no area, to 1e-9 of width squared a pair."""
    width, slack = marker.problem.width, 1e-6 * marker.problem.width
    shapes = [shapely.Polygon(outline) for *_, outline in marker.outlines()]
    left, low, right, high = shapely.total_bounds(shapes)
    if len(shapes) != marker.problem.num_placements or left < -slack or low < -slack:
        return False
    if right > marker.length + slack or high > width + slack:
        return False
    pairs = shapely.STRtree(shapes).query(shapes, predicate="intersects").T
    return all(shapes[i].intersection(shapes[j]).area <= 1e-9 * width**2 for i, j in pairs if i < j)


def run(path: Path, seconds: float, seed: int, workers: int, by_processor: bool) -> dict[str, Any]:
    """Lay one instance, and verify the layout."""
    clock = time.process_time if by_processor else time.monotonic
    problem, began = load(path), clock()
    marker = solve(problem, MaxRuntime(seconds, now=clock), seed=seed, workers=workers).marker
    return {
        "name": path.stem,
        "density_percent": 100 * problem.piece_area / (problem.width * marker.length),
        "length": marker.length,
        "seconds": clock() - began,
        "seed": seed,
        "verified": is_sound(marker),
    }


def share_of(published: dict[str, float], name: str, density: float) -> float:
    """A density as a share of what is published, percent."""
    return 100 * density / published[name]


def told(row: dict[str, Any]) -> str:
    """A run in a line."""
    name, density = row["name"], row["density_percent"]
    sound = "verified" if row["verified"] else "NOT SOUND"
    line = f"{name:<10}{density:7.2f} % {row['seconds']:6.1f} s  {sound}"
    if name in BEST:
        line += f"  {BEST[name]:6.2f} best published, {share_of(BEST, name, density):6.2f} % of it"
    if name in MEAN:
        line += f"; {MEAN[name]:6.2f} mean, {share_of(MEAN, name, density):6.2f} %"
    return line


def main() -> None:
    """Solve each instance and print its density beside the best known."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--instances", type=Path, required=True, help="folder of instance files")
    parser.add_argument("--seconds", type=float, required=True, help="time for each instance")
    parser.add_argument("--only", action="append", help="an instance; may be given again")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--processor", action="store_true", help="count processor seconds, of one worker")
    parser.add_argument("--json", action="store_true", help="one JSON list on standard output")
    args = parser.parse_args()
    rows = []
    for path in sorted(args.instances.glob("*.json")):
        if args.only and path.stem not in args.only:
            continue
        rows.append(run(path, args.seconds, args.seed, 1 if args.processor else args.workers, args.processor))
        if not args.json:
            print(told(rows[-1]), flush=True)
    if args.json:
        print(json.dumps(rows))
    else:
        for published, what in ((BEST, "best"), (MEAN, "mean")):
            if shares := [
                share_of(published, row["name"], row["density_percent"]) for row in rows if row["name"] in published
            ]:
                mean = sum(shares) / len(shares)
                print(f"mean share of the {what} published {mean:.2f} %, least {min(shares):.2f} %")
    if not all(row["verified"] for row in rows):
        sys.exit(1)


if __name__ == "__main__":
    main()
