"""Pattern files kept with what was decided of them: found again, in a backup, and looked at when one comes in."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from reports.errors import MissingError, StateError
from reports.page.answers.upload import compare_sizes, read_again, read_upload
from reports.page.errors import BackupError
from reports.page.server import routes_patterns
from reports.page.store.backup import backup
from reports.page.store.brought import check_row
from reports.page.store.legends import keep_learned, legends_of
from reports.page.store.patterns import KeptPattern, Patterns, pattern_text, read_pattern
from reports.page.store.restore import restore
from reports.page.store.store import Store
from reports.page.work_folder import UPLOADS
from tests.make.layered import DECIDED, LAYERED
from tests.pieces.exchange.test_sized import nest
from tests.reports.page.conftest import OURS

if TYPE_CHECKING:
    from pathlib import Path

    from starlette.testclient import TestClient

TOLD = {"piece": [{"line": 1, "name": "front", "cut": 2}],
        "line": [{"numbers": [number], "role": role} for number, role in DECIDED.items()]}  # fmt: skip


@pytest.mark.usefixtures("read_here")
def test_the_same_file_finds_its_decisions(tmp_path: Path) -> None:
    """Uploaded again, under another name, it is read as it was decided; another file is not."""
    data, uploads = LAYERED.encode(), tmp_path / UPLOADS
    first = read_upload("a.svg", data, ReadingChoices(), uploads)
    assert not first["is_known"]
    pattern = Patterns(tmp_path).find(first["pattern"]["id"]).deciding(TOLD)
    decided = read_again(pattern, uploads)
    again = read_upload("a.svg", data, ReadingChoices(), uploads)
    assert again["is_known"]
    assert again["pieces_file"] == decided["pieces_file"] != first["pieces_file"]
    assert {piece["name"]: piece["cut"] for piece in again["pieces"]} == {"front": 2, "piece 2": 1}
    assert again["pattern"]["told"] == read_upload("c.SVG", data, ReadingChoices(), uploads)["pattern"]["told"] == TOLD
    assert not read_upload("b.svg", data + b"\n", ReadingChoices(), uploads)["is_known"]


@pytest.mark.usefixtures("read_here")
def test_a_nest_asks_for_its_size_and_gives_rules(tmp_path: Path) -> None:
    """Sizes are asked for as data; the one that is chosen is kept; all of them are compared."""
    data = nest(tmp_path / "a.svg", (200, 212, 224)).read_bytes()
    found = read_upload("a.svg", data, ReadingChoices(), tmp_path / UPLOADS)
    assert found["choose_size"]["sizes"] == ["S", "M", "L"]
    read_upload("a.svg", data, ReadingChoices(size="M"), tmp_path / UPLOADS)
    again = read_upload("a.svg", data, ReadingChoices(), tmp_path / UPLOADS)
    assert (again["lines"]["size"], round(again["pieces"][0]["length"])) == ("M", 212)
    compared = compare_sizes(Patterns(tmp_path).find(again["pattern"]["id"]))
    assert compared["base"] == "M"
    assert "[[point]]" in compared["text"]


@pytest.mark.usefixtures("read_here")
def test_in_a_backup(tmp_path: Path) -> None:
    """File, decisions and legend come along, and come in once."""
    here, there = Store(tmp_path / "here"), Store(tmp_path / "there")
    found = read_upload("a.svg", LAYERED.encode(), ReadingChoices(), here.folder / UPLOADS)
    read_again(Patterns(here.folder).find(found["pattern"]["id"]).deciding(TOLD), here.folder / UPLOADS)
    keep_learned(here, {"form": "svg", "program": "Desk", "line": [{"layer": "a", "role": "fold"}]}, None)
    restore(there, backup(here))
    assert Patterns(there.folder).find(found["pattern"]["id"]).decisions == TOLD
    assert [legend.marks.program for legend in legends_of(there)] == ["Desk"]
    kept = Patterns(there.folder)
    pattern = kept.find(found["pattern"]["id"])
    for is_lost in (True, False):  # what is damaged, or undecided, is taken from the backup; other decisions stay
        kept.keep(pattern.deciding({}))
        if is_lost:
            kept.path(pattern.id).write_text("{")
        restore(there, backup(here))
        assert kept.find(pattern.id).decisions == TOLD
    kept.keep(pattern.deciding({"piece": [{"line": 1, "cut": 4}]}))
    for time in range(2):  # what is decided here stays, and what was brought is beside it, once
        told = restore(there, backup(here))
        assert kept.find(pattern.id).decisions["piece"][0]["cut"] == 4
        assert [tomllib.loads(one.told) for one in kept.find(pattern.id).apart] == [TOLD]
        assert told["patterns"]["apart"] == (["a.svg"] if time == 0 else [])
    taken = kept.find(pattern.id).taking(0)
    assert taken.decisions == TOLD
    assert "cut = 4" in taken.apart[0].told
    assert read_pattern(pattern_text(taken)) == taken
    with pytest.raises(MissingError, match="open the file again"):
        taken.taking(1)
    kept.keep(replace(taken.deciding({}), apart=()))
    restore(here, backup(there))  # nothing is decided there: nothing comes from there
    assert Patterns(here.folder).find(pattern.id).apart == ()
    here.close()
    there.close()


@pytest.mark.parametrize(
    ("table", "row"),
    [
        ("files", {"name": "patterns/" + "a" * 32 + ".json", "data": b"{}"}),
        ("files", {"name": "patterns/" + "a" * 32 + ".json",
                   "data": b'{"schema":1,"name":"a.svg","source":"eJwDAAAAAAE=","units":null,"size":null,"told":"",'
                           b'"uses_legend":true,"pieces_file":"","changed":""}'}),
        ("shelf", {"id": "a", "kind": "legend", "name": "x", "data": '{"line":1}', "version": 1, "changed": ""}),
    ],
)  # fmt: skip
def test_what_a_backup_may_not_bring(table: str, row: dict[str, Any]) -> None:
    """No file that is none, or has another's name, and no legend that cannot be read."""
    with pytest.raises((BackupError, ValueError)):
        check_row(table, row)


