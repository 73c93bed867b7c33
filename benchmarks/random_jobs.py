"""How many random jobs hold: ``python benchmarks/random_jobs.py --jobs 10000 --first 0``.

Each is laid and judged by `nesting.verify`. Failures are named by their seeds; the exit code is 1 if there are any.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.judged import judge_all

if __name__ == "__main__":
    sys.exit(judge_all(__doc__, "jobs", 10_000, "tests.make.random_jobs", "try_job"))
