"""How long lay plans take, and how far they are from what no plan undercuts.

python benchmarks/layplan.py [--effort E] [--only NAME]...

Orders follow a bell curve over the sizes, a little uneven by colour; a marker takes 1.10 m for the smallest size and
4 cm more for each size up, and 16 % more where one garment lies alone, 4 % where four do: a synthetic rule.
"""

import argparse
import math
import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.lays.count import check_plan
from nesting.lays.order import LayCosts, LayRules, Mix, StyleOrder
from nesting.lays.plan import plan_lays, plan_one_size

KNIFE = LayRules(longest=8_000, most_plies=80, most_garments=4)
SHEARS = LayRules(longest=3_000, most_plies=6, most_garments=3)
TABLE = LayRules(longest=6_000, most_plies=40, most_garments=4)
CASES = {
    "studio, 40 garments, shears": (5, 2, 40, 0, SHEARS),
    "studio, 40 garments, knife": (5, 2, 40, 0, KNIFE),
    "4 sizes, 400 garments": (4, 4, 400, 0, KNIFE),
    "8 sizes, 400 garments": (8, 4, 400, 0, KNIFE),
    "8 sizes, 400 garments, 5 % or 1 over": (8, 4, 400, 1, KNIFE),
    "16 sizes, 400 garments": (16, 4, 400, 0, KNIFE),
    "4 sizes, 400 of each colour and size": (4, 4, 6_400, 0, KNIFE),
    "8 sizes, 400 of each colour and size": (8, 4, 12_800, 0, KNIFE),
    "16 sizes, 400 of each colour and size": (16, 4, 25_600, 0, KNIFE),
    "table of 6 m: 5 sizes, 40 garments": (5, 2, 40, 0, TABLE),
    "table of 6 m: 8 sizes, 300 garments": (8, 3, 300, 0, TABLE),
    "table of 6 m: 8 sizes, 2,000 garments": (8, 3, 2_000, 0, TABLE),
    "table of 6 m: 12 sizes, 10,000 garments": (12, 3, 10_000, 0, TABLE),
}


def make_order(sizes: int, colours: int, garments: int, over: int, seed: int = 0) -> StyleOrder:
    """An order of about so many garments in all, a bell curve over the sizes."""
    rng = random.Random(seed)
    bell = [math.exp(-(((size - (sizes - 1) / 2) / (sizes / 3.5)) ** 2)) for size in range(sizes)]
    shares = [rng.uniform(0.5, 1.5) for _ in range(colours)]
    scale = garments / sum(bell) / sum(shares)
    least = {
        (f"colour {colour}", f"size {size}"): max(1, round(scale * share * high * rng.uniform(0.8, 1.2)))
        for colour, share in enumerate(shares)
        for size, high in enumerate(bell)
    }
    most = {cell: number + over * max(1, number // 20) for cell, number in least.items()}
    return StyleOrder(
        tuple(f"size {size}" for size in range(sizes)), tuple(f"colour {n}" for n in range(colours)), least, most
    )


def length(mix: Mix) -> float:
    """Marker length of a mix, mm."""
    return sum(number * (1_100 + 40 * size) for size, number in enumerate(mix)) * (1 + 0.16 / sum(mix))


def main() -> None:
    """Plan each order, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--effort", type=float, default=20.0)
    parser.add_argument("--only", action="append", help="part of a case's name")
    args = parser.parse_args()
    print("| order | garments | mixes | processor s | s | lays | markers | cost | gap % | one-size costs more % |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    for name, (sizes, colours, garments, over, rules) in CASES.items():
        if args.only and not any(part in name for part in args.only):
            continue
        order = make_order(sizes, colours, garments, over)
        costs = LayCosts(
            dict.fromkeys(order.colours, 0.012), marker=15, lay=10, ply=0.5, ply_mm=2e-4, garment=4, end_loss=40
        )
        began, busy = time.monotonic(), time.process_time()
        plan = plan_lays(order, rules, costs, length, effort=args.effort)
        busy, took = time.process_time() - busy, time.monotonic() - began
        check_plan(plan, rules, end_loss=costs.end_loss)
        single = plan_one_size(order, rules, costs, length, effort=1)
        more = 100 * (single.cost / plan.cost - 1)
        size = f"{sum(order.least.values())} | {plan.mixes} | {busy:.1f} | {took:.1f}"
        told = f"{size} | {len(plan.lays)} | {len(plan.markers)}"
        print(f"| {name} | {told} | {plan.cost:.0f} | {100 * plan.gap:.2f} | {more:.1f} |", flush=True)


if __name__ == "__main__":
    main()