@pytest.mark.usefixtures("read_here")
def test_what_is_no_kept_file(tmp_path: Path) -> None:
    """Anything else is refused in words; one that is not there too."""
    kept = (
        '{"schema":1,"name":"%s","source":"eJwDAAAAAAE=","units":null,"size":null,"told":"","uses_legend":true,'
        '"pieces_file":"%s","changed":""}'
    )
    assert read_pattern(kept % ("Ärmel (2).svg", "a" * 32 + ".json")).name == "Ärmel (2).svg"
    names = ("../../a.svg", "/tmp/a.svg", ".profile", "a.svg\\u0000", "a.exe")
    elsewhere = [*(kept % (name, "") for name in names), kept % ("a.svg", "../settings.json")]
    for text in ("", "[]", "{}", '{"schema": 1, "source": "??"}', *elsewhere):
        with pytest.raises(ValueError):
            read_pattern(text)
    with pytest.raises(MissingError):
        Patterns(tmp_path).find("../../etc/passwd")


def test_on_the_page(client: TestClient) -> None:
    """Upload, decide, learn, the next file: what has changed is told, and what the legend decided."""
    binary = OURS | {"Content-Type": "application/octet-stream"}
    found = client.post("/api/uploads", params={"name": "a.svg"}, content=LAYERED.encode(), headers=binary).json()
    path = f"/api/patterns/{found['pattern']['id']}"
    said = client.put(path, json={"told": TOLD, "learns": True}, headers=OURS).json()
    assert any("is gone" in line for line in said["changes"])
    late = {"told": {}, "changed": found["pattern"]["changed"]}
    assert client.put(path, json=late, headers=OURS).status_code == 409
    assert said["learned"]["legend"] == "SVG from Drawing Desk"
    assert client.get("/api/patterns", params={"pieces_file": said["pieces_file"]}).json() == {"id": path[-32:]}
    assert client.get("/api/patterns", params={"pieces_file": found["pieces_file"]}).status_code == 404
    things = client.get("/api/notebook").json()["things"]
    assert [(one["kind"], one["about"]) for one in things] == [("legend", "3 rules"), ("pattern", "2 pieces")]
    assert 'role = "sew line"' in client.get(f"{path}/decisions").text
    assert client.post(f"{path}/apart/0", headers=OURS).status_code == 404
    assert client.delete(f"{path}/apart/0", headers=OURS).status_code == 204
    other = LAYERED.replace("H320V420", "H330V430").encode()
    second = client.post("/api/uploads", params={"name": "b.svg"}, content=other, headers=binary).json()
    assert second["lines"]["by_legend"] == 6
    assert "sew line" in client.get(f"/api/legends/{second['legend']}").text
    assert client.put(path, json={"told": {"line": [{"numbers": [1], "role": "x"}]}}, headers=OURS).status_code == 422
    assert (
        client.post("/api/shelf", json={"kind": "legend", "name": "x", "data": {"a": 1}}, headers=OURS).status_code
        == 422
    )
    assert routes_patterns.router.routes


