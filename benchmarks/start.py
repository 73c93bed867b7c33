"""How long a person waits: cold start, first answer of a new job, memory.

python benchmarks/start.py [JOB]
"""

import json
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


def main() -> None:
    """Print the three figures."""
    run = (sys.executable, "-m", "reports")
    seconds, version = timed(*run, "--version")
    print(f"{version.strip()}: --version in {seconds:.2f} s")
    with tempfile.TemporaryDirectory() as folder:
        job = sys.argv[1] if len(sys.argv) > 1 else str(Path(folder) / "new.toml")
        if len(sys.argv) <= 1:
            timed(*run, "new", job, runs=1)
        seconds, answer = timed(*run, "buy", job, "--json", "--seconds", "0", runs=3)
        json.loads(answer)
        print(f"first answer in {seconds:.2f} s")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MB")


if __name__ == "__main__":
    main()
