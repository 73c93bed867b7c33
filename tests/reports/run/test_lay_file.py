"""A lay as a file: read back it is the same marker; what is not so in it is seen; print, guide and export take it."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import ezdxf
import pytest
import shapely
from pypdf import PdfReader
from pytest import TempPathFactory

from nesting.search.solver import solve
from nesting.search.stop import MaxWork
from reports.ask.order.order import read_order
from reports.errors import JobError
from reports.run.garments import draft_all
from reports.run.lay_file import read_lays
from reports.run.lay_marker import LayMarker, lay_to_plain
from reports.run.lots import lots_of
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

FACES = (
    (r'^spread = "face-up"', 'spread = "face-to-face"'),
    (r'^name = "navy canvas"', 'name = "navy canvas"\nspread = "face-to-face"'),
)
FOLDED = (
    (r'^spread = "face-up"', 'spread = "folded"'),
    (r'^name = "navy canvas"', 'name = "navy canvas"\nspread = "folded"'),
)
SPREADS = {"face-up": (), "face-to-face": FACES, "folded": FOLDED}
PLIES = {"rust": 2, "navy": 1}


def written(folder: Path, spread: str) -> tuple[Path, Path, LayMarker]:
    """An order and the file of a lay of an S and an L."""
    path = folder / "order.toml"
    path.write_text(changed(*SMALL, *SPREADS[spread]), encoding="utf-8")
    order = read_order(path)
    (lot,) = lots_of(order, draft_all(order))
    marker = solve(lot.problem((1, 1)), MaxWork(0)).marker
    lay = LayMarker(2, lot, (1, 1), PLIES, marker)
    file = folder / "lay-2.json"
    file.write_text(json.dumps(lay_to_plain(lay, order)), encoding="utf-8")
    return path, file, lay


@pytest.fixture(scope="module")
def folder(tmp_path_factory: TempPathFactory) -> Path:
    """A folder with an order and a lay of it."""
    made = tmp_path_factory.mktemp("lay")
    written(made, "face-up")
    return made


@pytest.mark.parametrize("spread", SPREADS)
def test_the_same_marker(tmp_path: Path, run: Callable[..., Ran], spread: str) -> None:
    """Read back, each outline lies where it lay; the command accepts mixed sizes and stacks, and counts 6 garments."""
    order, file, lay = written(tmp_path, spread)
    (again,) = read_lays(read_order(order), [file])
    assert (again.ticket, again.garments, again.plies) == (2, {"S": 1, "L": 1}, PLIES)
    for (_, item, _, before), (_, other, _, after) in zip(lay.marker.outlines(), again.marker.outlines(), strict=True):
        assert item.name == other.name
        assert shapely.Polygon(before).symmetric_difference(shapely.Polygon(after)).area < 1e-3
    said = run("check", file, "--order", order)
    assert (said.code, said.err) == (0, "")
    assert "front S 1 left + 1 right" in said.out and "front L 1 left + 1 right" in said.out
    assert "2 × rust, 1 × navy" in said.out and "6 garments" in said.out
    assert "not checked: lay.order, lay.ticket" in said.out
    assert ("stack" in said.out) == (spread == "face-to-face")


SPOILED: dict[str, tuple[Callable[[dict[str, Any]], Any], str]] = {
    "outline": (lambda m: m["placements"].pop(), "is cut 1 left and 0 right"),
    "plies": (lambda m: m["lay"]["plies"].update(rust=60), "61 plies, and the rotary cutter cuts 6"),
    "cut": (lambda m: m["lay"]["cut"]["rust"].update(S=3), "says the lay cuts"),
    "ply": (lambda m: m["lay"].update(ply_mm=m["lay"]["ply_mm"] - 5), "says a ply is"),
    "stack": (lambda m: m["lay"].update(stack="folded"), "plies lie folded"),
    "size": (lambda m: m["lay"]["garments"].update(M=1), "has size 'M'"),
    "number": (lambda m: m["lay"]["garments"].update(L=2), "'back L' is cut 1 time, needed 2"),
    "colour": (lambda m: m["lay"].update(plies={"green": 1}), "the order has shell: rust, navy"),
    "overlap": (lambda m: m["placements"].append(m["placements"][0]), "WRONG"),
}


@pytest.mark.parametrize("what", SPOILED)
def test_what_is_not_so(tmp_path: Path, folder: Path, run: Callable[..., Ran], what: str) -> None:
    """A file that says what is not so is wrong, code 1; print refuses it in one line, code 2."""
    change, said = SPOILED[what]
    plain = json.loads((folder / "lay-2.json").read_text())
    change(plain)
    spoiled = tmp_path / "spoiled.json"
    spoiled.write_text(json.dumps(plain))
    checked = run("check", spoiled, "--order", folder / "order.toml")
    assert checked.code == 1 and said in checked.out, checked.out
    refused = run("export", folder / "order.toml", "--lay", spoiled)
    assert refused.code == 2 and len(refused.err.splitlines()) == 1 and "run 'ellwand run'" in refused.err


def test_refusals(folder: Path, run: Callable[..., Ran], tmp_path: Path) -> None:
    """A lay goes with its order alone, once; a marker of a job is none of a lay."""
    order, lay = folder / "order.toml", folder / "lay-2.json"
    assert "check it against its order" in run("check", lay, "--job", order).err
    assert "--order ORDER" in run("check", lay).err
    assert "--fabric is for jobs" in run("guide", order, "--lay", lay, "--fabric", 1).err
    with pytest.raises(JobError, match="given 2 times"):
        read_lays(read_order(order), [lay, lay])
    plain = json.loads(lay.read_text())
    del plain["lay"]
    (tmp_path / "marker.json").write_text(json.dumps(plain))
    assert "not of a lay" in run("check", tmp_path / "marker.json", "--order", order).err


def test_print(folder: Path, run: Callable[..., Ran], tmp_path: Path) -> None:
    """At full scale: a layer and a kind of line for each size, its plies on the first page."""
    said = run("print", folder / "order.toml", "--lay", folder / "lay-2.json", "--roll", "72 in", "--out", "p")
    assert (said.code, said.err) == (0, "")
    reader = PdfReader(tmp_path / "p" / "lay-2-72-in-roll.pdf")
    text = " ".join(page.extract_text() for page in reader.pages)
    assert "3 plies, 2 × rust, 1 × navy" in text and "cut line, size S" in text and "cut line, size L" in text
    layers = [layer.get_object()["/Name"] for layer in reader.root_object["/OCProperties"]["/OCGs"]]  # type: ignore[index]
    assert layers == ["size S", "size L"] or layers == ["size L", "size S"]
    check = PdfReader(tmp_path / "p" / "lay-2-72-in-roll-check.pdf").pages[0].extract_text()
    assert re.search(r"^front [SL]$", check, re.MULTILINE), "the size stands once in a name"


def test_guide(folder: Path, run: Callable[..., Ran], tmp_path: Path) -> None:
    """The steps name the plies, and pieces of both sizes; each step cuts all three plies."""
    said = run("guide", folder / "order.toml", "--lay", folder / "lay-2.json", "--out", "g", "--json")
    assert said.code == 0, said.err
    (guide,) = json.loads(said.out)["guides"]
    assert (guide["number"], guide["plies"]) == (2, PLIES) and "buy_mm" not in guide
    steps = guide["stages"][0]["pieces"]
    assert {step["piece"].rsplit(" ", 1)[1] for step in steps} == {"S", "L"}
    assert {step["layers"] for step in steps} == {3}
    text = (tmp_path / "g" / "guide-lay-2.txt").read_text(encoding="utf-8")
    assert "Rotary cutter:" in text and "Straight knife" not in text
    assert "Lay 3 plies of" in text and "2 × rust, 1 × navy" in text and "Cut 3 layers at once" in text


def test_export(folder: Path, run: Callable[..., Ran], tmp_path: Path) -> None:
    """As DXF and JSON: every outline, and the lay's own words in JSON, which is the file again."""
    forms = ("--as", "dxf", "--as", "json")
    said = run("export", folder / "order.toml", "--lay", folder / "lay-2.json", *forms, "--out", "e")
    assert (said.code, said.err) == (0, "")
    plain = json.loads((folder / "lay-2.json").read_text())
    drawing = ezdxf.readfile(tmp_path / "e" / "lay-2-marker.dxf")  # type: ignore[attr-defined]
    assert drawing.modelspace() and len(plain["placements"]) == 14
    assert json.loads((tmp_path / "e" / "lay-2-marker.json").read_text()) == plain
    refused = run("export", folder / "order.toml", "--lay", folder / "lay-2.json", "--what", "pieces")
    assert refused.code == 2 and "writes markers and no pieces" in refused.err
