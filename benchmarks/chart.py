"""How long a whole chart takes, and how far its markers are from what a minute each would give.

python benchmarks/chart.py JOB [--workers N] [--effort N] [--spread S] [--sample N] [--seconds S] [--seed N]
"""

import argparse
import random
import resource
import sys
import time
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.marker.marker import Marker
from nesting.problem.problem import Problem
from nesting.search.solver import solve
from nesting.search.stop import SearchTime
from pieces import Units
from reports.ask.job import read_job
from reports.ask.sizes import graded_sizes
from reports.batch.series import cloth_of, width_list
from reports.batch.study import cores, study
from reports.chart.chart import Chart, WidthMarker, plan_chart
from reports.plan.effort import USUAL, Effort


def cells_of(chart: Chart) -> list[WidthMarker]:
    """All answers of a chart."""
    found = [
        chart.cell(column, nap, number)
        for column in chart.columns
        for nap in chart.naps
        for number in range(len(chart.widths))
    ]
    return [cell for cell in found if isinstance(cell, WidthMarker)]


def main() -> None:
    """Lay the chart without a cache, then some of its markers again for longer."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("job", type=Path)
    parser.add_argument("--workers", type=int, default=cores())
    parser.add_argument("--effort", type=float, default=USUAL)
    parser.add_argument("--spread", default=None)
    parser.add_argument("--sample", type=int, default=0, help="markers to lay again")
    parser.add_argument("--seconds", type=float, default=60.0, help="search time for each of those")
    parser.add_argument("--seed", type=int, default=0)
    args = parser.parse_args()
    job, effort = read_job(args.job), Effort(args.effort, seed=args.seed)
    began = time.monotonic()
    chart = plan_chart(
        job,
        cloth_of(job),
        graded_sizes(job),
        width_list(None, Units.INCHES),
        nap="both",
        spread=args.spread,
        effort=effort,
    )
    laid: list[Marker | None] = []

    def lay(problems: Sequence[Problem], effort: Effort) -> list[Marker | None]:
        laid.extend(markers := study(problems, effort, workers=args.workers).markers)
        return markers

    chart.lay(lay)
    seconds, cells = time.monotonic() - began, cells_of(chart)
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    processor = sum(each.ru_utime + each.ru_stime for each in used)
    told = f"{seconds:.1f} s, {args.workers} workers, {processor:.1f} s of processor time"
    print(f"{len(cells)} answers from {len(laid)} markers in {told}", flush=True)
    sample = random.Random(args.seed).sample(cells, min(args.sample, len(cells)))
    excess = []
    for cell in sample:
        longer = solve(cell.marker.problem, SearchTime(args.seconds), seed=args.seed + 1, workers=args.workers).marker
        excess.append(100 * (cell.marker.length / longer.length - 1))
        told = f"{cell.width / 25.4:.0f} in, {cell.spread}: {cell.marker.length:.1f} mm"
        print(f"{told}, {longer.length:.1f} mm after {args.seconds:g} s: {excess[-1]:+.2f} %", flush=True)
    if excess:
        print(f"mean {sum(excess) / len(excess):+.2f} %, most {max(excess):+.2f} %, of {len(excess)} markers")


if __name__ == "__main__":
    main()
