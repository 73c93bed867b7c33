"""The command line as a newcomer meets it: most of it as a process of its own."""

from __future__ import annotations

import json
import re
import signal
import subprocess
import sys
import time
from importlib.metadata import version
from pathlib import Path
from signal import Signals
from subprocess import Popen
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch
from shapely import Polygon

from tests.make.model import MODEL
from tests.make.recheck import recheck
from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.reports.conftest import Ran

COMMANDS = (
    *("new", "demo", "draft", "lay", "buy", "check", "fits", "guide", "sizes", "run"),
    *("import", "trace", "export", "print", "report", "serve", "widths", "chart", "saves"),
)
MEASURES = (
    *("body_cut_length", "body_cut_width", "bust_quarter", "shoulder_from_centre", "back_neck_depth"),
    *("front_neck_depth", "sleeve_cut_length", "sleeve_cut_width", "armhole_seam", "sleeve_cap_seam"),
    *("cuff_cut_length", "cuff_cut_depth", "hem_opening", "hem_band_cut_length", "neck_opening"),
    *("neckband_cut_length", "neckband_cut_depth"),
)
HEAVY = ("numpy", "pydantic", "numba", "ortools", "shapely", "matplotlib", "pyclipper", "rich.table", "cv2")


def test_installed() -> None:
    """The installed command `ellwand` and `python -m reports` are the same, and say their version."""
    installed = Path(sys.executable).with_name("ellwand")
    for command in ([installed], [sys.executable, "-m", "reports"]):
        said = subprocess.run([*command, "--version"], capture_output=True, text=True, timeout=60)
        assert (said.returncode, said.stdout, said.stderr) == (0, f"ellwand {version('ellwand')}\n", "")


def test_lazy() -> None:
    """The command imports nothing heavy before it has work to do: it starts at once."""
    code = f"import sys, reports.commands.cli; print([name for name in {HEAVY} if name in sys.modules])"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert (said.stdout, said.stderr) == ("[]\n", "")


@pytest.mark.parametrize("command", COMMANDS)
def test_help(run: Callable[..., Ran], command: str, monkeypatch: MonkeyPatch) -> None:
    """Every command explains itself, with an example that begins as one types it."""
    monkeypatch.setenv("COLUMNS", "120")
    said = run(command, "--help")
    assert said.code == 0
    assert f"Example:  ellwand {command}" in said.out
    if command in ("lay", "buy", "guide"):
        for option in ("--json", "--out", "--seconds", "--seed", "--workers", "--force"):
            assert option in said.out


def test_help_alone(run: Callable[..., Ran], monkeypatch: MonkeyPatch) -> None:
    """Without a command, or with --help, all commands are listed and it is said where to start."""
    monkeypatch.setenv("COLUMNS", "120")
    alone, asked = run(), run("--help")
    assert (alone.code, asked.code) == (2, 0)
    for said in (alone, asked):
        text = said.out + said.err
        assert all(re.search(rf"\b{command}\b", text) for command in COMMANDS)
        assert "ellwand demo" in text


