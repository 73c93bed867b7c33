"""How long full-scale prints take: pieces on sheets and on a roll, all sizes, and a marker.

python benchmarks/paper.py [JOB] [--paper P] [--runs N]
"""

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.start import timed

RUN = (sys.executable, "-m", "reports")


def main() -> None:
    """Print the figures: the whole command in a fresh process, and the drawing and writing alone."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("job", type=Path, nargs="?")
    parser.add_argument("--paper", default="a4")
    parser.add_argument("--runs", type=int, default=3)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        job = args.job or Path(folder) / "new.toml"
        if args.job is None:
            subprocess.run([*RUN, "new", str(job)], check=True, capture_output=True)
        out = ("--out", folder, "--force")
        ways = {
            f"pieces on {args.paper}": ("--paper", args.paper),
            "pieces on a 36 in roll": ("--roll", "36 in"),
            f"six sizes on {args.paper}": ("--paper", args.paper, "--sizes", "women-letters"),
            f"markers on {args.paper}, first layouts": (
                "--paper",
                args.paper,
                "--what",
                "markers",
                "--effort",
                "0",
            ),
        }
        for name, way in ways.items():
            seconds, _ = timed(*RUN, "print", str(job), *way, *out, runs=args.runs)
            print(f"{name}: {seconds:.2f} s, the whole command")
        print(f"pieces on {args.paper}: {written(job, args.paper, Path(folder)):.2f} s to arrange, draw and write")


def written(job: Path, paper: str, folder: Path) -> float:
    """Seconds to arrange, draw and write the pieces in a process that has drafted them; the second time."""
    from reports.ask.draft import draft_job
    from reports.ask.job import read_job
    from reports.paper.order import PrintOrder
    from reports.paper.size import parse_paper

    asked = read_job(job)
    pieces, order = draft_job(asked), PrintOrder(asked, folder, parse_paper(paper))
    order.print_pieces(pieces)
    began = time.perf_counter()
    order.print_pieces(pieces)
    return time.perf_counter() - began


if __name__ == "__main__":
    main()
