"""How long the rib of several jackets takes, and how far the plans are from what no plan undercuts.

python benchmarks/rib.py [JOB] [--jackets N]... [--effort E]
"""

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from nesting.rib.band import RibStock, bands_of
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
)


def main() -> None:
    """Plan each rib for each number of jackets, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("job", type=Path, nargs="?", default=NEW)
    parser.add_argument("--jackets", type=int, action="append")
    parser.add_argument("--effort", type=float, default=10.0)
    args = parser.parse_args()
    job = read_job(args.job)
    pieces, seam = job.model().draft(job.measured(), job.styled()), job.styled().seam
    print("| rib | jackets | processor s | s | stock | at least | joins | fewest | at places | most |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    plan_rib(bands_of(pieces), STOCKS[0], seam=mm(seam), effort=args.effort)  # loads the solver
    for stock in STOCKS:
        for jackets in args.jackets or (1, 2, 6, 12, 40):
            began, busy = time.monotonic(), time.process_time()
            plan = plan_rib(bands_of(pieces, jackets), stock, seam=mm(seam), effort=args.effort)
            busy, took = time.process_time() - busy, time.monotonic() - began
            used, least = (plan.count, plan.bound) if plan.count else (plan.length / INCH, plan.bound / INCH)
            placed = sum(bool(join.place) for join in plan.seams)
            proofs = ("proved" if plan.fewest_joins else "?", placed, "proved" if plan.most_at_places else "?")
            print(f"| {stock.name} | {jackets} | {busy:.2f} | {took:.2f} | {used:g} | {least:g} | {plan.joins}", end="")
            print(" |", " | ".join(map(str, proofs)), "|", flush=True)


if __name__ == "__main__":
    main()
