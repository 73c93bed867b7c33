"""The files of an answer to whether pieces fit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.fit.files import FILES, WAY_FILES
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran


def test_the_way_out_is_drawn(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """Where a way out fits it has a drawing of its own, which the next answer takes away where it has none."""
    job = job_file(MODEL)
    said = run("fits", job, "--remnant", "60 in x 46 in", "--effort", "0", "--out", "f")
    assert "2 in shorter: it fits" in said.out
    assert {path.name for path in (job.parent / "f").iterdir()} == {*FILES, *WAY_FILES}
    assert "It fits so: 2 in shorter" in (job.parent / "f" / "fits-way-out.svg").read_text(encoding="utf-8")
    run("fits", job, "--remnant", "60 in x 2 yd", "--effort", "0", "--out", "f", "--force")
    assert {path.name for path in (job.parent / "f").iterdir()} == {*FILES}
