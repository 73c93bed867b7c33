"""Pieces to JSON and back."""

from __future__ import annotations

import copy
import json
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, Piece, PieceError, PieceSet
from pieces.errors import DraftError, FormatError
from pieces.exchange.own.plain import from_plain, plain_text, to_plain
from pieces.garments import JacketStyle
from pieces.length import inches
from tests.make.lengths import in_mm

INCH = 25.4


def same(one: PieceSet, other: PieceSet) -> bool:
    """Whether two sets are equal to the last bit."""
    if (one.garment, one.seams, dict(one.measures), one.notes) != (
        other.garment, other.seams, dict(other.measures), other.notes,
    ):  # fmt: skip
        return False
    plain = [f.name for f in fields(Piece) if f.name != "edges"]
    return len(one) == len(other) and all(
        [getattr(a, name) for name in plain] == [getattr(b, name) for name in plain]
        and [(e.name, e.kind, e.allowance, e.points.tolist()) for e in a.edges]
        == [(e.name, e.kind, e.allowance, e.points.tolist()) for e in b.edges]
        and a.cut_line.tolist() == b.cut_line.tolist()
        for a, b in zip(one, other, strict=True)
    )


@settings(max_examples=15)
@given(
    length=st.floats(22 * INCH, 36 * INCH),
    seam=st.floats(5, 16),
    closure=st.sampled_from(["buttons", "zip", "none"]),
    facing=st.sampled_from(["separate", "grown-on", "none"]),
    back=st.sampled_from(["fold", "seam"]),
)
def test_round_trip(body: Body, **options: Any) -> None:
    """Through JSON text and back, every number is the same to the last bit."""
    try:
        pieces = GARMENTS["rib-jacket"].draft(body, JacketStyle(sleeve=inches(22), **in_mm(options)))
    except DraftError:
        return
    assert same(from_plain(json.loads(json.dumps(to_plain(pieces), allow_nan=False))), pieces)


def test_model_jacket_round_trip(jacket: PieceSet) -> None:
    """The model jacket comes back the same, and passes its checks."""
    assert plain_text(jacket) == json.dumps(to_plain(jacket))
    back = from_plain(json.loads(json.dumps(to_plain(jacket))))
    back.check()
    assert same(back, jacket)


def test_no_other_kind_of_error_when_something_is_missing(jacket: PieceSet) -> None:
    """Without any one of its keys, a file is refused as no file of pieces, or as a piece that cannot be cut."""
    whole = json.loads(json.dumps(to_plain(jacket)))
    ignored = {"unit", "cut_line", "sew_line", "on_fold"}
    for where in ([], ["pieces", 0], ["pieces", 0, "edges", 0], ["pieces", 0, "notches", 0], ["seams", 0]):
        keys = set(_at(whole, where)) - ignored
        assert keys
        for key in keys:
            broken = copy.deepcopy(whole)
            del _at(broken, where)[key]
            with pytest.raises(FormatError, match=key):
                from_plain(broken)


def _at(data: Any, where: list[Any]) -> Any:
    for step in where:
        data = data[step]
    return data


HUGE = 10**400
PATHS = [
    ["pieces"], ["pieces", 0], ["pieces", 0, "edges"], ["pieces", 0, "edges", 0, "points"],
    ["pieces", 0, "edges", 0, "points", 0], ["pieces", 0, "edges", 0, "points", 0, 0],
    ["pieces", 0, "edges", 0, "kind"], ["pieces", 0, "edges", 0, "allowance"], ["pieces", 0, "cut"],
    ["pieces", 0, "material"], ["pieces", 0, "grain"],
    ["pieces", 0, "grain", 0], ["seams"], ["seams", 0], ["seams", 0, "first"], ["seams", 0, "first", 0],
    ["seams", 0, "first", 0, 0], ["measures"], ["measures", "armhole_seam"], ["schema"],
]  # fmt: skip
NAN, INFINITE = float("nan"), float("inf")
HOSTILE: list[Any] = [None, "x", {}, [], [[]], {"a": 1}, NAN, INFINITE, 1e300, -1e300, HUGE, "１", [1, 2, 3]]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: ".".join(map(str, path)))
def test_hostile_values(jacket: PieceSet, path: list[Any]) -> None:
    """Nonsense, NaN, infinity or a number out of all proportion anywhere: our own error, or sound pieces."""
    whole = json.loads(json.dumps(to_plain(jacket)))
    refused = 0
    for value in HOSTILE:
        broken = copy.deepcopy(whole)
        _at(broken, path[:-1])[path[-1]] = value
        try:
            read = from_plain(broken)
        except PieceError:
            refused += 1
            continue
        json.dumps(to_plain(read), allow_nan=False)
    assert refused >= 7


@pytest.mark.parametrize("data", [None, 5, "pieces", [], {}, {"schema": 3}, {"schema": None}, {"schema": 1}])
def test_no_file_of_pieces(data: Any) -> None:
    """What is no file of pieces is refused as such."""
    with pytest.raises(FormatError):
        from_plain(data)


json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["name", "edges", "points"]), inner),
    max_leaves=8,
)


@given(
    st.fixed_dictionaries(
        {"schema": st.just(1), "garment": json_values, "pieces": json_values, "seams": json_values}
        | {"measures": json_values, "notes": json_values}
    )
)
def test_any_json_is_read_or_refused(data: dict[str, Any]) -> None:
    """Whatever JSON holds, the answer is pieces, or an error of ours."""
    try:
        assert isinstance(from_plain(data), PieceSet)
    except PieceError as error:
        assert str(error)


def test_seam_of_an_unknown_edge(jacket: PieceSet) -> None:
    """A seam along an edge that is not there is refused, and the edge named."""
    broken = json.loads(json.dumps(to_plain(jacket)))
    broken["seams"][0]["first"][0][1] = "hemline"
    with pytest.raises(FormatError, match="hemline"):
        from_plain(broken)
