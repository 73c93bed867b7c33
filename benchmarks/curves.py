"""Density against time on open instances: every better layout of each run, as JSON lines and as one picture.

python benchmarks/curves.py --runs FILE [--instances DIR] [--seconds S] [--only NAME]... [--seed N]... [--plot PNG]
"""

import argparse
import json
import statistics
import sys
import time
from collections import defaultdict
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.density import BEST, MEAN, is_sound, load, share_of
from nesting.marker.marker import Marker
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import MaxRuntime

MOMENTS = (2.0, 10.0, 60.0, 600.0)
"""Seconds at which the table shows how far the runs were."""


class Record(Listener):
    """When each better marker was there, and its density."""

    def __init__(self) -> None:
        self.began = time.monotonic()
        self.points: list[tuple[float, float]] = []

    def on_best(self, marker: Marker) -> None:
        """Note the moment and the density, percent."""
        self.points.append((round(time.monotonic() - self.began, 3), round(100 * marker.density, 4)))


def run(path: Path, seconds: float, seed: int, workers: int) -> dict[str, Any]:
    """One run of one instance."""
    record = Record()
    marker = solve(load(path), MaxRuntime(seconds), seed=seed, workers=workers, listener=record).marker
    return {
        "name": path.stem, "seed": seed, "seconds": seconds, "workers": workers, "verified": is_sound(marker),
        "when": time.strftime("%Y-%m-%d"), "points": record.points,
    }  # fmt: skip


def density_at(row: dict[str, Any], moment: float) -> float:
    """Density of the best layout that a run had by then, percent."""
    return max((density for at, density in row["points"] if at <= moment), default=0.0)


def table(rows: list[dict[str, Any]]) -> str:
    """Per instance and moment: the median over the seeds, as shares of best and mean published, and how many seeds."""
    by_name = defaultdict(list)
    for row in rows:
        by_name[row["name"]].append(row)
    lines = [f"{'':<10}" + "".join(f"{f'{moment:g} s':>16}    " for moment in MOMENTS)]
    lines.append(f"{'share of':<10}" + f"{'best':>7}{'mean':>8}     " * len(MOMENTS))
    shares: dict[tuple[float, str], list[float]] = defaultdict(list)
    for name, its in sorted(by_name.items()):
        line = f"{name:<10}"
        for moment in MOMENTS:
            known = [density_at(row, moment) for row in its if row["seconds"] >= moment]
            for what, published in (("best", BEST), ("mean", MEAN)):
                cell = ""
                if known and name in published:
                    share = share_of(published, name, statistics.median(known))
                    shares[moment, what].append(share)
                    cell = f"{share:.2f}"
                line += f"{cell:>{7 if what == 'best' else 8}}"
            line += f" ({len(known)}) " if known else " " * 5
        lines.append(line)
    line = f"{'mean':<10}"
    for moment in MOMENTS:
        for what, wide in (("best", 7), ("mean", 8)):
            its = shares[moment, what]
            line += f"{f'{statistics.mean(its):.2f}' if its else '':>{wide}}"
        line += " " * 5
    return "\n".join([*lines, line])


def plot(rows: list[dict[str, Any]], path: Path) -> None:
    """One small diagram an instance: share of the best published density against seconds, on a logarithmic scale."""
    from matplotlib.figure import Figure

    names = sorted({row["name"] for row in rows})
    figure = Figure(figsize=(11, 2.6 * ((len(names) + 3) // 4)), layout="constrained")
    axes = figure.subplots((len(names) + 3) // 4, 4, sharex=True, sharey=True, squeeze=False).ravel()
    for ax in axes[len(names) :]:
        ax.set_visible(False)
    for ax, name in zip(axes, names, strict=False):
        for row in (row for row in rows if row["name"] == name):
            at, density = zip(*row["points"], (row["seconds"], row["points"][-1][1]), strict=True)
            shares = [100 * d / BEST.get(name, 100.0) for d in density]
            ax.step(at, shares, where="post", lw=1.2, label=f"seed {row['seed']}")
        ax.axhline(100, color="0.6", lw=0.8, ls="--")
        ax.set(title=name, xscale="log", ylim=(88, 101.5), xlim=(0.3, None))
        ax.grid(alpha=0.3)
    axes[0].legend(fontsize=7, loc="lower right")
    figure.supxlabel("seconds, two cores")
    figure.supylabel("density, % of the best published")
    figure.savefig(path, dpi=110)


def main() -> None:
    """Run what is asked, add it to the file of runs, and show the table of all runs in it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--instances", type=Path, help="folder of instance files; without it only the file is shown")
    parser.add_argument("--seconds", type=float, default=60.0, help="time for each run")
    parser.add_argument("--runs", type=Path, required=True, help="file of runs, one JSON object a line; added to")
    parser.add_argument("--only", action="append", help="an instance; may be given again")
    parser.add_argument("--seed", type=int, action="append", help="may be given again; default 0")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--plot", type=Path, help="picture to write")
    args = parser.parse_args()
    for seed in args.seed or [0]:
        for path in sorted(args.instances.glob("*.json")) if args.instances else []:
            if path.stem in (args.only or BEST):
                row = run(path, args.seconds, seed, args.workers)
                with args.runs.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(row) + "\n")
                print(f"{path.stem:<10} seed {seed} {row['points'][-1][1]:6.2f} %", flush=True)
    rows = [json.loads(line) for line in args.runs.read_text(encoding="utf-8").splitlines()]
    print(table(rows))
    if args.plot:
        plot(rows, args.plot)
    if not all(row["verified"] for row in rows):
        sys.exit(1)


if __name__ == "__main__":
    main()
