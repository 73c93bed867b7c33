"""A corpus of files by general programs, with the truth of each: none is silently wrong.

Vector editors, an office suite, CAD, GIS, plotting programs and libraries of Python and JavaScript, several of them in
several versions, drew the known pieces of ``tests.make.corpus.known``. The files are data: ``tests.make.corpus`` makes
them with programs that the tests need not have. The truth is the known pieces, never what our reader made of a file.
"""

from __future__ import annotations

import json
import tarfile
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.make.corpus.judge import areas, judge

FOLDER = Path(__file__).parent / "corpus"

TRUTHS: list[dict[str, Any]] = json.loads((FOLDER / "truths.json").read_text(encoding="utf-8"))


@cache
def files() -> dict[str, bytes]:
    """All files of the archive, by their names."""
    found = {}
    with tarfile.open(FOLDER / "files.tar.xz") as archive:
        for member in archive:
            data = archive.extractfile(member)
            assert data is not None
            found[member.name] = data.read()
    return found


@pytest.mark.parametrize("row", TRUTHS, ids=[row["file"] for row in TRUTHS])
def test_file_is_read_as_what_was_drawn(row: dict[str, Any], tmp_path: Path) -> None:
    """Each piece has the shape, the marks and the name that were drawn; or one line says what is not as it was."""
    path = tmp_path / row["file"]
    path.write_bytes(files()[row["file"]])
    assert judge(path, row) == []


def test_known_pieces_are_measured_twice() -> None:
    """The area of each by the integral along its lines is what shapely measures of its many points, to 0.01 %."""
    for name, (exact, measured) in areas().items():
        assert measured == pytest.approx(exact, rel=1e-4), name


def test_corpus_is_whole() -> None:
    """150 files or more, by twenty programs and more; each file has its truth, and each truth its file."""
    assert len(TRUTHS) >= 150
    assert sorted(files()) == sorted(row["file"] for row in TRUTHS)
    assert len({row["program"].split()[0] for row in TRUTHS}) >= 20
