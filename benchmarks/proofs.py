"""How often a purchase is proved least: random single garments with fixed seeds, and larger sets.

python benchmarks/proofs.py [--jobs N] [--first K] [--default] [--kept FILE]

Each of the jobs of purchase.py is planned with `--prove`, or by default. What is counted: the purchase is proved
least; the gap between the marker and what is proved; seconds of waiting and of the processor.
"""

import argparse
import json
import statistics
import sys
import time
from itertools import count
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parent))


class Proved(NamedTuple):
    """What came of a job."""

    number: int
    told: str
    spread: str
    outlines: int
    marker: float
    bound: float
    proved: bool
    seconds: float
    processor: float


def proved(number: int, *, by_default: bool) -> Proved:
    """Plan a job, and see what is proved of it."""
    from purchase import job_text

    from nesting.errors import NestingError
    from pieces.errors import PieceError
    from reports.ask.job import parse_job
    from reports.errors import ReportError
    from reports.plan.effort import Effort
    from reports.plan.plan import plan_job

    for attempt in count():
        text, told = job_text(number, attempt)
        began, processor = time.monotonic(), time.process_time()
        try:
            (fabric,) = plan_job(parse_job(text), Effort(prove=not by_default), rib=False).fabrics
            break
        except (PieceError, NestingError, ReportError, ValueError):
            continue
    result = fabric.result
    return Proved(
        number,
        told,
        fabric.offer.spread,
        result.marker.problem.to_prove.num_placements,
        result.marker.length,
        result.at_least,
        fabric.buys_least,
        time.monotonic() - began,
        time.process_time() - processor,
    )


def table(found: list[Proved], key: str) -> None:
    """Print what was proved, by one of the facts of a job."""
    print(f"| {key} | jobs | proved least | median gap % | median s | most s | median processor s |")
    print("|---|---|---|---|---|---|---|")
    for value in sorted({getattr(one, key) for one in found}):
        some = [one for one in found if getattr(one, key) == value]
        gaps = [100 * (1 - one.bound / one.marker) for one in some]
        seconds, processor = [one.seconds for one in some], [one.processor for one in some]
        print(
            f"| {value} | {len(some)} | {sum(one.proved for one in some)} | {statistics.median(gaps):.2f} "
            f"| {statistics.median(seconds):.1f} | {max(seconds):.1f} | {statistics.median(processor):.1f} |"
        )


def main() -> None:
    """Plan the jobs, and print tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=60)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--default", action="store_true", help="plan by default, without --prove")
    parser.add_argument("--kept", type=Path, help="a file that gets a line of JSON for each job")
    args = parser.parse_args()
    found = []
    for number in range(args.first, args.first + args.jobs):
        one = proved(number, by_default=args.default)
        found.append(one)
        gap = 100 * (1 - one.bound / one.marker)
        print(
            f"{number}: {one.told}, {one.outlines} outlines: {'proved' if one.proved else 'open'}, gap {gap:.2f} %, "
            f"{one.seconds:.1f} s, {one.processor:.1f} of the processor",
            flush=True,
        )
        if args.kept:
            with args.kept.open("a", encoding="utf-8") as file:
                file.write(json.dumps(one._asdict()) + "\n")
    share = 100 * sum(one.proved for one in found) / len(found)
    gaps = [100 * (1 - one.bound / one.marker) for one in found]
    print(f"{len(found)} jobs: {share:.0f} % proved least; median gap {statistics.median(gaps):.2f} %")
    for key in ("outlines", "spread"):
        table(found, key)


if __name__ == "__main__":
    main()
