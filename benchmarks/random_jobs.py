"""How many random jobs hold: ``python benchmarks/random_jobs.py --jobs 10000 --first 0``.

Each is laid and judged by `nesting.verify`. Failures are named by their seeds; the exit code is 1 if there are any.
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
    """How the job of a seed went, and what was said of it."""
    from tests.make.random_jobs import try_job

    try:
        return try_job(seed), ""
    except Exception as error:
        return f"FAILED ({type(error).__name__})", f"seed {seed}: {error}"


def main() -> int:
    """Run the jobs, and count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=10_000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seconds", type=float, default=float("inf"), help="no job is begun after that")
    given = parser.parse_args()
    began, counts = time.monotonic(), Counter[str]()
    with ProcessPoolExecutor(given.workers) as pool:
        for start in range(given.first, given.first + given.jobs, 500):
            if time.monotonic() - began > given.seconds:
                break
            seeds = range(start, min(start + 500, given.first + given.jobs))
            for answer, said in pool.map(judge, seeds, chunksize=10):
                counts[answer] += 1
                if said:
                    print(said, flush=True)
    print(f"{sum(counts.values())} jobs in {time.monotonic() - began:.0f} s: {dict(counts)}")
    return any(answer.startswith("FAILED") for answer in counts)


if __name__ == "__main__":
    sys.exit(main())
