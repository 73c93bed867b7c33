"""Whether what is bought by default is what a long search would have bought: random jobs with fixed seeds.

python benchmarks/purchase.py [--jobs N] [--first K] [--seconds S] [--tree PATH] [--kept FILE]

Each job is laid by the defaults of the tree, and then searched on from there, from other seeds, for S seconds of
processor time, or until no smaller purchase is possible. `--tree` measures another checkout.
"""

import argparse
import json
import random
import statistics
import sys
import time
from itertools import count
from pathlib import Path
from typing import Any, NamedTuple

SPREADS = ("open", "folded", "double-folded", "part-folded", "fold-then-open")
STEPS = {"1/8 yd": "in", "1/4 yd": "in", "10 cm": "cm"}
YARD = 914.4


class Bought(NamedTuple):
    """What came of a job: what is bought by default and after a long search, mm, and how long the default took, s."""

    number: int
    told: str
    default: float
    long: float
    marker: float
    shortest: float
    seconds: float
    proved: bool


def job_text(number: int, attempt: int) -> tuple[str, str]:
    """A random job, and in a few words what it is."""
    from pieces import GARMENTS
    from pieces.body.sizes import find_table

    draw = random.Random(f"purchase {number} {attempt}")
    garment = GARMENTS["rib-jacket"]
    table = draw.choice(["women", "men"])
    size = draw.choice(find_table(table).sizes)
    body = find_table(table).body(size)
    step, spread = draw.choice(sorted(STEPS)), draw.choice(SPREADS)
    width, nap = draw.randint(36, 62), draw.random() < 0.3
    style = {
        "length": f"{draw.randint(18, 32)} in",
        "ease": f"{draw.randint(3, 7)} in",
        "back": draw.choice(["fold", "seam"]),
        "facing": draw.choice(["separate", "grown-on", "none"]),
        "tab_width": draw.choice(["0 in", "0 in", "3 in"]),
    }
    measures = "".join(f'{name} = "{getattr(body, name):.1f} mm"\n' for name in garment.measurements)
    chosen = "".join(f'{name} = "{value}"\n' for name, value in style.items())
    text = (
        f'garment = "{garment.name}"\nunits = "{STEPS[step]}"\n[body]\n{measures}arm_length = "23 in"\n'
        f'[style]\n{chosen}[[fabric]]\nname = "cloth"\nwidth = "{width} in"\n'
        f'selvedge = "{draw.choice(["0", "1/2"])} in"\n'
        f'spread = "{spread}"\nnap = {str(nap).lower()}\nsold_by = "{step}"\n'
    )
    return text, f"{garment.name}, {table} {size}, {width} in {spread}{', nap' if nap else ''}, by {step}"


def bought(number: int, seconds: float) -> Bought:
    """Lay a job by default, and search on from there."""
    from nesting.errors import NestingError
    from nesting.search.solver import solve
    from nesting.search.stop import MaxRuntime
    from pieces.errors import PieceError
    from reports.ask.job import parse_job
    from reports.errors import ReportError
    from reports.plan.effort import Effort
    from reports.plan.plan import plan_job

    for attempt in count():
        text, told = job_text(number, attempt)
        try:
            job, began = parse_job(text), time.process_time()
            (fabric,) = plan_job(job, Effort(), rib=False).fabrics
            taken = time.process_time() - began
            break
        except (PieceError, NestingError, ReportError, ValueError):
            continue
    offer, problem, best = fabric.offer, fabric.result.marker.problem, fabric.result.marker
    enough = fabric.purchase.enough

    def purchase(length: float) -> float:
        return float(offer.purchase(length, problem.lengths, on_pattern=problem.repeat is not None).enough)

    is_proved, end = fabric.buys_least, time.process_time() + seconds
    for seed in count(101):
        left = end - time.process_time()
        if left <= 0 or purchase(fabric.result.bound) >= purchase(best.length):
            break
        found = solve(
            problem, MaxRuntime(left, now=time.process_time), seed=seed, initial=best, **aimed(offer, problem)
        )
        best = min(best, found.marker, key=lambda marker: marker.length)
    long = purchase(best.length)
    return Bought(number, told, enough, long, fabric.result.marker.length, best.length, taken, is_proved)


def aimed(offer: Any, problem: Any) -> dict[str, Any]:
    """What a search aims at, in a tree that knows aims."""
    try:
        from reports.plan.aims import PurchaseAims
    except ImportError:
        return {}
    return {"aims": PurchaseAims(offer, problem.lengths, problem.repeat is not None)}


def main() -> None:
    """Lay the jobs and print what is bought in all."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=60)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--tree", type=Path, default=Path(__file__).parents[1])
    parser.add_argument("--kept", type=Path, help="a file that gets a line of JSON for each job")
    args = parser.parse_args()
    sys.path.insert(0, str(args.tree.resolve()))
    warm_up()
    all_jobs = []
    for number in range(args.first, args.first + args.jobs):
        job = bought(number, args.seconds)
        all_jobs.append(job)
        less = f", less found: {job.long / YARD:.3f} yd" if job.long < job.default - 1e-6 else ""
        proof = ", proved least" if job.proved else ""
        lengths = f"{job.marker:.1f} mm, {job.shortest:.1f} mm"
        print(
            f"{number}: {job.told}: {job.default / YARD:.3f} yd{less}{proof}; {lengths}; {job.seconds:.1f} s",
            flush=True,
        )
        if args.kept:
            with args.kept.open("a", encoding="utf-8") as file:
                file.write(json.dumps(job._asdict()) + "\n")
    default, long = sum(job.default for job in all_jobs), sum(job.long for job in all_jobs)
    differ = [job.number for job in all_jobs if job.long < job.default - 1e-6]
    seconds = [job.seconds for job in all_jobs]
    print(
        f"{len(all_jobs)} jobs: {default / YARD:.3f} yd by default, {long / YARD:.3f} yd after {args.seconds:g} s more"
    )
    print(
        f"gap {100 * (default / long - 1):.3f} %, in jobs {differ}; proved least {sum(job.proved for job in all_jobs)}"
    )
    print(
        f"default took {statistics.median(seconds):.1f} s of processor time at the median, {max(seconds):.1f} s at most"
    )


def warm_up() -> None:
    """Compile and load the kernels, so that no job's time has that in it."""
    from nesting.problem.problem import Problem
    from nesting.search.solver import solve
    from nesting.search.stop import MaxIterations

    triangles = Problem.from_outlines(3.0, [[[0, 0], [2, 0], [0, 2]]], [6], [[0.0, 180.0]])
    solve(triangles, MaxIterations(60))


if __name__ == "__main__":
    main()
