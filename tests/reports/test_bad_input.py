"""Mistakes, from the command line to the last file: one line that helps, exit code 2, and nothing left behind."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from tests.make.model import HEAD, MODEL, RIB, edited, with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

BUST, ARMHOLE, WIDTH = 'bust = "42 in"', 'armhole_depth = "10 1/2 in"', 'width = "60 in"'
STRIPS = (
    RIB.replace("opened", "width")
    .replace('"tube" ', '"strips"')
    .replace('sold_by = "1/8 yd"', 'sold_by = "strip"')
    .partition("price")[0]
)
OPEN = 'name = "twill"\nwidth = "{}"\nspread = "open"\nnap = true'

# What is wrong, the job, and what the one line must name: the thing, what it needs, what there is, what to do.
BAD = {
    "a piece wider than the folded cloth": (
        edited((WIDTH, 'width = "20 in"')),
        ["'back' needs 13 7/8 in", "'navy twill, wide' folded gives 9 1/2 in", "choose a wider fabric"],
    ),
    "a piece that open cloth would hold": (
        edited((WIDTH, 'width = "45 in"')),
        ["'sleeve' needs", "folded gives 22 in", "lay the cloth open"],
    ),
    "a piece wider than the open cloth": (
        with_fabrics(OPEN.format("20 in")),
        ["'back' needs 27 5/8 in", "'twill' between its selvedges gives 20 in", "choose a wider fabric"],
    ),
    "a tube with a selvedge": (
        edited(('spread = "folded"', 'spread = "tube"'), (WIDTH, 'opened = "60 in"')),
        ["'navy twill, wide'", "a tube has no selvedge", "leave selvedge out"],
    ),
    "selvedges wider than the cloth": (
        edited(('selvedge = "1/2 in"', 'selvedge = "31 in"')),
        ["'navy twill, wide' is 60 in (1524 mm) wide", "selvedges take 62 in (1575 mm)", "check width and selvedge"],
    ),
    "a missing measurement": (edited(('neck = "15 in"\n', "")), ["[body] lacks neck", "add a line such as neck ="]),
    "no measurements": (MODEL.partition("bust")[0], ["[body] lacks bust and hip and", "add a line such as bust ="]),
    "a measurement of nothing": (
        edited((BUST, 'bust = "0 in"')),
        ["bust of 0 in", "between 24 1/4 in", "measure again, or check the unit"],
    ),
    "an absurd measurement": (edited((BUST, 'bust = "42 m"')), ["bust of 1653 1/2 in (42000 mm)", "check the unit"]),
    "inches taken for centimetres": (edited((BUST, 'bust = "42 cm"')), ["bust of 16 1/2 in is unusual for women"]),
    "a cap too long for its armhole": (
        edited((ARMHOLE, 'armhole_depth = "6 in"')),
        ["sleeve cap cannot meet its armhole", "mm) wide", "mm) round", "deepen armhole_depth"],
    ),
    "a cap too short for its armhole": (
        edited(
            (ARMHOLE, 'armhole_depth = "24 in"'),
            ('"16 in"', '"7 in"'),
            ('"30 in"', '"44 in"'),
            ('"22 in"', '"38 in"\nsleeve_room = "1 in"'),
        ),
        ["sleeve cap cannot meet its armhole", "mm) wide", "mm) round", "give more sleeve_room"],
    ),
    "a neck wider than the shoulder": (
        edited(('neck = "15 in"', 'neck = "23 in"'), ('across_shoulder = "17 in"', 'across_shoulder = "9 in"')),
        ["neck is wider than the shoulder", "measure neck and across_shoulder again"],
    ),
    "a body shorter than its armhole": (
        edited(('length = "30 in"', 'length = "12 in"')),
        ["but its armhole is", "make the jacket longer"],
    ),
    "a sleeve without a length": (edited(('sleeve = "22 in"', "")), ["the sleeve has no length", "arm_length"]),
    "a seam of nothing": (edited(('seam = "1/2 in"', 'seam = "0 in"')), ["seam", "0"]),
    "a rib strip shorter than any join allows": (
        with_fabrics(OPEN.format("60 in"), rib=STRIPS.replace("40 in", "3 in")),
        ["'cuff' needs 9 1/2 in (242 mm) of rib", "3 in (76 mm) across", "buy wider rib, or allow shorter parts"],
    ),
    "a rib strip too shallow": (
        with_fabrics(OPEN.format("60 in"), rib=STRIPS.replace("8 in", "5 in")),
        ["'cuff' needs rib 7 in (178 mm) deep", "the strips are 5 in (127 mm)", "buy deeper strips"],
    ),
    "parts shorter than their seams": (
        with_fabrics(OPEN.format("60 in"), rib=RIB + 'least_part = "1 in"'),
        ["longer than its two seam allowances", "make it longer"],
    ),
    "an unknown unit": (edited((BUST, 'bust = "42 ells"')), ["[body] bust", "unknown unit 'ells'", "write it with in"]),
    "no unit": (edited((BUST, "bust = 42")), ["[body] bust", "a bare number has no unit", '"22 1/2 in"']),
    "an unknown key": (edited(("selvedge =", "salvage =")), ["unknown key 'salvage': did you mean 'selvedge'?"]),
    "an unknown garment": (
        edited(('"rib-jacket"', '"cloak"')),
        ["unknown garment 'cloak': choose rib-jacket"],
    ),
    "an empty job": ("", ["job.toml is empty", "it needs a garment", "see 'ellwand new'"]),
    "no cloth": (HEAD, ["job.toml offers no cloth", "add a [[fabric]] entry"]),
    "a number of thousands of digits": (
        edited((BUST, f"bust = {'9' * 5000}")),
        ["job.toml is not valid TOML: a whole number has more than 18 digits"],
    ),
    "a length of thousands of digits": (edited((BUST, f'bust = "{"9" * 60_000} in"')), ["[body] bust"]),
    "no TOML": ("garment = rib-jacket\n", ["job.toml is not valid TOML", "line 1"]),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_job(job_file: Callable[[str], Path], run: Callable[..., Ran], case: str, tmp_path: Path) -> None:
    """A job that cannot be done is told in one line that names what, needed, got and what to do; no file is left."""
    text, named = BAD[case]
    path = job_file(text)
    assert not _unnamed(run("buy", path, "--effort", 0, "--out", "answer"), *named)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("command", ["draft", "lay", "buy"])
@pytest.mark.parametrize("case", ["an absurd measurement", "a cap too long for its armhole", "an unknown key"])
def test_every_command(
    job_file: Callable[[str], Path], run: Callable[..., Ran], case: str, command: str, tmp_path: Path
) -> None:
    """Every command that reads a job refuses it alike, with and without --json: nothing is on stdout."""
    text, named = BAD[case]
    path = job_file(text)
    for options in ([], ["--json"], ["--out", "answer"]):
        assert not _unnamed(run(command, path, *options), *named)
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("command", ["draft", "lay", "buy"])
def test_unreadable(run: Callable[..., Ran], command: str, tmp_path: Path) -> None:
    """A job that is missing, a folder, or no text is named, with the reason."""
    (tmp_path / "photo.toml").write_bytes(b"\x89PNG\xff\xfe")
    assert not _unnamed(run(command, "none.toml"), "cannot read none.toml", "no such file")
    assert not _unnamed(run(command, "."), "cannot read .", "is a directory")
    assert not _unnamed(run(command, "photo.toml"), "cannot read photo.toml", "it is not text in UTF-8")


def test_endless(run: Callable[..., Ran]) -> None:
    """A device that never ends is no job file."""
    assert not _unnamed(run("draft", "/dev/zero"), "/dev/zero is larger than 1 MB", "too large for a job file")


@pytest.mark.parametrize("command", ["draft", "lay", "buy"])
def test_unwritable(job_file: Callable[[str], Path], run: Callable[..., Ran], command: str, tmp_path: Path) -> None:
    """A folder that cannot be made is named before any work is done."""
    path = job_file(MODEL)
    (tmp_path / "file").touch()
    said = run(command, path, "--out", "file/answer")
    assert not _unnamed(said, "cannot write file/answer/", "is a file, not a folder")
    assert sorted(tmp_path.iterdir()) == [tmp_path / "file", path]


@pytest.mark.parametrize(
    ("command", "name"), [("draft", "pieces.svg"), ("lay", "marker-1.pdf"), ("lay", "pieces.json"), ("buy", "buy.json")]
)
def test_not_overwritten(
    job_file: Callable[[str], Path], run: Callable[..., Ran], command: str, name: str, tmp_path: Path
) -> None:
    """One file in the way is enough to refuse, before any work is done and with nothing else written."""
    path = job_file(MODEL)
    kept = tmp_path / "answer" / name
    kept.parent.mkdir()
    kept.write_text("mine", encoding="utf-8")
    assert not _unnamed(run(command, path, "--out", "answer"), f"answer/{name} already exists", "--force")
    assert kept.read_text(encoding="utf-8") == "mine"
    assert list(kept.parent.iterdir()) == [kept]


def test_new_not_overwritten(run: Callable[..., Ran], tmp_path: Path) -> None:
    """A job file is not overwritten by a new one, unless it is asked for."""
    path = tmp_path / "job.toml"
    path.write_text("mine", encoding="utf-8")
    assert not _unnamed(run("new", path), "job.toml already exists", "--force")
    assert path.read_text(encoding="utf-8") == "mine"
    assert run("new", path, "--force").code == 0
    assert path.read_text(encoding="utf-8").startswith("# A job for ellwand")


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["cut", "job.toml"], "No such command 'cut'"),
        (["buy"], "Missing argument 'JOB'"),
        (["buy", "job.toml", "--second", "3"], "No such option: --second"),
        (["buy", "job.toml", "--seconds", "soon"], "--seconds"),
        (["buy", "job.toml", "--seconds", "nan"], "--seconds"),
        (["buy", "job.toml", "--seconds", "-1"], "--seconds"),
        (["lay", "job.toml", "--workers", "0"], "--workers"),
        (["lay", "job.toml", "--seed", "x"], "--seed"),
        (["lay", "job.toml", "--seed", "9" * 5000], "--seed"),
        (["buy", "job.toml", "--seed", "9" * 400], "--seed"),
        (["lay", "job.toml", "--effort", "9" * 400], "--effort"),
        (["chart", "job.toml", "--effort", "9" * 400], "--effort"),
        (["chart", "job.toml", "--workers", "9" * 60_000], "--workers"),
        (["draft", "9" * 60_000], "cannot read 999"),
        (["draft", "\x1b[31m\x07.toml"], "cannot read .toml"),
    ],
)
def test_usage(run: Callable[..., Ran], arguments: list[str], named: str) -> None:
    """A command that is written wrongly ends with code 2, names what is wrong, and prints nothing on stdout."""
    said = run(*arguments)
    assert (said.code, said.out) == (2, "")
    assert named in said.err
    assert said.err.startswith("ellwand: ") and said.err.count("\n") == 1 and len(said.err) <= 301


def _unnamed(said: Any, *named: str) -> list[Any]:
    """Of the words that the one line of a refusal must name, those that it does not."""
    assert (said.code, said.out) == (2, "")
    assert said.err.startswith("ellwand: ")
    assert said.err.count("\n") == 1
    assert len(said.err) <= 301
    return [(words, said.err) for words in named if words not in said.err]
