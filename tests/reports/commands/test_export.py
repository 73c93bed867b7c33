"""The command `export`."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest
import shapely
from ezdxf import filemanagement

from pieces.exchange.graded.rule_table import read_rule_table
from pieces.exchange.graded.sized import sized_outlines
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.plain import from_plain
from pieces.exchange.read.reader import import_pieces
from pieces.units import Units, speaking
from reports.ask.job import read_job
from reports.asking.options import Notching
from reports.errors import JobError
from reports.sizes.by_rules import grade_sizes
from tests.make.model import MODEL, with_fabrics
from tests.pieces.exchange.test_sized import nest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

QUICK = ("--effort", 0)


def names(folder: Path) -> list[str]:
    """The files in a folder."""
    return sorted(path.name for path in folder.iterdir())


def test_both_as_dxf(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Without more it writes the pieces and every cloth's marker as DXF, in a folder named after the job."""
    job_file(MODEL)
    done = run("export", "job.toml", *QUICK)
    assert done.code == 0
    assert names(tmp_path / "job-export") == ["marker-1-check.pdf", "marker-1.dxf", "pieces-check.pdf", "pieces.dxf"]
    assert not filemanagement.readfile(tmp_path / "job-export" / "marker-1.dxf").audit().errors


def test_pieces_alone_need_no_cloth(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Pieces are written in every form asked, each once, and the JSON is the draft's own."""
    job_file(with_fabrics())
    forms = ("--as", "json", "--as", "csv", "--as", "svg", "--as", "json")
    done = run("export", "job.toml", "--what", "pieces", *forms, "--out", "out", "--json")
    assert [name.rpartition("/")[2] for name in json.loads(done.out)["files"]] == [
        "pieces.json",
        "pieces.csv",
        "pieces.svg",
        "pieces.pieces.toml",
        "pieces-check.pdf",
    ]
    assert names(tmp_path / "out") == [
        "pieces-check.pdf",
        "pieces.csv",
        "pieces.json",
        "pieces.pieces.toml",
        "pieces.svg",
    ]
    assert len(from_plain(json.loads((tmp_path / "out" / "pieces.json").read_text()))) > 3


def test_graded(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """With --sizes there are one size as DXF, the rule table and the check sheet; what does not go with it is said."""
    job_file(MODEL)
    done = run("export", "job.toml", "--sizes", "women-letters", "--sample", "L", "--out", "out")
    assert (done.code, "drawn in L" in done.out) == (0, True), done.err
    assert names(tmp_path / "out") == ["pieces-check.pdf", "pieces.dxf", "pieces.rul"]
    for wrong, said in (
        (("--sample", "M"), "name the table"),
        (("--sizes", "men", "--what", "markers"), "for pieces"),
        (("--sizes", "men", "--as", "svg"), "for DXF"),
        (("--sizes", "women-letters", "--sample", "Q"), "the sizes are XS"),
    ):
        refused = run("export", "job.toml", *wrong, "--out", "other")
        assert (refused.code, refused.err.count("\n")) == (2, 1) and said in refused.err
        assert not (tmp_path / "other").exists()


def test_imported_pieces_graded(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Sizes drawn over one another, made into grade rules and exported: by DXF and rule table they are as drawn."""
    nest(tmp_path / "coat.svg", (200, 212, 224))
    assert run("import", "coat.svg", "--size", "M", "--grade", "--out", "coat").code == 0
    job_file('garment = "imported"\npieces_file = "coat/pieces.json"\nunits = "cm"\n')
    done = run("export", "job.toml", "--sizes", "coat/grading.toml", "--out", "out")
    assert (done.code, "Graded: S, M, L; drawn in M" in done.out) == (0, True), done.err
    blocks = filemanagement.readfile(tmp_path / "out" / "pieces.dxf").blocks
    (outlines,) = sized_outlines(blocks, read_rule_table(tmp_path / "out" / "pieces.rul")).values()
    for size, outline in outlines.items():
        (drawn,) = import_pieces(tmp_path / "coat.svg", ReadingChoices(size=size)).pieces
        apart = shapely.hausdorff_distance(shapely.LinearRing(outline), shapely.LinearRing(drawn.cut_line), 0.02)
        assert apart < 0.2, size
    refused = run("export", "job.toml", "--sizes", "coat/none.toml", "--out", "other")
    assert (refused.code, refused.err.count("\n")) == (2, 1) and "no such file" in refused.err


def test_a_size_that_cannot_be_made_is_told(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path
) -> None:
    """Rules by which the smallest size has no width: it is left out with the reason, the others are there."""
    square = '{"unit": "mm", "pieces": {"flap": [[0, 0], [200, 0], [200, 60], [0, 60]]}}'
    (tmp_path / "flap.json").write_text(square)
    assert run("import", "flap.json", "--out", "flap").code == 0
    entry = '[[point]]\npiece = "flap"\nat = ["{0} mm", "{1} mm"]\nalong = "0 mm"\nacross = "{2} mm"\n'
    rules = "".join(entry.format(x, y, 40 if y else 0) for x, y in ((0, 0), (200, 0), (200, 60), (0, 60)))
    (tmp_path / "rules.toml").write_text(f'sizes = ["1", "2", "3", "4"]\nbase = "3"\n{rules}')
    job = job_file('garment = "imported"\npieces_file = "flap/pieces.json"\nunits = "cm"\n')
    found = grade_sizes(read_job(job), tmp_path / "rules.toml")
    assert (list(found.drafted), list(found.refused), found.base) == (["2", "3", "4"], ["1"], "3")
    done = run("export", "job.toml", "--sizes", "rules.toml", "--out", "out")
    assert (done.code, "size 1 is left out" in done.out) == (0, True), done.err


def test_cloth_that_will_not_do_is_named(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path
) -> None:
    """Markers alone: of two cloths the one too narrow is named, and has no file."""
    job_file(with_fabrics('name = "ribbon"\nwidth = "6 in"', 'name = "wide"\nwidth = "60 in"'))
    done = run("export", "job.toml", "--what", "markers", "--as", "csv", "--as", "json", "--out", "out", *QUICK)
    assert done.code == 0
    assert "ribbon will not do" in done.out
    assert names(tmp_path / "out") == ["marker-2.csv", "marker-2.json"]


def test_nothing_is_overwritten_unasked(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path
) -> None:
    """A file that is there stops it before any work, with one line and code 2; --force overwrites."""
    job_file(MODEL)
    there = tmp_path / "out" / "pieces.svg"
    there.parent.mkdir()
    there.write_text("mine")
    arguments = ("export", "job.toml", "--what", "pieces", "--as", "svg", "--out", "out")
    done = run(*arguments)
    assert (done.code, there.read_text(), done.err.count("\n")) == (2, "mine", 1)
    assert run(*arguments, "--force").code == 0
    assert there.read_text() != "mine"


@pytest.mark.parametrize("wrong", [("--as", "pdf"), ("--what", "cloth")])
def test_unknown_words(
    run: Callable[..., Ran], job_file: Callable[[str], Path], wrong: tuple[str, str], tmp_path: Path
) -> None:
    """A form or a thing that there is not is a mistake, and nothing is written."""
    job_file(MODEL)
    assert run("export", "job.toml", *wrong, "--out", "out").code == 2
    assert not (tmp_path / "out").exists()


def test_depths_that_are_named_will_do() -> None:
    """What a refusal names as the least and the most is accepted; a little more is not."""
    with speaking(Units.INCHES), pytest.raises(JobError) as refused:
        Notching("slit", "7/8 in").cut()
    least, most = re.findall(r"\d+/\d+ in", str(refused.value))[-2:]
    assert 1 <= Notching("slit", least).cut().depth < Notching("v", most).cut().depth <= 20
