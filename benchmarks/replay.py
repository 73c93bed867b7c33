"""Schedules of searches, replayed on recorded runs of one worker: what they would have come to, without a search.

python benchmarks/replay.py --runs FILE [--at S]...
"""

import argparse
import itertools
import json
import math
import statistics
import sys
from collections import defaultdict
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.curves import density_at
from benchmarks.density import BEST, share_of

RACES = ((2, 1 / 16), (2, 1 / 8), (3, 1 / 16), (3, 1 / 8), (3, 1 / 6))
"""Races: searches that begin, and the share of the time that each gets; the leader has the rest."""

WORKERS = (1, 2, 4, 8, 16, 64)
"""Searches side by side that keep apart."""


def raced(runs: list[dict[str, Any]], runners: int, share: float, seconds: float) -> float:
    """The density that a race of the first runs comes to."""
    leader = max(runs[:runners], key=lambda run: density_at(run, share * seconds))
    return density_at(leader, seconds * (1 - (runners - 1) * share))


def mean_of_races(runs: list[dict[str, Any]], runners: int, share: float, seconds: float) -> float:
    """The mean over all orders in which the runs could have come."""
    orders = list(itertools.permutations(runs, runners))
    return statistics.mean(raced(list(order), runners, share, seconds) for order in orders)


def best_of(densities: list[float], count: int) -> float:
    """The best of so many runs to be expected: of those recorded, or by mean and scatter where they are too few.

    Beyond the record densities are taken as normal; the mean of the largest of n is by formula of Blom, from memory.
    """
    if count <= len(densities):
        return statistics.mean(max(some) for some in itertools.combinations(densities, count))
    rank = statistics.NormalDist().inv_cdf((count - 0.375) / (count + 0.25))
    spread = statistics.stdev(densities) if len(densities) > 1 else 0.0
    return max(max(densities), statistics.mean(densities) + rank * spread)


def main() -> None:
    """Print what each schedule comes to, as the mean share of the best published over all recorded instances."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=Path, required=True, help="file of runs, as curves.py writes it")
    parser.add_argument("--at", type=float, action="append", help="seconds of one worker; may be given again")
    args = parser.parse_args()
    by_name = defaultdict(list)
    for line in args.runs.read_text(encoding="utf-8").splitlines():
        run = json.loads(line)
        if run["name"] in BEST:
            by_name[run["name"]].append(run)
    for seconds in args.at or [2.0, 5.0, 10.0, 20.0, 30.0]:
        known = {name: [run for run in runs if run["seconds"] >= seconds] for name, runs in by_name.items()}
        known = {name: runs for name, runs in known.items() if len(runs) >= max(r for r, _ in RACES)}
        if not known:
            continue
        print(f"{seconds:g} s, {len(known)} instances, {min(map(len, known.values()))} seeds or more")
        for workers in WORKERS:
            its = {name: best_of([density_at(run, seconds) for run in runs], workers) for name, runs in known.items()}
            capped = [min(100.0, share_of(BEST, name, density)) for name, density in its.items()]
            word = "one search" if workers == 1 else f"{workers} apart"
            more = "" if workers <= min(map(len, known.values())) else ", by mean and scatter, none over 100"
            print(f"  {word:<22}{statistics.mean(capped):7.2f}{more}")
        for runners, share in RACES:
            shares = [
                share_of(BEST, name, mean_of_races(runs, runners, share, seconds)) for name, runs in known.items()
            ]
            print(f"  {f'{runners} at 1/{math.ceil(1 / share)}, then one':<22}{statistics.mean(shares):7.2f}")


if __name__ == "__main__":
    main()
