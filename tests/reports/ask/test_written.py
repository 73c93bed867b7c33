"""A job or an order as it is written: what is wrong is one line that names the file."""

from __future__ import annotations

import pytest

from pieces.errors import PieceError
from pieces.units import is_metric
from reports.ask.offer import FabricOffer
from reports.ask.written import loads, read_as
from reports.errors import JobError


def test_an_empty_file_is_told_what_it_needs() -> None:
    """Where something is needed; else there is just nothing in it."""
    assert loads("", "job.toml") == {}
    with pytest.raises(JobError, match=r"^job.toml is empty: it needs a garment$"):
        loads("# nothing", "job.toml", "a garment")


def test_faults_name_the_file_in_its_own_units() -> None:
    """What pydantic finds, and what a draft says: one line each, in the units of the file."""
    with pytest.raises(JobError, match=r"^a.toml: .*width is missing"), read_as({}, "a.toml", {"fabric": FabricOffer}):
        FabricOffer.model_validate({"name": "canvas"})
    with pytest.raises(JobError, match=r"^a.toml: too wide$"), read_as({"units": "cm"}, "a.toml", {}):
        assert is_metric()
        raise PieceError("too wide")
