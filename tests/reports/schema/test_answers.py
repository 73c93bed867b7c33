"""Every answer for machines is as its schema says: judged by a general library of JSON Schema, and by the model.

The library is `jsonschema_rs`, of draft 2020-12 (json-schema.org); it also holds each schema against the metaschema.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import jsonschema_rs
import pytest
import typer

from reports.commands.answers import all_answers
from reports.commands.cli import command_line
from reports.ledger.journal import Journal
from reports.ledger.record import record
from tests.make.centimetres import CENTIMETRES
from tests.make.model import MODEL, edited
from tests.make.orders import SMALL, changed
from tests.make.photos import kept, rendered

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

ANSWERS = all_answers()
QUICK = ("--effort", "0")
ALONE = ("--effort", "0", "--no-cache", "--workers", "1")
CM = CENTIMETRES.replace('price = "18.00 / m"', 'weight = "300 g/m2"')
"""No price, every spread tried, a cloth and a rib that will not do."""

LEAST = ((SMALL[0][0], "rust = { S = 1 }"), (SMALL[1][0], "navy = { S = 1 }"), SMALL[2])
"""The least order of two colours: quick to plan."""

STRIPS = '[[rib]]\nname = "strips"\nform = "strips"\nwidth = "40 in"\ndepth = "8 in"\nprice = "6.50 / strip"\n'
JOBS = {"in.toml": MODEL + STRIPS, "cm.toml": CM, "order.toml": changed(*LEAST)}
ASKED: dict[str, tuple[tuple[Any, ...], ...]] = {
    "new": (("mine.toml",), ("mine.toml", "--run"), ("mine.toml", "--garment", "rib-jacket")),
    "demo": (("--seconds", 0),),
    "draft": (("in.toml",), ("cm.toml",)),
    "sew": (("in.toml",), ("cm.toml",)),
    "lay": (("in.toml", *QUICK), ("cm.toml", *QUICK)),
    "buy": (("in.toml", *QUICK), ("cm.toml", *QUICK)),
    "saves": (("in.toml", *ALONE),),
    "fits": (
        ("in.toml", "--remnant", "60 in x 5 yd", *QUICK),
        ("in.toml", "--remnant", "60 in x 1 1/4 yd", "--cut-out", "0 in,30 in,12 in,15 in", "--spread", "best", *QUICK),
        ("cm.toml", "--remnant", "20 cm x 60 cm", *QUICK),
    ),
    "which": (("in.toml", "--folder", "kept", *QUICK),),
    "left": (
        ("in.toml", "--strip", "2 in", "--bias", "1 in", "--job", "in.toml", *QUICK),
        ("cm.toml", "--number", 2, *QUICK),
    ),
    "boxes": (("in.toml", "--box", "sleeve: 40 in x 40 in", *QUICK), ("cm.toml", *QUICK)),
    "guide": (("in.toml", *QUICK), ("cm.toml", "--fabric", 1, *QUICK)),
    "widths": (
        ("in.toml", "--from", "46 in", "--to", "60 in", "--step", "7 in", *ALONE),
        ("cm.toml", "--from", "20 cm", "--to", "150 cm", "--step", "130 cm", *ALONE),
    ),
    "chart": (("in.toml", "--widths", "10 in, 60 in", "--sizes", "own.csv", *ALONE),),
    "convert": (
        ("2 1/2 yd", "--from", "45 in", "--to", "54 in"),
        ("2 m", "--from", "90 cm", "--to", "2 m"),
    ),
    "garments": ((), ("rib-jacket",)),
    "sizes": ((), ("women-letters",), ("own.csv", "--job", "in.toml")),
    "measures": ((),),
    "import": (("coat.svg", "--units", "mm"),),
    "trace": (("front.jpg",),),
    "export": (("in.toml", "--what", "pieces", "--as", "csv", "--out", "out"),),
    "print": (("in.toml", "--roll", "36 in"),),
    "run": (("order.toml", *ALONE),),
    "report": (
        ("in.toml", "--chart", "--widths", "60 in", "--sizes", "own.csv", "--out", "a.html", *ALONE),
        ("order.toml", "--out", "b.html", *ALONE),
    ),
    "ledger": (
        ("bought", "cloth", "canvas", "10 m", "--width", "150 cm", "--folder", "kept"),
        ("show", "--folder", "kept"),
        ("order", "order.toml", "--folder", "kept"),
    ),
    "check": (("marker.json", "--job", "in.toml"), ("marker.json", "--job", "other.toml")),
}
"""What each command is asked with `--json`, several jobs where there are several kinds of answer."""


def with_json() -> set[str]:
    """The commands that print JSON, by the command line's own list."""
    commands = typer.main.get_command(command_line()).commands  # type: ignore[attr-defined]
    return {
        name
        for name, command in commands.items()
        for action in (command, *getattr(command, "commands", {}).values())
        if any("--json" in option.opts for option in action.params)
    }


