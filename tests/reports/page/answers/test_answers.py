"""Answers at once: drafts as the command makes them."""

from __future__ import annotations

import json
import tomllib

import pytest

from pieces.exchange.own.plain import to_plain
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.page.answers.answers import draft
from reports.page.errors import FieldsError
from tests.make.model import MODEL

JOB = tomllib.loads(MODEL)


def test_draft_equals_the_command() -> None:
    """Outlines, measures and notes are those that `ellwand draft --json` prints."""
    drawn, printed = draft(JOB), to_plain(draft_job(parse_job(MODEL)))
    assert drawn["measures"] == printed["measures"]
    assert drawn["notes"] == printed["notes"]
    assert [piece["cut_line"] for piece in drawn["pieces"]] == [piece["cut_line"] for piece in printed["pieces"]]
    assert [piece["mirrored"] for piece in drawn["pieces"]] == [piece["mirrored_pair"] for piece in printed["pieces"]]
    json.dumps(drawn, allow_nan=False)


def test_remarks() -> None:
    """A measurement out of the ordinary is drafted, and remarked on."""
    drawn = draft(JOB | {"body": JOB["body"] | {"wrist": "12 in"}})
    assert any("wrist" in remark for remark in drawn["remarks"])


def test_cannot_be_drafted() -> None:
    """Measurements that are sound each, and cannot be drafted together, are told at a field that the reason names."""
    with pytest.raises(FieldsError) as refused:
        draft(JOB | {"style": JOB["style"] | {"length": "5 in"}})
    (fault,) = refused.value.faults
    assert fault.field.partition(".")[0] in ("style", "body")
    assert fault.message


def test_what_the_page_does_not_show_is_said() -> None:
    """A job's shapes beside its garment are drafted with it, and named among the notes: the page has no fields."""
    shape = {"name": "scarf", "kind": "strip", "length": "70 in", "width": "6 in"}
    found = draft(tomllib.loads(MODEL) | {"shape": [shape]})
    assert "scarf" in [piece["name"] for piece in found["pieces"]]
    assert (
        found["notes"][-1] == "scarf: shapes of the job, laid with the garment and kept; this page cannot change them"
    )
    assert not any("shapes of the job" in note for note in draft(tomllib.loads(MODEL))["notes"])
