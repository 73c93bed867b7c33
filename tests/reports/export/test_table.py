"""CSV of pieces and markers, and words made safe, by the standard library's reader and ezdxf."""

from __future__ import annotations

import csv
import io
import re
from itertools import groupby
from typing import TYPE_CHECKING, Any

import numpy as np
from ezdxf.tools.text import caret_decode
from hypothesis import given
from hypothesis import strategies as st

from reports.export.table import marker_csv, pieces_csv
from reports.export.words import csv_text, dxf_name, dxf_text, one_line, unique
from tests.make.exported import HOSTILE, farther, hostile_set, laid

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.piece.pieces import PieceSet


def read(text: str) -> list[dict[str, str]]:
    """The rows of a table below its heads, as dicts."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


def outlines(rows: list[dict[str, str]], *keys: str) -> Iterator[tuple[Any, ...]]:
    """Corners by the columns that name an outline, in order."""
    for key, own in groupby(rows, key=lambda row: tuple(row[k] for k in keys)):
        yield key, np.array([(float(row["x (mm)"]), float(row["y (mm)"])) for row in own])


def test_pieces(jacket: PieceSet) -> None:
    """Every piece's cut line comes back to the last digit."""
    back = {name: corners for (name,), corners in outlines(read(pieces_csv(jacket)), "piece")}
    assert list(back) == [piece.name for piece in jacket]
    assert all(farther(back[piece.name], piece.cut_line) == 0 for piece in jacket)


def test_marker(jacket: PieceSet) -> None:
    """Every placement comes back in its place, with its turn and whether it was turned over."""
    marker = laid(jacket, "open")
    back = list(outlines(read(marker_csv(marker)), "piece", "copy", "turn", "mirrored"))
    assert len(back) == len(marker.placements)
    for (key, corners), (_, item, variant, outline) in zip(back, marker.outlines(), strict=True):
        assert (key[0], float(key[2]), key[3]) == (item.piece.name, variant.turn, str(variant.mirrored))
        assert farther(corners, outline) == 0


def test_hostile_names() -> None:
    """A name that begins like a formula begins with an apostrophe; numbers below nought stay numbers."""
    (name,) = {row["piece"] for row in read(pieces_csv(hostile_set())) if "SUM" in row["piece"]}
    assert name == "'" + one_line(HOSTILE)
    assert csv_text([("-1", -1.5, "a,b")]) == '\'-1,-1.5,"a,b"\n'


@given(st.text() | st.text("=+-@＝ \t\ra1"))
def test_no_text_is_a_formula(text: str) -> None:
    """No text cell begins as a formula does, after blanks or without (OWASP's list of signs, from memory)."""
    ((cell, _),) = csv.reader(io.StringIO(csv_text([(text, "-")]), newline=""))
    assert not cell.lstrip().startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"))
    assert cell.lstrip("'") == one_line(text).lstrip("'")


@given(st.text() | st.text("%^\\UM+ aJ"))
def test_dxf_says_what_was_meant(text: str) -> None:
    """Carets decoded as DXF does, by ezdxf, a text says the words meant, but for a blank between two percent signs.

    A sign beyond the first 65,536 has no number of four digits, and stands as the sign for such.
    """
    told = dxf_text(text)
    assert "%%" not in told
    assert not re.search(r"\\[UM]\+", told)
    meant = re.sub(r"\\(?=[UM]\+)", "/", re.sub("[^\0-\uffff]", "\ufffd", one_line(text)))
    assert caret_decode(told).replace(" ", "") == meant.replace(" ", "")


@given(st.lists(st.text(), max_size=8))
def test_names_of_blocks(names: list[Any]) -> None:
    """Every block has a name of its own, of plain letters."""
    told = unique(map(dxf_name, names))
    assert len({name.casefold() for name in told}) == len(names)
    assert all(name.isascii() and name.replace("-", "").replace("_", "").isalnum() for name in told)
