"""Pieces in one size with rules for the others, read back by ezdxf and by our reader of rule tables."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from ezdxf import filemanagement
from pytest import TempPathFactory

from pieces import GARMENTS, PieceSet
from pieces.body.sizes import find_table
from pieces.errors import FormatError
from pieces.exchange.graded.rule_table import read_rule_table, rule_of
from pieces.exchange.graded.sized import graded_outline, sized_outlines
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.grading import read_grading
from pieces.exchange.own.sidecar import Sidecar
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sized import read_sizes
from pieces.length import mm
from pieces.piece.notched import cut_notches
from pieces.piece.true_lines import cut_curves, refined
from reports.errors import JobError
from reports.export.files import graded_files, write_graded
from reports.export.grades import graded_set, size_name
from reports.export.way import FileWay
from tests.make.nests import Twist, nest_of

if TYPE_CHECKING:
    from pathlib import Path

NEAR = 0.2
"""How near a graded cut line is to the one drafted in that size, mm."""

FACET = 0.19
"""How far the chords of a drafted curve are from the curve, mm."""

SIZES = ("S", "M", "XL")


def drafted(garment: str, sizes: tuple[str, ...] = SIZES, **style: Any) -> dict[str, PieceSet]:
    """A garment in sizes of a table."""
    table, made = find_table("women-letters"), GARMENTS[garment]
    return {size: made.draft(table.body(size), made.style(**style)) for size in sizes}


@pytest.fixture(scope="module")
def sizes() -> dict[str, PieceSet]:
    """A T-shirt, with curves, a hollow neckline, notches and rib, in three sizes."""
    return drafted("t-shirt", length=mm(650))


@pytest.fixture(scope="module", params=["polylines", "splines"])
def files(request: pytest.FixtureRequest, sizes: dict[str, PieceSet], tmp_path_factory: TempPathFactory) -> list[Path]:
    """Its DXF and rule table."""
    paths = graded_files(tmp_path_factory.mktemp(request.param))
    write_graded(graded_set(sizes, "M", "pieces"), paths, FileWay(curves=request.param))
    return paths


def test_every_size_comes_back(files: list[Path], sizes: dict[str, PieceSet]) -> None:
    """By the rules, every piece in every size is, by shapely, what is drafted in that size."""
    document = filemanagement.readfile(files[0])
    assert not document.audit().errors
    found = sized_outlines(document.blocks, read_rule_table(files[1]))
    assert list(found) == [piece.name for piece in sizes["M"]]
    for name, outlines in found.items():
        for size, outline in outlines.items():
            piece = sizes[size][name]
            wanted, ring = shapely.LinearRing(refined(cut_curves(piece), 0.01)), shapely.LinearRing(outline)
            assert shapely.Polygon(ring).is_valid
            assert shapely.hausdorff_distance(wanted, ring, 0.05) < NEAR, (name, size)
            area = shapely.Polygon(piece.cut_line).area
            assert shapely.Polygon(ring).area == pytest.approx(area, rel=1e-3)


def test_marks_have_rules(files: list[Path], sizes: dict[str, PieceSet]) -> None:
    """Notches and grainlines move to where they are drafted; every turn and curve point has a rule."""
    document, table = filemanagement.readfile(files[0]), read_rule_table(files[1])
    for piece in sizes["M"]:
        block = document.blocks[piece.name.replace(" ", "_")]
        marks = [(t.dxf.layer, np.array(t.dxf.insert.vec2), rule_of(t.dxf.text)) for t in block.query("TEXT")]
        ruled = [(layer, at, number) for layer, at, number in marks if number is not None]
        for layer in ("2", "3"):
            points = [np.array(p.dxf.location.vec2) for p in block.query("POINT") if p.dxf.layer == layer]
            assert all(min(np.hypot(*(at - p)) for name, at, _ in ruled if name == layer) < 1e-6 for p in points)
        large = sizes["XL"][piece.name]
        for layer, wanted in (
            ("14", [n.point for n in large.notches]),
            ("4", [n.edge for n in cut_notches(large, refined(cut_curves(large), 0.002))]),
            ("7", large.grain),
        ):
            moved = [at + table.move(number, "XL") for name, at, number in ruled if name == layer]
            assert len(moved) == len(wanted)
            assert all(min(np.hypot(*(at - p)) for p in moved) < 0.01 for at in wanted)


def test_the_structure_of_the_table(files: list[Path]) -> None:
    """Told apart at colons by Python's csv, the lines are keys, rules in order, and two numbers for each size."""
    lines = files[1].read_text(encoding="ascii").splitlines()
    rows = list(csv.reader(lines, delimiter=":", skipinitialspace=True))
    head = {row[0]: row[1] for row in rows[1:7]}
    assert head == {
        "AUTHOR": "ellwand", "UNITS": "METRIC", "GRADE RULE TABLE": "pieces", "NUMBER OF SIZES": "3",
        "SIZE LIST": "S M XL", "SAMPLE SIZE": "M",
    }  # fmt: skip
    assert [row for row in rows[7:-1:2]] == [["RULE", f"DELTA {n}"] for n in range(1, len(rows[7:-1]) // 2 + 1)]
    values = np.array([np.array(row[0].replace(",", " ").split(), dtype=float) for row in rows[8:-1:2]])
    assert values.shape[1] == 6
    assert not values[:, 2:4].any()  # nothing moves in the sample size
    assert rows[-1] == ["END"]


def test_read_as_pieces_it_is_the_sample_size(files: list[Path], sizes: dict[str, PieceSet]) -> None:
    """Our reader of pieces takes the numbers of rules for no words: names, labels and notches are those drafted."""
    found = import_pieces(files[0])
    for back, piece in zip(found.pieces, sizes["M"], strict=True):
        assert (back.name, back.label, back.cut) == (piece.name, piece.label, piece.cut)
        assert sorted(n.name for n in back.notches) == sorted(n.name for n in piece.notches)


def test_what_is_refused(sizes: dict[str, PieceSet], files: list[Path]) -> None:
    """A size that is not there; sizes whose pieces have other edges or notches; a table that is another file's."""
    with pytest.raises(JobError, match="--sample 'Q': the sizes are S, M, XL"):
        graded_set(sizes, "Q", "pieces")
    skirts = drafted("straight-skirt", ("M", "XL"))
    assert graded_set(skirts, "M", "pieces").refused == {"XL": "its piece 'back' has other edges"}
    with pytest.raises(FormatError, match="no point of the outline has a rule"):
        graded_outline(np.array([(0.0, 0), (9, 0), (9, 9)]), [((40.0, 40.0), 1)], read_rule_table(files[1]), "M")


def test_names_of_sizes() -> None:
    """A size is one plain word in the table, whatever it is called."""
    assert [size_name(size) for size in ("M", "Größe M", "12 1/2", "裁")] == ["M", "Gr_e_M", "12_1/2", "size"]


@pytest.mark.parametrize("twist", ["begun", "turned"])
def test_imported_sizes_that_begin_elsewhere(tmp_path: Path, twist: Twist) -> None:
    """Outlines of one edge that begins on a curve, with other corners in each size: no corner is cut off in any."""
    made = nest_of(tmp_path / "a.svg", 27, twist)
    base = made.sizes[len(made.sizes) // 2] or str(len(made.sizes) // 2 + 1)
    asked = ReadingChoices(size=base)
    found = import_pieces(tmp_path / "a.svg", asked)
    (tmp_path / "rules.toml").write_text(read_sizes(tmp_path / "a.svg", asked, Sidecar("told"), found).text("drawn"))
    grading = read_grading(tmp_path / "rules.toml")
    sized = {size: grading.sized(found.pieces, size) for size in grading.sizes}
    paths = graded_files(tmp_path)
    write_graded(graded_set(sized, base, "pieces"), paths)
    outlines = sized_outlines(filemanagement.readfile(paths[0]).blocks, read_rule_table(paths[1]))
    for name, of_sizes in outlines.items():
        for size, outline in zip(grading.sizes, of_sizes.values(), strict=True):
            wanted = shapely.LinearRing(sized[size][name].cut_line)
            assert shapely.hausdorff_distance(wanted, shapely.LinearRing(outline), 0.01) < 0.3, (name, size)


@pytest.mark.parametrize("size", SIZES)
def test_our_own_export_comes_back_in_each_size(
    files: list[Path], sizes: dict[str, PieceSet], size: str, tmp_path: Path
) -> None:
    """A graded DXF with its rule table beside it is read in each size as it was drafted; what is read is said."""
    found = import_pieces(files[0], ReadingChoices(size=size))
    assert (found.report.sizes, found.report.size) == (SIZES, size)
    assert any("graded by the rule table beside it in S, M, XL" in said for said in found.report.remarks)
    assert not [said for said in found.report.guesses if "have no rule" in said]
    drafts = {piece.name: piece for piece in sizes[size]}
    assert {piece.name for piece in found.pieces} == set(drafts)
    for piece in found.pieces:
        drafted_one = drafts[piece.name]
        wanted = np.ptp(drafted_one.cut_line, axis=0)
        assert np.ptp(piece.cut_line, axis=0) == pytest.approx(wanted, abs=2 * NEAR)
        assert [notch.name for notch in piece.notches] == [notch.name for notch in drafted_one.notches]
        ring = shapely.LinearRing(drafted_one.cut_line)
        assert np.max(shapely.distance(shapely.points(piece.cut_line), ring)) < NEAR + FACET


def test_rules_come_back_as_a_file_of_rules(files: list[Path], tmp_path: Path) -> None:
    """The sizes of the table make grade rules as drawn sizes do; a table of another file is named and not read."""
    asked, even = ReadingChoices(), graded_files(tmp_path)
    write_graded(graded_set(drafted("t-shirt", ("S", "M", "L"), length=mm(650)), "M", "pieces"), even)
    found = import_pieces(even[0], asked)
    sized = read_sizes(even[0], asked, Sidecar("pieces.toml"), found)
    assert sized.sizes == ("S", "M", "L") and {piece.name: bool(piece.rules) for piece in sized.pieces}["front"]
    silent = [piece for piece in sized.pieces if not piece.rules and not piece.why]
    assert [(piece.name, len({*piece.measured.values()})) for piece in silent] == [
        ("neckband", 1)
    ]  # alike in all sizes
    (tmp_path / "pieces.dxf").write_bytes(files[0].read_bytes())
    (tmp_path / "pieces.rul").write_text(files[1].read_text().replace("SAMPLE SIZE: M", "SAMPLE SIZE: S"))
    other = import_pieces(tmp_path / "pieces.dxf")
    assert any("'pieces.rul' beside it is not read" in said and "sample size" in said for said in other.report.remarks)
    with pytest.raises(FormatError, match="has no size 'XXL'"):
        import_pieces(files[0], ReadingChoices(size="XXL"))
