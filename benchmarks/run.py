"""How long a whole production run takes, markers and all.

python benchmarks/run.py [--sizes N] [--colours N] [--garments N] [--effort N] [--workers N]
"""

import argparse
import resource
import sys
import time
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.marker.marker import Marker
from nesting.problem.problem import Problem
from pieces.body.sizes import find_table
from reports.ask.order.order import parse_order
from reports.batch.study import cores, study
from reports.plan.effort import Effort
from reports.run.plan import plan_run

CLOTH = """
[[fabric]]
name = "cloth {0}"
colour = "{0}"
width = "60 in"
selvedge = "1/2 in"
price = "16.50 / yd"
"""


def order_text(sizes: int, colours: int, garments: int) -> str:
    """An order of so many garments, more of the middle sizes than of the others."""
    names = list(find_table("women").sizes)[:sizes]
    weights = [1 + min(i, len(names) - 1 - i) for i in range(len(names))]
    every = [f"c{i}" for i in range(colours)]
    each = {n: max(1, round(garments * w / sum(weights) / colours)) for n, w in zip(names, weights, strict=True)}
    rows = [f"{colour} = {{ {', '.join(f'{n!r} = {k}' for n, k in each.items())} }}" for colour in every]
    head = (
        'garment = "rib-jacket"\nsizes = "women"\n[style]\nlength = "25 in"\nsleeve = "23 in"\n[cutting]\n'
        'tool = "straight knife"\ntable = "8 m"\nmost_garments = 5\n[pricing]\nrate = "19.00 / h"\n[quantity]\n'
    )
    return head + "\n".join(rows) + "\n" + "".join(map(CLOTH.format, every))


def main() -> None:
    """Plan one run without a cache, and say what it took."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", type=int, default=8)
    parser.add_argument("--colours", type=int, default=4)
    parser.add_argument("--garments", type=int, default=400)
    parser.add_argument("--effort", type=float, default=1.0)
    parser.add_argument("--workers", type=int, default=cores())
    args = parser.parse_args()
    order, effort, laid = parse_order(order_text(args.sizes, args.colours, args.garments)), Effort(args.effort), []

    def lay(problems: Sequence[Problem]) -> list[Marker | None]:
        markers = study(problems, effort, workers=args.workers).markers
        laid.extend(markers)
        return markers

    began = time.monotonic()
    run = plan_run(order, lay)
    seconds = time.monotonic() - began
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    (plan,) = run.lots
    print(
        f"{sum(run.cut.values())} garments, {args.sizes} sizes, {args.colours} colours: {seconds:.0f} s,"
        f" {sum(each.ru_utime + each.ru_stime for each in used):.0f} s of processor time, {len(laid)} markers laid;"
        f" {len(plan.plan.lays)} lays, {len(plan.plan.markers)} markers used, gap {plan.plan.gap:.2%},"
        f" planned {plan.rounds} times; against one size {plan.one_size.cost / plan.plan.cost - 1:+.1%},"
        f" one by one {plan.one_by_one.cost / plan.plan.cost - 1:+.1%}"
    )


if __name__ == "__main__":
    main()
