"""Answers at once: drafts as the command makes them; uploads good, hostile, and laid as a job of their own."""

from __future__ import annotations

import json
import tomllib
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.plain import to_plain
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.export.dxf import write_pieces_dxf
from reports.page.answers.answers import draft, read_upload
from reports.page.errors import FieldsError
from tests.make.model import MODEL

if TYPE_CHECKING:
    from pathlib import Path

JOB = tomllib.loads(MODEL)
SQUARE = "piece,x,y\n" + "".join(f"flap,{x} mm,{y} mm\n" for x, y in ((0, 0), (200, 0), (200, 100), (0, 100)))


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


def test_upload_comes_back_as_a_job(tmp_path: Path) -> None:
    """Our own outlines, sent as DXF, come back with their sizes; a job of them is drafted from what was kept."""
    pieces = draft_job(parse_job(MODEL))
    write_pieces_dxf(pieces, tmp_path / "jacket.dxf")
    found = read_upload("jacket.dxf", (tmp_path / "jacket.dxf").read_bytes(), ReadingChoices(), tmp_path / "kept")
    sizes = {piece["name"]: (piece["length"], piece["width"]) for piece in found["pieces"]}
    assert sizes["sleeve"] == pytest.approx((pieces["sleeve"].length, pieces["sleeve"].width), abs=0.1)
    assert found["words"][0].startswith("read as")
    job = {"garment": "imported", "pieces_file": found["pieces_file"]}
    assert {piece["name"] for piece in draft(job, tmp_path / "kept")["pieces"]} == set(sizes)


def test_upload_of_points(tmp_path: Path) -> None:
    """A flap of 200 by 100 mm, its corners as a table, is that large."""
    found = read_upload("my flap.CSV", SQUARE.encode(), ReadingChoices(), tmp_path)
    (piece,) = found["pieces"]
    assert (piece["name"], piece["length"], piece["width"]) == ("flap", pytest.approx(200), pytest.approx(100))


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("virus.exe", b"MZ"),
        ("noend", b""),
        (".dxf", b""),
        ("empty.svg", b""),
        ("half.dxf", b"0\nSECTION\n2\nENT"),
        ("bytes.csv", b"\x00\xff" * 100),
        ("bomb.svg", b'<!DOCTYPE a [<!ENTITY b "c">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'),
        ("deep.json", b"[" * 100_000),
        ("../../etc/passwd.csv", b"root"),
        ("coat.toml", b'[[garment]]\ngarment = "tote"\n'),
    ],
)
def test_hostile_uploads(tmp_path: Path, name: str, data: bytes) -> None:
    """What is no file of patterns is refused with a reason, and leaves nothing behind."""
    with pytest.raises(FormatError) as refused:
        read_upload(name, data, ReadingChoices(), tmp_path / "kept")
    assert str(refused.value)
    assert not (tmp_path / "kept").exists()


def test_what_the_page_does_not_show_is_said() -> None:
    """A job's shapes beside its garment are drafted with it, and named among the notes: the page has no fields."""
    shape = {"name": "scarf", "kind": "strip", "length": "70 in", "width": "6 in"}
    found = draft(tomllib.loads(MODEL) | {"shape": [shape]})
    assert "scarf" in [piece["name"] for piece in found["pieces"]]
    assert (
        found["notes"][-1] == "scarf: shapes of the job, laid with the garment and kept; this page cannot change them"
    )
    assert not any("shapes of the job" in note for note in draft(tomllib.loads(MODEL))["notes"])
