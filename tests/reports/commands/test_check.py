"""The command `check`, and that no command shows a marker that does not give what was asked for."""

from __future__ import annotations

import json
import math
import os
import shutil
import sys
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch, TempPathFactory

from nesting.errors import CheckError
from nesting.problem import lay, ways
from reports.commands.cli import OUR_FAULT, main
from tests.make.model import with_fabrics
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from numpy.typing import NDArray

    from nesting.marker.marker import Marker
    from nesting.problem.ways import ClothBands
    from pieces.piece.piece import Piece
    from tests.reports.conftest import Ran

CLOTH = 'name = "twill"\nwidth = "60 in"\nspread = "folded"\nselvedge = "1/2 in"\nnap = true\ngap = "3 mm"'


@pytest.fixture(scope="module")
def laid_once(tmp_path_factory: TempPathFactory) -> Path:
    """A folder with a job and the file of its marker, as `lay` writes it."""
    folder = tmp_path_factory.mktemp("laid")
    (folder / "job.toml").write_text(with_fabrics(CLOTH), encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch, pytest.raises(SystemExit) as ended:
        patch.chdir(folder)
        patch.setattr(sys, "argv", ["ellwand", "lay", "job.toml", "--effort", "0", "--out", "out"])
        main()
    assert not ended.value.code
    return folder


@pytest.fixture
def laid(laid_once: Path, tmp_path: Path) -> tuple[Path, Path]:
    """A job, and the file of its marker: copies of this test's own."""
    shutil.copytree(laid_once, tmp_path, dirs_exist_ok=True)
    return tmp_path / "job.toml", tmp_path / "out" / "marker-1.json"


def spoil(path: Path, change: Callable[..., Any]) -> None:
    """Change a marker's file."""
    plain = json.loads(path.read_text())
    change(plain)
    path.write_text(json.dumps(plain))


def test_sound(run: Callable[..., Ran], laid: tuple[Path, Path]) -> None:
    """Of a marker just laid it is said line by line what holds; with --json too; by its pieces as by its job."""
    job, marker = laid
    said = run("check", marker, "--job", job)
    assert (said.code, said.err) == (0, "")
    for what in ("cloth", "places", "outlines", "grain", "counts", "nap", "fold", "apart"):
        assert f"\n{what}" in f"\n{said.out}"
    assert "with marks and cutouts" in said.out and "front 1 left + 1 right" in said.out
    plain = json.loads(run("check", marker, "--job", job, "--json").out)
    assert plain["wrong"] is None and len(plain["holds"]) == 9 and plain["not_checked"] == []
    cloth = ("--width", "60 in", "--selvedge", "1/2 in", "--nap", "yes", "--gap", "3 mm")
    assert run("check", marker, "--pieces", marker.parent / "pieces.json", *cloth).code == 0
    narrower = ("--width", "58 in", "--selvedge", "1/2 in")
    assert run("check", marker, "--pieces", marker.parent / "pieces.json", *narrower).code == 1


SPOILED = {
    "dropped": (lambda m: m["placements"].pop(), "WRONG.*is cut 0"),
    "notch": (lambda m: m["placements"][0]["notches"].pop(), "not drawn where the piece has it: notch"),
    "turned": (
        lambda m: m["placements"][0].update(turn=180.0),
        "drawn turned by 0°, but the marker says turned by 180",
    ),
    "layers": (lambda m: m["bands"][0].update(layers=4), "lists cloth"),
    "gap": (lambda m: m.update(gap=1.0), "keeps 1.00 mm"),
    "longer": (lambda m: m.update(length=m["length"] + 50), "but its last outline ends at"),
    "density": (lambda m: m.update(density_percent=99.0), "says 99.0000 % of the cloth is used"),
    "width": (lambda m: m.update(width=1524.0), "says width 1524.00 mm, but it is 762.00 mm"),
    "garments": (lambda m: m.update(garments=2), "says garments 2, but it is 1"),
    "plies": (lambda m: m.update(plies=2), "says plies 2, but it is 1"),
    "fold": (lambda m: m.update(fold_depth=100.0), "says fold_depth 100.00 mm, but it is none"),
    "edge": (
        lambda m: m["bands"][0].update(low_edge="selvedge"),
        "says low_edge 'selvedge' for the folded cloth, but it is 'fold'",
    ),
    "yields": (lambda m: m["placements"][1].update(yields=1), "the marker says an outline is"),
    "grain": (lambda m: m["placements"][0]["grain"].reverse(), "the grainline of"),
    "short": (lambda m: m.update(length=m["length"] - 1), "reaches 1.00 mm beyond the end"),
}


@pytest.mark.parametrize("name", SPOILED)
def test_spoiled(run: Callable[..., Ran], laid: tuple[Path, Path], name: str) -> None:
    """Of a marker with one thing wrong it is said what, with exit code 1, and nothing on stderr."""
    job, marker = laid
    change, reason = SPOILED[name]
    spoil(marker, change)
    said = run("check", marker, "--job", job)
    assert (said.code, said.err) == (1, "")
    assert reason.removeprefix("WRONG.*") in said.out.splitlines()[-1] and "WRONG" in said.out
    assert json.loads(run("check", marker, "--job", job, "--json").out)["wrong"]


UNREADABLE: dict[str, Callable[[Path], object]] = {
    "no JSON": lambda path: path.write_text("{"),
    "nested": lambda path: path.write_text("[" * 100_000),
    "a number": lambda path: path.write_text("7"),
    "binary": lambda path: path.write_bytes(bytes(range(256))),
    "thousands of digits": lambda path: spoil_text(path, '"length": ', '"length": 1' + "0" * 5000 + ', "was": '),
    "no number": lambda path: spoil(path, lambda m: m.update(length=math.nan)),
    "infinite": lambda path: spoil(path, lambda m: m["placements"][0]["outline"].append([math.inf, 0])),
    "huge": lambda path: spoil(path, lambda m: m["placements"][0]["outline"].append([1e300, 0])),
    "no outline": lambda path: spoil(path, lambda m: m["placements"][0].pop("outline")),
    "two points": lambda path: spoil(path, lambda m: m["placements"][0].update(outline=[[0, 0], [1, 1]])),
    "not in mm": lambda path: spoil(path, lambda m: m.update(unit="in")),
    "no bands": lambda path: spoil(path, lambda m: m.update(bands=[])),
    "gone": lambda path: path.unlink(),
    "too large": lambda path: os.truncate(path, 60_000_000),
}
WHY = {
    "no JSON": "is not JSON, or is cut short: ",
    "nested": "is not JSON, or is cut short: it is nested too deeply",
    "binary": "it is not text in UTF-8",
    "thousands of digits": "a whole number has more than 18 digits",
    "no number": "NaN is not a number",
    "infinite": "Infinity is not a number",
    "gone": "no such file",
    "too large": "is larger than 50 MB, too large for a marker file",
}


def spoil_text(path: Path, old: str, new: str) -> None:
    """Change the text of a file."""
    path.write_text(path.read_text().replace(old, new, 1))


@pytest.mark.parametrize("name", UNREADABLE)
def test_unreadable(run: Callable[..., Ran], laid: tuple[Path, Path], name: str) -> None:
    """A file that is no marker is refused in one short line that says why, exit code 2."""
    job, marker = laid
    UNREADABLE[name](marker)
    said = run("check", marker, "--job", job)
    assert (said.code, said.out, said.err.count("\n")) == (2, "", 1)
    assert said.err.startswith("ellwand: ") and len(said.err) <= 301
    assert WHY.get(name, "is not a marker file: ") in said.err


def test_what_goes_with_what(run: Callable[..., Ran], laid: tuple[Path, Path], job_file: Callable[[str], Path]) -> None:
    """Job or pieces, one of both; a marker of another cloth, or laid in another way, is not taken for this one."""
    job, marker = laid
    for options in ((), ("--job", job, "--pieces", job), ("--pieces", marker.parent / "pieces.json")):
        assert run("check", marker, *options).code == 2
    job_file(with_fabrics(CLOTH.replace("twill", "denim"), CLOTH.replace("twill", "drill")))
    assert "choose the cloth with --fabric N" in run("check", marker, "--job", job).err
    said = run("check", marker, "--job", job, "--fabric", 1)
    assert said.code == 1 and "WRONG    the marker says fabric 'twill', but it is 'denim'" in said.out
    job_file(with_fabrics(CLOTH.replace("folded", "open")))
    said = run("check", marker, "--job", job)
    assert said.code == 1 and "the marker lies folded, and 'twill' is to lie open" in said.out


def test_what_is_not_checked_is_said(run: Callable[..., Ran], laid: tuple[Path, Path]) -> None:
    """What a file says beside all that the check knows is named; with no job also how the cloth lies, and its name."""
    job, marker = laid
    cloth = ("--width", "60 in", "--selvedge", "1/2 in", "--nap", "yes", "--gap", "3 mm")
    said = run("check", marker, "--pieces", marker.parent / "pieces.json", *cloth)
    assert said.code == 0 and "\nnot checked: fabric, spread, fold_depth, plies\n" in said.out
    spoil(marker, lambda m: (m.update(price=3), m["placements"][1].update(colour="red")))
    said = run("check", marker, "--job", job)
    assert said.code == 0 and "\nnot checked: placements.colour, price\n" in said.out
    assert json.loads(run("check", marker, "--job", job, "--json").out)["not_checked"] == ["placements.colour", "price"]


def test_mended_by_degenerate_outline(run: Callable[..., Ran], laid: tuple[Path, Path]) -> None:
    """An outline without area is no piece's: it is told as wrong, not fallen over."""
    job, marker = laid
    spoil(marker, lambda m: m["placements"][0].update(outline=[[1, 1], [2, 2], [3, 3]]))
    said = run("check", marker, "--job", job)
    assert (said.code, said.err) == (1, "")


FEW = ("--effort", 0)

COMMANDS = {
    "lay": FEW,
    "buy": FEW,
    "guide": FEW,
    "widths": ("--from", "58 in", "--to", "60 in", "--effort", 0, "--workers", 1, "--no-cache"),
    "chart": ("--widths", "60 in", "--effort", 0, "--workers", 1, "--no-cache"),
    "saves": ("--effort", 0, "--workers", 1, "--no-cache"),
    "fits": ("--remnant", "60 in x 4 yd", "--effort", 0),
    "print": ("--what", "markers", "--effort", 0),
    "export": FEW,
    "report": ("--out", "report.html", "--effort", 0),
    "run": ("--effort", 0, "--workers", 1, "--no-cache"),
}


@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_shows_a_wrong_marker(
    run: Callable[..., Ran], job_file: Callable[[str], Path], monkeypatch: MonkeyPatch, tmp_path: Path, command: str
) -> None:
    """Where a left is laid for each right, every command ends with one line that takes the blame; nothing is shown."""
    sound = ways.free_ways

    def lefts(
        piece: Piece,
        outline: NDArray[Any],
        cloth: ClothBands,
        hands: tuple[Any, ...],
        *how: tuple[Any, ...],
        **more: Any,
    ) -> tuple[Any, ...]:
        return sound(piece, outline, cloth, [False for _ in hands], *how, **more)

    monkeypatch.setattr(lay, "free_ways", lefts)
    text = changed(*SMALL) if command == "run" else with_fabrics('width = "60 in"\nspread = "open"')
    said = run(command, job_file(text), *COMMANDS[command])
    assert said.code == OUR_FAULT
    assert said.err.splitlines()[-1].startswith("ellwand: a marker failed its check and is not shown: 'front")
    assert "This is a fault in ellwand, not in your job" in said.err
    assert "Traceback" not in said.err and "Yes" not in said.out and "Buy" not in said.out
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == [tmp_path / "job.toml"]


def test_a_layout_that_no_check_lets_pass_is_our_fault(
    run: Callable[..., Ran], job_file: Callable[[str], Path], monkeypatch: MonkeyPatch
) -> None:
    """Where no layout passes the check, one line says that the fault lies in the program and not in the job."""

    def refuse(marker: Marker) -> None:
        raise CheckError("'back' and 'front' overlap by 0.020 mm")

    monkeypatch.setattr("nesting.search.solver.check", refuse)
    said = run("lay", job_file(with_fabrics(CLOTH)), "--effort", 0)
    assert said.code == OUR_FAULT
    assert said.err.startswith("ellwand: a fault in this program, not in your job: no layout on 'twill' passes")
    assert said.err.count("\n") <= 1
