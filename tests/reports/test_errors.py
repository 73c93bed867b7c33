"""Errors of a job: their builtin parents, and what they bear for other faces."""

from __future__ import annotations

import pytest

from reports import errors


@pytest.mark.parametrize(
    ("name", "builtin"),
    [
        ("JobError", ValueError),
        ("PriceError", ValueError),
        ("CostError", ValueError),
        ("PaperError", ValueError),
        ("HelpError", ValueError),
        ("StudyError", RuntimeError),
        ("OutputError", OSError),
    ],
)
def test_caught_as_ours_and_as_a_builtin(name: str, builtin: type[Exception]) -> None:
    """Who knows nothing of this package catches them all the same."""
    assert issubclass(getattr(errors, name), errors.ReportError)
    assert issubclass(getattr(errors, name), builtin)


def test_a_fault_of_a_job_for_a_file_and_for_a_field() -> None:
    """All of it in one line; beside its field without where it stands; the hint apart."""
    error = errors.JobError("[[fabric]] 1: no width", said="no width", hint='width = "45 in"')
    assert str(error) == '[[fabric]] 1: no width: width = "45 in"'
    assert (error.said, error.hint) == ("no width", 'width = "45 in"')
    assert errors.JobError("no width").said == "no width"


def test_a_signal_is_remembered() -> None:
    """So that the exit code can be its own."""
    assert errors.NothingYetError(15).signal == 15