def test_examples(run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """The example of `new`, then that of `draft`, work as they stand in the help."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    for command in ("new", "draft"):
        example = re.search(r"Example:  ellwand (.+)", run(command, "--help").out)
        assert example
        assert run(*example[1].split()).code == 0
    assert (tmp_path / "jacket.toml").exists()
    assert (tmp_path / "jacket-pieces" / "pieces.json").exists()


def test_new(run: Callable[..., Ran], tmp_path: Path) -> None:
    """`new` writes a job that `draft` takes as it is, and says what to do next."""
    said = run("new", "mine.toml")
    assert said.code == 0
    assert "ellwand buy mine.toml" in said.out
    assert run("draft", "mine.toml").code == 0


def test_draft(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """`draft --json` prints sound polygons for each piece, and every measure by name, in mm."""
    said = run("draft", job_file(MODEL), "--json")
    assert (said.code, said.err) == (0, "")
    drafted = json.loads(said.out)
    keys = {"name", "material", "cut", "mirrored_pair", "on_fold", "cut_line", "sew_line", "grain"}
    assert all(set(piece) >= keys for piece in drafted["pieces"])
    for piece in drafted["pieces"]:
        cut, sewn = Polygon(piece["cut_line"]), Polygon(piece["sew_line"])
        assert cut.is_valid
        assert sewn.is_valid
        assert cut.buffer(0.01).covers(sewn)
    assert all(drafted["measures"][name] > 0 for name in MEASURES)
    assert drafted["measures"]["body_cut_length"] == pytest.approx(28 * 25.4)  # common practice, no source


def test_draft_for_people(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """`draft` prints pieces and measures in the job's units, and what is out of the ordinary."""
    said = run("draft", job_file(MODEL.replace('units = "in"', 'units = "cm"').replace('"42 in"', '"52 in"')))
    assert said.code == 0
    assert re.search(r"body cut length +71 cm", said.out)
    assert "note: bust of 132 cm is unusual for women" in said.out


def test_buy(job_file: Callable[[str], Path], shell: Callable[..., Ran]) -> None:
    """`buy --json` prints one JSON object on stdout and nothing on stderr; the same seed and count give the same."""
    job = job_file(MODEL)
    said = [shell("buy", job, "--json", "--effort", "0.01", "--seed", "1") for _ in range(2)]
    assert [(s.code, s.err, s.out.count("\n")) for s in said] == [(0, "", 1)] * 2
    first, second = (json.loads(s.out) for s in said)
    for answer in (first, second):
        del answer["fabrics"][0]["seconds"]
    assert first == second
    assert (first["job"], first["units"], first["seed"]) == ("job.toml", "in", 1)


def test_buy_for_people(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """`buy` ends in plain words: how much cloth and how much rib, for how much."""
    said = run("buy", job_file(MODEL), "--seconds", "0")
    assert said.code == 0
    assert re.search(r"^Buy [\d /]+ yd of navy twill, wide for \d+\.\d\d: folded lengthwise\.$", said.out, re.M)
    assert re.search(r"^Buy [\d /]+ yd of tube rib for \d+\.\d\d: ", said.out, re.M)
    assert re.search(
        r"^  No (shorter marker exists|marker can be shorter than .*shorter than this one)", said.out, re.M
    )


def test_demo(shell: Callable[..., Ran], tmp_path: Path) -> None:
    """The demo ends with the answer in plain words and where its files are: whole pictures, markers that can be cut.

    A second one overwrites nothing: it takes a folder of its own.
    """
    (tmp_path / "ellwand-demo").mkdir()
    said = shell("demo", "--seconds", "0")
    assert (said.code, said.err) == (0, "")
    folder = tmp_path / "ellwand-demo-2"
    assert "Written to ellwand-demo-2:" in said.out
    assert said.out.splitlines()[-1].endswith("ellwand buy ellwand-demo-2/jacket.toml")
    answer = json.loads((folder / "buy.json").read_text())
    for cloth in answer["fabrics"]:
        assert f"Buy {cloth['buy']} of {cloth['name']}" in said.out
    drafted = json.loads((folder / "pieces.json").read_text())
    for number in (1, 2):
        recheck(json.loads((folder / f"marker-{number}.json").read_text()), drafted)
    starts = {".svg": b"<?xml", ".png": b"\x89PNG", ".pdf": b"%PDF"}
    pictures = [path for path in folder.iterdir() if path.suffix in starts]
    assert {path.stem for path in pictures} >= {"pieces", "marker-1", "marker-2"}
    assert all(path.read_bytes().startswith(starts[path.suffix]) for path in pictures)
    assert all(path.name in said.out for path in folder.iterdir())


def test_json_of_the_other_commands(run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """`new`, `demo` and `lay` too print one JSON object with --json; `lay` then writes only where --out says."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    assert json.loads(run("new", "mine.toml", "--json").out) == {"schema": 2, "file": "mine.toml"}
    demo = run("demo", "--seconds", "0", "--json")
    assert (demo.code, demo.err) == (0, "")
    assert json.loads(demo.out) == json.loads((tmp_path / "ellwand-demo" / "buy.json").read_text())
    before = set(tmp_path.rglob("*"))
    lay = run("lay", "mine.toml", "--seconds", "0", "--json")
    assert [marker["fabric"] for marker in json.loads(lay.out)["markers"]] == [
        "rust canvas, 60 in",
        "rust canvas, 45 in",
    ]
    assert set(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_interrupted(job_file: Callable[[str], Path], number: Signals) -> None:
    """Ctrl-C during a long search gives the best so far as one JSON object, and the exit code of the signal."""
    job = job_file(MODEL)
    command = [sys.executable, "-m", "reports", "buy", str(job), "--seconds", "60", "--json"]
    with subprocess.Popen(command, stdout=-1, stderr=-1, text=True, env=clean_environment()) as process:
        _wait_for_search(process)
        process.send_signal(number)
        out, err = process.communicate(timeout=60)
    assert process.returncode == 128 + number
    (fabric,) = json.loads(out)["fabrics"]
    assert fabric["stopped_by"] == "interrupt"
    assert fabric["checked"] is True
    assert err == "ellwand: interrupted; this is the best found so far\n"


def _wait_for_search(process: Popen[str]) -> None:
    """Wait until the process has the library for linear programs, which the search asks for; and a little more."""
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline and process.poll() is None:
        if "highspy" in Path(f"/proc/{process.pid}/maps").read_text():
            break
        time.sleep(0.05)
    time.sleep(0.5)


@pytest.mark.parametrize("options", [(), ("--json",)])
def test_broken_pipe(job_file: Callable[[str], Path], options: tuple[Any, ...]) -> None:
    """A reader that goes away ends the program as a signal would, without a traceback."""
    command = [sys.executable, "-m", "reports", "draft", job_file(MODEL), *options]
    with subprocess.Popen(command, stdout=-1, stderr=-1, text=True) as process:
        process.stdout.close()
        err = process.stderr.read()
    assert (process.returncode, err) == (128 + signal.SIGPIPE, "")


def test_no_colour(shell: Callable[..., Ran]) -> None:
    """NO_COLOR is kept, even where a terminal would show colours."""
    colour = re.compile(r"\x1b\[[\d;]*3\d")
    assert colour.search(shell("buy", "--help", FORCE_COLOR="1").out)
    assert not colour.search(shell("buy", "--help", FORCE_COLOR="1", NO_COLOR="1").out)


def test_lay_for_people(job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path) -> None:
    """The command lay writes lengths in the job's own units, says how each marker was found, and how good it is."""
    said = run("lay", job_file(MODEL), "--effort", "0", "--seed", "5", "--out", tmp_path / "out")
    assert said.code == 0
    assert re.search(r"navy twill, wide: folded lengthwise\. No marker can be shorter than [\d /]+ in \(", said.out)
    assert re.search(r"effort 0\.00 \([\d.]+ s\) from seed 5; stopped by: effort", said.out)
    assert not re.search(r"\d (c?m)\b", said.out)


def test_plain(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """Where stdout is no terminal there is not one escape sequence in the answer, and no line is cut."""
    name = "x" * 60
    said = run("buy", job_file(MODEL.replace("navy twill, wide", name)), "--effort", "0")
    assert "\x1b" not in said.out
    assert f"of {name} for" in said.out


def test_encodings(job_file: Callable[[str], Path], shell: Callable[..., Ran]) -> None:
    """A cloth's name that the output's encoding lacks is written by its numbers: the answer is not lost."""
    job = job_file(MODEL.replace("navy twill, wide", "crêpe ½ 布"))
    said = shell("buy", job, "--effort", "0", PYTHONIOENCODING="ascii")
    assert (said.code, said.err) == (0, "")
    assert r"of cr\xeape \xbd \u5e03 for" in said.out


def test_strange_names(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """A cloth is called what it was called, whatever signs are in it."""
    said = run("buy", job_file(MODEL.replace("navy twill, wide", "ring [/b] [red]½ $1")), "--effort", "0")
    assert said.code == 0
    assert said.out.count("ring [/b] [red]½ $1") >= 3
