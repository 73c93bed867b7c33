"""Killed at any moment while it is written to, saved work holds all that was acknowledged."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest

from tests.make.power_cuts import Acknowledged

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.mark.generated(15)
def test_killed_at_random_moments(numbers: Iterator[Any], tmp_path: Path) -> None:
    """After each kill -9 all that was acknowledged is there, in projects, clients, shelf, photos, files and ledger.

    Daily copies that were made can be read whole. What was begun and not acknowledged is there or not. A kill leaves
    what the system has not yet written to its disk, so this says nothing of a disk that loses what it has confirmed;
    that each write is confirmed by the disk first is in `test_store.py` and `test_output.py`.
    """
    cutting = [sys.executable, "-m", "tests.make.power_cuts", str(tmp_path)]
    cuts = acknowledged = 0
    with subprocess.Popen(cutting, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin and process.stdout
        for number in numbers:
            process.stdin.write(f"{number}\n")
            process.stdin.flush()
            told = json.loads(process.stdout.readline())
            assert told["faults"] == [], f"cut {number}"
            cuts, acknowledged = cuts + 1, told["acknowledged"]
        process.stdin.close()
    assert acknowledged >= cuts > 0


def test_what_is_missing_is_told(tmp_path: Path) -> None:
    """Of what was acknowledged and is not there, each thing is named; so the test above can fail."""
    known = Acknowledged()
    keys = (("project", "x"), ("client", "Ann"), ("thing", "twill"), ("entry", "y"))
    for key in keys:
        known.heard(json.dumps(["done", list(key), "held"]).encode())
    assert [told.split(":")[0] for told in known.faults(tmp_path)] == [str(key) for key in keys]
