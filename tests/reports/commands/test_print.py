"""The command `print`: files, JSON, layers, and mistakes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from pypdf import PdfReader

from pieces import Piece, PieceSet
from pieces.exchange.own.plain import to_plain
from pieces.piece.outline import Edge
from tests.make.model import MODEL, edited, with_fabrics
from tests.pieces.exchange.test_sized import nest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran


def test_pieces_by_default(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """A job in inches is printed on letter paper into JOB-print; nothing is overwritten unasked."""
    job = job_file(MODEL)
    ran = run("print", job)
    assert (ran.code, ran.err) == (0, "")
    path = tmp_path / "job-print" / "pieces-letter.pdf"
    pages = PdfReader(path).pages
    assert f"{len(pages)} pages of letter" in ran.out and "measure the test squares" in ran.out
    assert {float(page.mediabox.width) for page in pages[1:]} <= {612.0, 792.0}
    again = run("print", job)
    assert again.code == 2 and "already exists" in again.err and "--force" in again.err


def test_markers_as_json(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`--json` is one object that names each file; `--fabric` keeps a cloth's number."""
    job = job_file(
        with_fabrics('name = "twill"\nwidth = "45 in"', 'name = "linen"\nwidth = "60 in"\nspread = "folded"')
    )
    ran = run("print", job, "--what", "markers", "--fabric", 2, "--roll", "cloth", "--json", "--effort", 0)
    assert (ran.code, ran.err) == (0, "") and ran.out.count("\n") == 1
    told = json.loads(ran.out)
    (file,) = told["files"]
    assert (told["what"], file["pages"], file["file"]) == ("markers", 1, "job-print/marker-2-cloth-wide-roll.pdf")
    (page,) = PdfReader(tmp_path / file["file"]).pages
    assert float(page.mediabox.width) == pytest.approx(30 * 72, abs=0.01)
    assert file["page_mm"] == pytest.approx([762, float(page.mediabox.height) * 25.4 / 72], abs=0.01)


def test_sizes(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`--sizes` prints all sizes of a table, a layer each."""
    ran = run("print", job_file(MODEL), "--sizes", "women-letters", "--roll", "36 in", "--out", "there")
    assert (ran.code, ran.err) == (0, "")
    reader = PdfReader(tmp_path / "there" / "sizes-36-in-roll.pdf")
    root: Any = reader.trailer["/Root"]
    names = [str(group.get_object()["/Name"]) for group in root["/OCProperties"]["/OCGs"]]
    assert "size M" in names and "sew line, size M" in names


def test_shrinking_cloth_is_told(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Of cloth that shrinks after cutting, pieces are cut larger than they are printed: the print says so."""
    entry = 'name = "denim"\nwidth = "60 in"\nshrinkage = 3\nwashed = "after"'
    run("print", job_file(with_fabrics(entry)), "--paper", "a3")
    first = PdfReader(tmp_path / "job-print" / "pieces-a3.pdf").pages[0].extract_text()
    assert "denim" in first and "larger" in first


def test_imported_pieces(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Imported pieces are printed as they are; sizes of them need grade rules; absurd ones are refused at once."""
    job = job_file('garment = "imported"\npieces_file = "pieces.json"\nunits = "cm"\n')
    for side, code in ((100.0, 0), (30_000.0, 2), (900_000.0, 2)):
        square = np.array([(0, 0), (side, 0), (side, side), (0, side), (0, 0)])
        pieces = PieceSet("bag", (Piece("panel", (Edge("all", square, 0.0),)),))
        (tmp_path / "pieces.json").write_text(json.dumps(to_plain(pieces)), encoding="utf-8")
        ran = run("print", job, "--force")
        assert ran.code == code and ran.err.count("\n") == (code == 2), ran.err
    assert (tmp_path / "job-print" / "pieces-a4.pdf").is_file()
    ran = run("print", job, "--sizes", "women", "--force")
    assert ran.code == 2 and "imported pieces have the sizes of a file of grade rules" in ran.err


def test_imported_pieces_in_their_sizes(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path
) -> None:
    """Sizes drawn over one another come out one over the other: as many layers, and as long as drawn (pypdf)."""
    nest(tmp_path / "coat.svg", (200, 212, 224))
    assert run("import", "coat.svg", "--size", "M", "--grade", "--out", "coat").code == 0
    job_file('garment = "imported"\npieces_file = "coat/pieces.json"\nunits = "cm"\n')
    done = run("print", "job.toml", "--sizes", "coat/grading.toml", "--roll", "36 in", "--out", "out")
    assert done.code == 0, done.err
    (path,) = (each for each in (tmp_path / "out").glob("sizes-*.pdf") if "check" not in each.name)
    document = PdfReader(path)
    root: Any = document.trailer["/Root"]
    layers = [each.get_object()["/Name"] for each in root["/OCProperties"]["/OCGs"]]
    assert [layer for layer in layers if layer.startswith("size ")] == ["size S", "size M", "size L"]
    assert "grade rules of grading.toml" in document.pages[0].extract_text()


@pytest.mark.parametrize(
    ("text", "arguments", "words"),
    [
        (MODEL, ["--paper", "a9"], ["--paper 'a9'", "letter"]),
        (MODEL, ["--paper", "5 cm x 5 cm"], ["test squares", "larger paper"]),
        (MODEL, ["--paper", "a4", "--roll", "36 in"], ["not both"]),
        (MODEL, ["--roll", "36"], ["--roll '36'", "unit"]),
        (MODEL, ["--roll", "cloth"], ["for markers"]),
        (MODEL, ["--roll", "10 in"], ["wider than 10 in roll", "--paper"]),
        (MODEL, ["--fabric", "1"], ["--what markers"]),
        (MODEL, ["--what", "markers", "--sizes", "women"], ["--what pieces"]),
        (MODEL, ["--what", "markers", "--fabric", "2"], ["--fabric 2", "offers 1 cloth"]),
        (MODEL, ["--sizes", "giants"], ["giants"]),
        (with_fabrics(), ["--what", "markers"], ["offers no cloth"]),
        (edited(('length = "30 in" ', 'length = "1 in" ')), [], ["make the jacket longer"]),
        ("", [], ["is empty"]),
    ],
)
def test_mistakes(
    run: Callable[..., Ran],
    job_file: Callable[[str], Path],
    tmp_path: Path,
    text: str,
    arguments: list[Any],
    words: list[str],
) -> None:
    """A mistake is one line that says what to do, exit code 2, and leaves nothing behind."""
    ran = run("print", job_file(text), *arguments)
    assert ran.code == 2 and ran.out == "" and ran.err.count("\n") == 1
    assert all(word in ran.err for word in words), ran.err
    assert {path.name for path in tmp_path.iterdir()} == {"job.toml"}
