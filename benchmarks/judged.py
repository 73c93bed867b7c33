"""Seeds tried in processes beside this one, and counted: what `random_jobs.py` and `outfits.py` have in common."""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from importlib import import_module
from pathlib import Path

ROUND = 500
"""Seeds between two looks at the clock."""

sys.path.insert(0, str(Path(__file__).parents[1]))


def judge(one: tuple[str, str, int]) -> tuple[str, str]:
    """How a seed went, and what was said of it: the module and the function that try it, and the seed."""
    module, function, seed = one
    try:
        return getattr(import_module(module), function)(seed), ""
    except Exception as error:
        return f"FAILED ({type(error).__name__})", f"seed {seed}: {error}"


def judge_all(description: str | None, what: str, number: int, module: str, function: str) -> int:
    """Read the command line, try the seeds, and count; 1 if any failed.

    Parameters
    ----------
    what
        What is counted, such as ``"jobs"``: it names the option for how many.
    number
        How many without that option.
    module, function
        What tries a seed, and gives how it went.
    """
    parser = argparse.ArgumentParser(description=description)
    parser.add_argument(f"--{what}", dest="number", type=int, default=number)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--seconds", type=float, default=float("inf"), help="nothing is begun after that")
    given = parser.parse_args()
    began, counts = time.monotonic(), Counter[str]()
    last = given.first + given.number
    with ProcessPoolExecutor(given.workers) as pool:
        for start in range(given.first, last, ROUND):
            if time.monotonic() - began > given.seconds:
                break
            seeds = [(module, function, seed) for seed in range(start, min(start + ROUND, last))]
            for answer, said in pool.map(judge, seeds, chunksize=5):
                counts[answer] += 1
                if said:
                    print(said, flush=True)
    print(f"{sum(counts.values())} {what} in {time.monotonic() - began:.0f} s: {dict(counts)}")
    return any(answer.startswith("FAILED") for answer in counts)
