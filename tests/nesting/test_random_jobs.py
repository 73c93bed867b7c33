"""Random jobs into the check that begins with the pieces; `benchmarks/random_jobs.py` runs as many as one likes."""

from __future__ import annotations

import pytest

from tests.nesting.random_jobs import try_job

JOBS, BATCH = 600, 50


@pytest.mark.parametrize("first", range(0, JOBS, BATCH))
def test_markers_of_random_jobs_give_what_was_asked(first: int) -> None:
    """Of odd pieces on odd cloth every marker is sound or refused in one line, and no bound lies above it."""
    answers = [try_job(seed) for seed in range(first, first + BATCH)]
    assert answers.count("sound") > BATCH / 5