def judge(name: str, said: str) -> Any:
    """Make sure that an answer is as its schema says; the answer."""
    answer = json.loads(said)
    faults = list(jsonschema_rs.Draft202012Validator(ANSWERS[name].json_schema(name)).iter_errors(answer))
    assert not faults, [(list(fault.instance_path), fault.message) for fault in faults[:5]]
    ANSWERS[name].adapter.validate_json(said)
    return answer


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of jobs, an order, a table of sizes and a file of patterns."""
    for name, text in JOBS.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "other.toml").write_text(edited(('length = "30 in"', 'length = "28 in"')), encoding="utf-8")
    (tmp_path / "own.csv").write_text("size,bust (in),hip (in)\nour S,38,44\nour L,42,48\n", encoding="utf-8")
    shape = '<path id="yoke" d="M0 0H300V200H0Z" fill="none" stroke="black"/>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">{shape}</svg>'
    (tmp_path / "coat.svg").write_text(svg, encoding="utf-8")
    for width, length in (("60 in", "5 yd"), ("20 in", "10 in")):
        record(Journal(tmp_path / "kept"), "remnant", {"name": "canvas", "width": width, "length": length})
    return tmp_path


def test_every_command_has_a_schema() -> None:
    """Each command with `--json` has a schema, and is asked for an answer here."""
    assert with_json() == set(ANSWERS) - {"marker"} == set(ASKED)


@pytest.mark.parametrize("name", ANSWERS)
def test_schemas(name: str, run: Callable[..., Ran]) -> None:
    """A schema is sound by the metaschema, bears its version, and allows no key that it does not name."""
    said = json.loads(run("schema", name).out)
    jsonschema_rs.meta.validate(said)
    assert said["$id"] == f"urn:ellwand:{name}:{said['version']}"
    objects = [one for one in (said, *said.get("$defs", {}).values()) if "properties" in one]
    assert all(one["additionalProperties"] is False for one in objects)
    assert objects or name in ("sizes", "report")
    numbered = said.get("properties", {}).get("schema")
    assert numbered is None or numbered["const"] == said["version"]


def test_list_and_unknown_name(run: Callable[..., Ran]) -> None:
    """Without a name all are listed, each on a line with its version; one that is not there is a mistake."""
    listed = run("schema").out.splitlines()
    assert [line.split()[:2] for line in listed] == [[name, str(one.version)] for name, one in ANSWERS.items()]
    wrong = run("schema", "nothing")
    assert (wrong.code, wrong.err.count("\n")) == (2, 1) and "choose new, demo" in wrong.err


@pytest.mark.parametrize(("name", "asked"), [(name, asked) for name, several in ASKED.items() for asked in several])
def test_real_answers(
    name: str, asked: tuple[Any, ...], folder: Path, run: Callable[..., Ran], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a command prints is as its schema says."""
    if name == "check":
        laid = json.loads(run("lay", "in.toml", "--json", *QUICK).out)
        (folder / "marker.json").write_text(json.dumps(laid["markers"][0]), encoding="utf-8")
        judge("marker", (folder / "marker.json").read_text(encoding="utf-8"))
    if name == "demo":
        monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())  # pictures are not judged
    if name == "trace":
        kept(folder, rendered())
    said = run(name, *asked, "--json")
    assert said.code in ((0, 1) if name in ("check", "fits", "left") else (0,)), said.err
    assert isinstance(judge(name, said.out)["schema"], int)


def test_a_strange_key_is_refused(folder: Path, run: Callable[..., Ran]) -> None:
    """A key more, one less, or text for a number: neither library nor model takes the answer."""
    said = json.loads(run("buy", "in.toml", "--json", *QUICK).out)
    cloth = said["fabrics"][0]
    for spoilt in (cloth | {"strange": 1}, {k: v for k, v in cloth.items() if k != "proof"}, cloth | {"buy_mm": "1"}):
        with pytest.raises(AssertionError):
            judge("buy", json.dumps(said | {"fabrics": [spoilt]}))
        with pytest.raises(ValueError, match="fabrics"):
            ANSWERS["buy"].adapter.validate_python(said | {"fabrics": [spoilt]})


def test_best_proof_and_other_ways(folder: Path, run: Callable[..., Ran]) -> None:
    """Each cloth says how near the best it is, why, and what another spread takes; the job, which is best."""
    for name in ("buy", "lay"):
        answer = judge(name, run(name, "cm.toml", "--json", *QUICK).out)
        laid = [cloth for cloth in answer["fabrics"] if cloth["checked"]]
        assert [cloth["refused"] != "" for cloth in answer["fabrics"] if not cloth["checked"]] == [True]
        assert laid and all(cloth["proof"]["held"] and cloth["proof"]["bound_mm"] > 0 for cloth in laid)
        assert len(laid[0]["other_ways"]) >= 3
        assert ("fabric", 1) in {(best["kind"], best["number"]) for best in answer["best"]}
