"""How long a person waits: cold start, first answer of a new job, first layout, memory.

python benchmarks/start.py [JOB]
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path


def timed(*command: str, runs: int = 5) -> tuple[float, str]:
    """Least wall time of some runs of a command, and what it printed last."""
    best, out = float("inf"), ""
    for _ in range(runs):
        began = time.perf_counter()
        out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        best = min(best, time.perf_counter() - began)
    return best, out


FIRST_LAYOUT = """
import time
from nesting import Fabric, Listener, MaxIterations, lay_pieces, solve
from reports.ask.job import read_job
from reports.plan.plan import draft_job
import sys
job = read_job(__import__("pathlib").Path(sys.argv[1]))
pieces = draft_job(job).of("shell")
class First(Listener):
    def on_best(self, marker):
        print(time.perf_counter() - began)
        raise KeyboardInterrupt
for _ in range(int(sys.argv[2])):
    problem = lay_pieces(pieces, job.fabric[0].fabric(), "open")
    began = time.perf_counter()
    try:
        solve(problem, MaxIterations(0), listener=First())
    except KeyboardInterrupt:
        pass
"""
"""Prints the seconds to a first checked layout of a job, as often as asked, in a fresh process."""


def first_layout(job: str, times: int, cache: str | None = None) -> float:
    """Seconds to the last of some first layouts; with an empty folder for compiled kernels if one is given."""
    place = {} if cache is None else {"NUMBA_CACHE_DIR": cache}
    command = (sys.executable, "-c", FIRST_LAYOUT, job, str(times))
    run = subprocess.run(command, check=True, capture_output=True, text=True, env=os.environ | place)
    return float(run.stdout.split()[times - 1])


def main() -> None:
    """Print the figures."""
    run = (sys.executable, "-m", "reports")
    seconds, version = timed(*run, "--version")
    print(f"{version.strip()}: --version in {seconds:.2f} s")
    with tempfile.TemporaryDirectory() as folder:
        job = sys.argv[1] if len(sys.argv) > 1 else str(Path(folder) / "new.toml")
        if len(sys.argv) <= 1:
            timed(*run, "new", job, runs=1)
        seconds, answer = timed(*run, "buy", job, "--json", "--seconds", "0", runs=3)
        json.loads(answer)
        print(f"first answer in {seconds:.2f} s, the whole command")
        seconds, _ = timed(*run, "buy", job, runs=5)
        print(f"buy with its defaults in {seconds:.2f} s, the whole command")
        with tempfile.TemporaryDirectory() as empty:
            cold = first_layout(job, 1, empty)
        again = first_layout(job, 3)
        print(f"first layout in {cold:.2f} s in a fresh process with no kernels compiled, {again:.2f} s in a warm one")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MB")


if __name__ == "__main__":
    main()
