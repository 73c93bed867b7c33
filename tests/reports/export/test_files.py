"""Pieces exported and imported again, by our own readers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from pieces import PieceSet
from pieces.exchange.own.sidecar import read_sidecar
from pieces.exchange.read.reader import import_pieces
from pieces.piece.piece import InnerLine
from reports.export.files import piece_files, write_pieces
from reports.export.words import one_line
from tests.make.exported import HOSTILE, hostile_set, square

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.exchange.imported import Imported

CLOSE = 0.01
"""How near everything must come back, mm."""

NEAR = 0.22
"""How near cut lines must come back that are written as curves, mm: 0.2, a fit of 0.01, and the reader's own chords."""


def there_and_back(pieces: PieceSet, form: str, folder: Path) -> Imported:
    """The pieces as they come back, with the report."""
    path = folder / f"pieces.{form}"
    write_pieces(pieces, [path])
    return import_pieces(path)


def same_points(one: NDArray[Any], other: NDArray[Any] | tuple[Any, ...]) -> bool:
    """Whether two sets of points are the same within the tolerance, whatever their order."""
    return len(one) == len(other) and all(np.hypot(*(np.asarray(other) - at).T).min() < CLOSE for at in np.asarray(one))


@pytest.mark.parametrize("form", ["dxf", "svg", "json", "csv"])
def test_geometry(jacket: PieceSet, form: str, tmp_path: Path) -> None:
    """Every cut line comes back, by shapely, as near to the drafted one as a draft's chords lie to its curves, 0.2 mm.

    Files without curves bring it back corner by corner within 0.01 mm. Nothing is mended.
    """
    found = there_and_back(jacket, form, tmp_path)
    assert not found.report.repairs
    assert not found.report.left_out
    assert [piece.name for piece in found.pieces] == [piece.name for piece in jacket]
    for back, piece in zip(found.pieces, jacket, strict=True):
        cut = back.cut_line + shift(back, piece)
        if form in ("json", "csv"):
            assert same_points(cut, piece.cut_line)
        apart = shapely.hausdorff_distance(shapely.LinearRing(cut), shapely.LinearRing(piece.cut_line), 0.01)
        assert apart < (CLOSE if form in ("json", "csv") else NEAR)


def shift(back: Any, piece: Any) -> Any:
    """What brings a piece that came back into its own frame."""
    if len(back.cut_line) == len(piece.cut_line) or not piece.notches:
        return piece.cut_line.min(axis=0) - back.cut_line.min(axis=0)
    return np.mean(piece.grain, axis=0) - np.mean(back.grain, axis=0)  # the box of a curve is larger than of its chords


@pytest.mark.parametrize("form", ["dxf", "svg", "json"])
def test_marks(jacket: PieceSet, form: str, tmp_path: Path) -> None:
    """Grainlines, fold edges and notches with their names come back where they were; of rib bands the grainline alone.

    The reader drafts rib bands anew, as rectangles with notches of its own.
    """
    pieces = [*jacket, square("patch")]
    found = there_and_back(PieceSet("set", tuple(pieces)), form, tmp_path).pieces
    for piece in pieces:
        back = found[piece.name]
        by = shift(back, piece)
        assert same_points(np.array(back.grain) + by, np.array(piece.grain))
        assert back.on_fold == piece.on_fold
        assert same_points(np.array(back.drill_points).reshape(-1, 2) + by, np.array(piece.drill_points).reshape(-1, 2))
        if piece.material == "rib":
            continue
        assert sorted(notch.name for notch in back.notches) == sorted(notch.name for notch in piece.notches)
        for notch in piece.notches:
            apart = [np.hypot(*(np.array(n.point) + by - notch.point)) for n in back.notches if n.name == notch.name]
            assert min(apart) < CLOSE


@pytest.mark.parametrize("form", ["dxf", "svg", "json", "csv"])
def test_counts(jacket: PieceSet, form: Any, tmp_path: Path) -> None:
    """How many to cut, as left and right or on the fold, of what, and how strictly on the grain, come back.

    Lines alone do not say it: SVG and CSV come with the small file that our importer reads.
    """
    pieces = PieceSet("set", (*jacket, square("patch", cut=3, lies="free", tilt=2.0, label="pocket")))
    paths = piece_files(tmp_path, [form])
    write_pieces(pieces, paths)
    beside = [path for path in paths if path.suffix == ".toml"]
    assert bool(beside) == (form in ("svg", "csv"))
    found = import_pieces(paths[0], sidecar=read_sidecar(beside[0]) if beside else None).pieces
    for back, piece in zip(found, pieces, strict=True):
        for key in ("name", "cut", "mirrored_pair", "material", "on_fold", "label"):
            assert getattr(back, key) == getattr(piece, key), key
        assert form == "dxf" or (back.lies, back.tilt) == (piece.lies, piece.tilt) or piece.material == "rib"
        assert shapely.Polygon(back.unfolded).area == pytest.approx(shapely.Polygon(piece.unfolded).area, rel=3e-4)


@pytest.mark.parametrize("form", ["dxf", "svg", "json"])
def test_lines_within(form: str, tmp_path: Path) -> None:
    """Lines drawn within a piece, cut out of it and sewn on it come back, each as what it is."""
    lines = (
        InnerLine("line", ((10.0, 10.0), (10.0, 60.0), (30.0, 60.0))),
        InnerLine("cutout", ((40.0, 60.0), (80.0, 60.0), (80.0, 90.0), (40.0, 60.0))),
        InnerLine("sew", ((15.0, 20.0), (85.0, 20.0))),
    )
    pieces = PieceSet("set", (square("patch", inner=lines),))
    (back,) = there_and_back(pieces, form, tmp_path).pieces
    by = shift(back, pieces["patch"])
    for line in lines:
        same = [np.array(other.points) + by for other in back.inner if other.kind == line.kind]
        assert any(same_points(each, line.points) for each in same), line.kind


@pytest.mark.parametrize("form", ["dxf", "svg", "csv"])
def test_hostile_names(form: Any, tmp_path: Path) -> None:
    """Whatever a piece is called, all pieces come back, under names that can be shown and that the small file knows."""
    paths = piece_files(tmp_path, [form])
    write_pieces(hostile_set(), paths)
    beside = [path for path in paths if path.suffix == ".toml"]
    found = import_pieces(paths[0], sidecar=read_sidecar(beside[0]) if beside else None).pieces
    assert len(found) == 3
    first = found.pieces[0].name
    assert first.isprintable()
    assert first.startswith(one_line(HOSTILE)[:14])
