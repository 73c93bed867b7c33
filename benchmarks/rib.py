"""How long the rib of several jackets takes, and how far the plans are from what no plan undercuts.

python benchmarks/rib.py [JOB] [--jackets N]... [--sizes N] [--effort E]
python benchmarks/rib.py --random N [--first SEED] [--tree PATH]
"""

import argparse
import random
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

sys.path.insert(0, next((to for to in sys.argv[1:] if Path(to, "nesting").is_dir()), str(Path(__file__).parents[1])))

from nesting.rib.band import RibBand, RibStock, bands_of
from nesting.rib.planning import plan_rib
from pieces.length import inches, mm
from reports.ask.job import read_job

INCH = 25.4
NEW = Path(__file__).parents[1] / "reports" / "templates" / "job.toml"
STOCKS = (
    RibStock("tube, 36 in", "tube", inches(36)),
    RibStock("flat, 28 in", "flat", inches(28)),
    RibStock("strips, 42 × 7 in", "strips", inches(42), inches(7)),
    RibStock("strips, 30 × 8 in", "strips", inches(30), inches(8)),
    RibStock("tube, 16 in", "tube", inches(16)),
)
GRADE = {"cuff": 5.0, "hem band": 40.0, "neckband": 10.0}
"""What a band grows from size to size, mm (made up)."""


def graded(bands: list[RibBand], sizes: int, garments: int) -> list[RibBand]:
    """The bands of so many garments in all, as even over the sizes as can be."""
    found = []
    for size in range(sizes):
        number = garments // sizes + (size < garments % sizes)
        for band in bands if number else ():
            grown = mm(band.length + GRADE[band.name] * (size - sizes // 2))
            found.append(replace(band, name=f"{band.name} {size}", length=grown, count=band.count * number))
    return found


def random_job(seed: int) -> tuple[list[RibBand], RibStock, float]:
    """One jacket or ten with made-up bands, a rib and the least part, mm: the same for the same seed."""
    of = random.Random(seed)
    garments, sizes = of.choice(((1, 1), (1, 1), (10, 1), (10, 2), (10, 3)))
    depth, shallow = of.choice(((6, 3.5), (7, 3), (4, 4), (6, 2), (3, 1.5)))
    places = (("right side seam", 0.25), ("centre back", 0.5), ("left side seam", 0.75))
    bands = [
        RibBand("cuff", inches(of.randrange(28, 44) / 4), inches(depth), 2, (), ring=True),
        RibBand("hem band", inches(of.randrange(120, 190) / 4), inches(depth), 1, places),
        RibBand("neckband", inches(of.randrange(60, 92) / 4), inches(shallow), 1),
    ]
    width = inches(of.randrange(24, 100) / 2)
    form = of.choice(("tube", "flat", "strips"))
    strips = RibStock("rib", "strips", width, inches(of.choice((7, 8, 9))))
    stock = strips if form == "strips" else RibStock("rib", form, width)
    return graded(bands, sizes, garments), stock, of.choice((3.0, 4.0, 4.0, 6.0, 12.0)) * INCH


def plan_random(number: int, first: int) -> None:
    """Plan random small jobs, and print what each takes, to be compared between trees."""
    print("| seed | bands | stock | at least | joins | at places | processor s |")
    print("|---|---|---|---|---|---|---|")
    for seed in range(first, first + number):
        bands, stock, least = random_job(seed)
        busy = time.process_time()
        try:
            plan = plan_rib(bands, stock, seam=mm(INCH / 2), least_part=mm(least))
        except ValueError as error:  # too narrow for its bands
            print(f"| {seed} | {sum(band.count for band in bands)} | {str(error)[:40]} | | | | |", flush=True)
            continue
        used, told = (plan.count, plan.bound) if plan.count else (plan.length / INCH, plan.bound / INCH)
        placed, busy = sum(bool(join.place) for join in plan.seams), time.process_time() - busy
        row: tuple[Any, ...] = (seed, sum(band.count for band in bands), f"{used:.3f}", f"{told:.3f}", plan.joins)
        print("|", " | ".join(map(str, (*row, placed, f"{busy:.2f}"))), "|", flush=True)


def main() -> None:
    """Plan each rib for each number of jackets, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("job", type=Path, nargs="?", default=NEW)
    parser.add_argument("--jackets", type=int, action="append")
    parser.add_argument("--sizes", type=int, default=1)
    parser.add_argument("--effort", type=float, default=10.0)
    parser.add_argument("--random", type=int, default=0, help="so many random small jobs instead")
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--tree", help="a checkout whose planner is used")
    args = parser.parse_args()
    if args.random:
        plan_random(args.random, args.first)
        return
    job = read_job(args.job)
    pieces, seam = job.model().draft(job.measured(), job.styled()), job.styled().seam
    print("| rib | jackets | processor s | s | stock | at least | joins | fewest | at places | most |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    plan_rib(bands_of(pieces), STOCKS[0], seam=mm(seam), effort=args.effort)  # loads the solver
    for stock in STOCKS:
        for jackets in args.jackets or (1, 2, 6, 12, 40):
            began, busy = time.monotonic(), time.process_time()
            bands = graded(bands_of(pieces), args.sizes, jackets) if args.sizes > 1 else bands_of(pieces, jackets)
            plan = plan_rib(bands, stock, seam=mm(seam), effort=args.effort)
            busy, took = time.process_time() - busy, time.monotonic() - began
            used, least = (plan.count, plan.bound) if plan.count else (plan.length / INCH, plan.bound / INCH)
            placed = sum(bool(join.place) for join in plan.seams)
            proofs = ("proved" if plan.fewest_joins else "?", placed, "proved" if plan.most_at_places else "?")
            print(f"| {stock.name} | {jackets} | {busy:.2f} | {took:.2f} | {used:g} | {least:g} | {plan.joins}", end="")
            print(" |", " | ".join(map(str, proofs)), "|", flush=True)


if __name__ == "__main__":
    main()
