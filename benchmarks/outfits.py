"""How many random outfits hold: ``python benchmarks/outfits.py --outfits 1000``.

An outfit is one to three garments of the wardrobe, of sizes of all tables and in random styles, laid together on random
cloth and judged by `nesting.verify` from what was asked. Failures are named by their seeds; the exit code is 1 if there
are any.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))


def judge(seed: int) -> tuple[str, str]:
    """How the outfit of a seed went, and what was said of it."""
    from tests.make.outfits import try_outfit

    try:
        return try_outfit(seed), ""
    except Exception as error:
        return f"FAILED ({type(error).__name__})", f"outfit {seed}: {error}"


def main() -> int:
    """Lay the outfits, and count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--outfits", type=int, default=1000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    given = parser.parse_args()
    began, counts = time.monotonic(), Counter[str]()
    with ProcessPoolExecutor(given.workers) as pool:
        for answer, said in pool.map(judge, range(given.first, given.first + given.outfits), chunksize=5):
            counts[answer] += 1
            if said:
                print(said, flush=True)
    print(f"{sum(counts.values())} outfits in {time.monotonic() - began:.0f} s: {dict(counts)}")
    return any(answer.startswith("FAILED") for answer in counts)


if __name__ == "__main__":
    sys.exit(main())
