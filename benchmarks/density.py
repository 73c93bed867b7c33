"""Density on open instances, each layout verified without the project's own check.

python benchmarks/density.py --instances DIR --seconds S [--only NAME]... [--seed N] [--workers N] [--json]
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

# Best published densities, percent: Gardeyn, Vanden Berghe, Wauters 2025, arXiv 2509.13329.
BEST = {
    "shirts": 90.92, "trousers": 92.62, "albano": 89.82, "dagli": 90.17, "fu": 92.41, "shapes0": 69.98,
    "shapes1": 76.73, "blaz": 86.23, "dighe1": 100.0, "dighe2": 100.0,
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


def main() -> None:
    """Solve each instance and print its density beside the best known."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--instances", type=Path, required=True, help="folder of instance files")
    parser.add_argument("--seconds", type=float, required=True, help="time for each instance")
    parser.add_argument("--only", action="append", help="an instance; may be given again")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--json", action="store_true", help="one JSON list on standard output")
    args = parser.parse_args()
    rows: list[dict[str, Any]] = []
    shares = []
    for path in sorted(args.instances.glob("*.json")):
        if args.only and path.stem not in args.only:
            continue
        problem, began = load(path), time.monotonic()
        marker = solve(problem, MaxRuntime(args.seconds), seed=args.seed, workers=args.workers).marker
        row = {
            "name": path.stem,
            "density_percent": 100 * problem.piece_area / (problem.width * marker.length),
            "length": marker.length,
            "seconds": time.monotonic() - began,
            "seed": args.seed,
            "verified": is_sound(marker),
        }
        rows.append(row)
        best = BEST.get(path.stem)
        share = 100 * row["density_percent"] / best if best else None
        if share:
            shares.append(share)
        if not args.json:
            beside = f"{best:6.2f} best known, {share:6.2f} % of it" if best else ""
            sound = "verified" if row["verified"] else "NOT SOUND"
            found = f"{path.stem:<10}{row['density_percent']:7.2f} % {row['seconds']:6.1f} s"
            print(f"{found}  {sound}  {beside}", flush=True)
    if args.json:
        print(json.dumps(rows))
    elif shares:
        print(f"mean share of the best known {sum(shares) / len(shares):.2f} %, least {min(shares):.2f} %")
    if not all(row["verified"] for row in rows):
        sys.exit(1)


if __name__ == "__main__":
    main()
