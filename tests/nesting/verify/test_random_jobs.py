"""Random jobs into the check that begins with the pieces, seeded."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest

from tests.make.random_jobs import try_job

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.mark.generated(50)
def test_markers_of_random_jobs_give_what_was_asked(numbers: Iterator[int]) -> None:
    """Of odd pieces on odd cloth every marker is sound or refused in one line, and no bound lies above it."""
    answers = Counter(try_job(number) for number in numbers)
    assert answers["sound"] > answers.total() / 5
