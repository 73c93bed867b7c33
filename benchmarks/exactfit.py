"""Sets of rectangles that fill cloth exactly, on every spread, laid with little effort and checked.

python benchmarks/exactfit.py [--number N] [--first SEED] [--searched K]
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.make.exactfit import SPREADS, amiss, exact_fit


def main() -> None:
    """Lay one set after another, and count by spread what is amiss; exit code 1 if anything is."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=2000, help="sets in all")
    parser.add_argument("--first", type=int, default=0, help="seed of the first")
    parser.add_argument("--searched", type=int, default=10, help="of how many sets one is also searched")
    args = parser.parse_args()
    laid: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    began = time.monotonic()
    for seed in range(args.first, args.first + args.number):
        spread = SPREADS[seed % len(SPREADS)]
        case = exact_fit(seed, spread)
        laid[spread] += 1
        fault = amiss(case, 14 if seed % args.searched == 0 else 3)
        if fault:
            wrong[spread] += 1
            print(f"{seed}: {fault}\n    {case}")
    for spread in SPREADS:
        print(f"{spread:<16}{laid[spread]:>6} sets{wrong[spread]:>6} amiss")
    print(f"{'in all':<16}{sum(laid.values()):>6} sets{sum(wrong.values()):>6} amiss  {time.monotonic() - began:.0f} s")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