def test_kept_and_read_as_it_was() -> None:
    """The id is that of the content and its form, whatever the name."""
    one, other = KeptPattern("a.svg", b"x"), KeptPattern("b.svg", b"x", told="[[piece]]")
    assert one.id == other.id != KeptPattern("a.dxf", b"x").id


@pytest.mark.parametrize("told", [{"line": "abc"}, {"piece": [1]}, {"x": 1}, {"piece": [{"line": 1, "name": None}]}])
def test_what_is_no_decision(told: dict[str, Any]) -> None:
    """Whatever is sent is looked at before it is kept."""
    with pytest.raises(FormatError):
        KeptPattern("a.svg", b"x").deciding(told)


@pytest.mark.usefixtures("read_here")
def test_a_legend_that_leaves_no_piece_is_told(client: TestClient) -> None:
    """Where by the legend nothing is left to cut, the file is read without it, and that is said."""
    rules = [{"layer": layer, "role": "left out"} for layer in ("outer", "red", "blue", "grey")]
    data = {"form": "svg", "program": "Drawing Desk", "line": rules}
    client.post("/api/shelf", json={"kind": "legend", "name": "Desk", "data": data}, headers=OURS)
    binary = OURS | {"Content-Type": "application/octet-stream"}
    found = client.post("/api/uploads", params={"name": "a.svg"}, content=LAYERED.encode(), headers=binary).json()
    assert found["pieces"]
    assert not found["pattern"]["uses_legend"]
    assert "it is read without it" in found["lines"]["alarms"][0]["words"]
    again = client.post("/api/uploads", params={"name": "a.svg"}, content=LAYERED.encode(), headers=binary).json()
    assert again["lines"]["alarms"] == found["lines"]["alarms"]
    path = f"/api/patterns/{found['pattern']['id']}"
    chosen = client.put(path, json={"told": {}, "uses_legend": False}, headers=OURS).json()
    assert chosen["lines"]["alarms"] == found["lines"]["alarms"]
    assert client.put(path, json={"told": {}, "uses_legend": True}, headers=OURS).json()["lines"]["alarms"]


@pytest.mark.usefixtures("read_here")
def test_two_that_decide_at_once(tmp_path: Path) -> None:
    """What was read before another decided is not kept over it: neither by a decision nor by a look at the file."""
    found = read_upload("a.svg", LAYERED.encode(), ReadingChoices(), tmp_path / UPLOADS)
    before = Patterns(tmp_path).find(found["pattern"]["id"])
    read_again(before.deciding(TOLD), tmp_path / UPLOADS, over=before.changed)
    for late in (before, before.deciding({})):
        with pytest.raises(StateError, match="another tab"):
            read_again(late, tmp_path / UPLOADS, over=before.changed)
    assert Patterns(tmp_path).find(before.id).decisions == TOLD
