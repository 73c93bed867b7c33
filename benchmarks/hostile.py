"""What `ellwand import` makes of files that ask for far too much: an answer or one line, in how much time and memory.

python benchmarks/hostile.py [--only WORD]

Seconds of the processor are those of all its processes, megabytes those of the largest; a mark stands where a file is
refused in more than a line, or takes more than it may. The files are made by `tests/make/hostile_*.py`.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.make import hostile_drawings, hostile_more  # noqa: F401  # they add their files
from tests.make.hostile_files import FILES

MOST_SECONDS, MOST_MEGABYTES = 5.0, 300
"""Of the whole command, its beginning and its end included."""


MEASURED = """
import os, subprocess, sys
process = subprocess.Popen(sys.argv[1:])
_, status, used = os.wait4(process.pid, 0)
print(used.ru_utime + used.ru_stime, used.ru_maxrss // 1024, os.waitstatus_to_exitcode(status), file=sys.stderr)
"""
"""A small process between: what one begins with counts as its own, also where it is this one's."""


def read(path: Path) -> tuple[float, int, int, list[str], str]:
    """Processor seconds, megabytes, exit code, and the lines on standard error and the last one on standard output."""
    command = [sys.executable, "-c", MEASURED, sys.executable, "-m", "reports", "import", path.name]
    command += ["--units", "mm"] if path.suffix == ".geojson" else []
    environment = os.environ | {"PYTHONPATH": sys.path[0]}
    done = subprocess.run(command, cwd=path.parent, env=environment, capture_output=True, text=True, check=False)
    *said, used = done.stderr.strip().splitlines()
    seconds, megabytes, code = used.split()
    return float(seconds), int(megabytes), int(code), said, (done.stdout.strip().splitlines() or [""])[-1]


def main() -> None:
    """Read every file, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="", help="files whose name has this in it")
    asked = parser.parse_args().only
    print("| file | processor s | s | MB | code | said |\n|---|---|---|---|---|---|")
    for name, make in FILES.items():
        if asked not in name:
            continue
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / name
            path.write_bytes(make())
            began = time.monotonic()
            seconds, megabytes, code, said, last = read(path)
            took = time.monotonic() - began
        is_fine = code in (0, 2) and len(said) <= 1 and seconds <= MOST_SECONDS and megabytes <= MOST_MEGABYTES
        words = (said or [last])[0][:110]
        mark = "" if is_fine else " (!)"
        print(f"| {name} | {seconds:.1f} | {took:.1f} | {megabytes} | {code}{mark} | {words} |", flush=True)


if __name__ == "__main__":
    main()
