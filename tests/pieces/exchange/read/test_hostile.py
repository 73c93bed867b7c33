"""Whatever a file holds: pieces that can be cut, or one line of ours, in bounded time and memory."""

from __future__ import annotations

import json
import socket
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces.errors import FormatError, PieceError
from pieces.exchange import source
from pieces.exchange.drawing import DrawnLine
from pieces.exchange.imported import ImportReport
from pieces.exchange.mend.joining import join
from pieces.exchange.mend.tidy import tidy
from tests.make.drawings import SQUARE, dxf, read, svg

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace


def corpus(folder: Path) -> dict[str, bytes]:
    """A small sound file of each form."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("A")
        corners = [(0, 0, 0.2), (100, 0, 0), (100, 80, 0)]
        block.add_polyline2d(corners, format="xyb", close=True, dxfattribs={"layer": "1"})
        block.add_text("PIECE NAME: a", dxfattribs={"layer": "1"})
        space.add_blockref("A", (0, 0))
        space.add_arc((0, 0), 5, 0, 90)

    drawn = (
        dxf(folder / "a.dxf", draw, version="R12")
        .read_bytes()
        .replace(b"PIECE NAME", b"UNITS: METRIC\n  1\nPIECE NAME")
    )
    return {
        "dxf": drawn,
        "svg": svg(
            folder / "a.svg", '<path id="a" d="M0 0 C 9 9 50 9 99 0 L 99 80 Z"/><use href="#a" x="9"/>'
        ).read_bytes(),
        "csv": b"piece,x mm,y mm,bulge\na,0,0,\na,100,0,5\na,100,80,\n",
        "json": json.dumps({"unit": "mm", "pieces": {"a": SQUARE}}).encode(),
        "toml": b'units = "cm"\n[[piece]]\nname = "a"\npoints = """\n0, 0\n10, 0 bulge 1\n10, 8\n"""\n',
    }


@pytest.mark.parametrize("kind", ["dxf", "svg", "csv", "json", "toml"])
def test_damaged_files(tmp_path: Path, kind: str) -> None:
    """Cut short anywhere, or with any byte changed, a file is read or refused as a file that cannot be read."""
    whole = corpus(tmp_path)[kind]
    path = tmp_path / f"b.{kind}"
    rng = np.random.default_rng(5)
    outcomes = {True: 0, False: 0}
    for step in range(60):
        data = bytearray(whole)
        if step % 3 == 0:
            data = data[: int(rng.integers(len(data)))]
        elif step % 3 == 1:
            for _ in range(int(rng.integers(1, 6))):
                data[int(rng.integers(len(data)))] = int(rng.choice(list(b"09-.e<>\"'&;,\n A\xff\x00")))
        else:
            digits = [at for at, byte in enumerate(data) if chr(byte).isdigit()]
            data[int(rng.choice(digits))] = int(rng.choice(list(b"0123456789")))
        path.write_bytes(bytes(data))
        try:
            found = read(path, units="mm")
        except PieceError as error:
            assert "\n" not in str(error)
            outcomes[False] += 1
        else:
            assert all(shapely.Polygon(piece.cut_line).is_valid for piece in found.pieces)
            outcomes[True] += 1
    assert outcomes[True] > 3 and outcomes[False] > 10


@pytest.mark.parametrize("kind", ["dxf", "svg", "csv", "json", "toml"])
def test_no_file_at_all(tmp_path: Path, kind: str) -> None:
    """Empty, binary, a folder, not there, too large, and another form's content: one line that names the file."""
    path = tmp_path / f"a.{kind}"
    made = corpus(tmp_path)
    others = [data for other, data in made.items() if other != kind]
    with pytest.raises(FormatError, match="cannot read"):
        read(tmp_path / f"none.{kind}")
    with pytest.raises(FormatError, match="cannot read"):
        (tmp_path / f"folder.{kind}").mkdir()
        read(tmp_path / f"folder.{kind}")
    for data in (b"", b"  \n", b"\x00\x01\x02", b"\xff\xfe\xfa", *others):
        path.write_bytes(data)
        with pytest.raises(FormatError, match=r"a\."):
            read(path, units="mm")


def test_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No more is read of a file than the most that one may have: even of a device that never ends."""
    monkeypatch.setitem(source.LARGEST, "json", 1000)
    path = tmp_path / "a.json"
    path.symlink_to("/dev/zero")
    with pytest.raises(FormatError, match="larger than"):
        read(path)


def test_too_many_entities(tmp_path: Path) -> None:
    """A million entities are counted before any is read."""
    path = tmp_path / "a.dxf"
    path.write_text("  0\nSECTION\n  2\nENTITIES\n" + "  0\nLINE\n" * 1_000_000, encoding="utf-8")
    with pytest.raises(FormatError, match=r"about 10000.. entities"):
        read(path, units="mm")


def test_wrong_ending(tmp_path: Path) -> None:
    """A name that ends in something else says which endings are read."""
    with pytest.raises(FormatError, match=r"dxf, svg, csv, json, geojson, toml, not in '\.dwx'"):
        read(tmp_path / "a.dwx")
    with pytest.raises(FormatError, match=r"^\.: a pattern file ends in"):
        read(tmp_path.relative_to(tmp_path))


BAD_DRAWINGS: dict[str, Callable[[Any, Any], Any]] = {
    "huge": lambda document, space: space.add_lwpolyline([(x * 1e30, y * 1e30) for x, y in SQUARE], close=True),
    "far": lambda document, space: space.add_lwpolyline([(x + 1e9, y) for x, y in SQUARE], close=True),
    "not a number": lambda document, space: space.add_lwpolyline([(float("nan"), 0), (1, 1), (2, 0)], close=True),
    "huge circle": lambda document, space: space.add_circle((0, 0), 1e300),
    "circle of no size": lambda document, space: space.add_circle((0, 0), 0),
    "huge bulge": lambda document, space: space.add_lwpolyline([(0, 0, 1e300), (9, 0, 1)], format="xyb", close=True),
    "one point": lambda document, space: space.add_lwpolyline([(0, 0)], close=True),
    "a line there and back": lambda document, space: space.add_lwpolyline(
        [(0, 0), (900, 0), (0, 0), (900, 0)], close=True
    ),
    "blocks in one another": lambda document, space: nested(document, space, 12, 1),
    "blocks many times over": lambda document, space: nested(document, space, 7, 9),
    "a grid of blocks": lambda document, space: grid(document, space),
    "a block in itself": lambda document, space: nested(document, space, 0, 1),
    "a spline of one place": lambda document, space: space.add_open_spline([(5, 5)] * 4),
}


def nested(document: Drawing, space: Modelspace, deep: int, times: int) -> None:
    """Blocks that hold one another."""
    document.blocks.new("B0").add_lwpolyline(SQUARE, close=True)
    for i in range(1, deep + 1):
        block = document.blocks.new(f"B{i}")
        for _ in range(times):
            block.add_blockref(f"B{i - 1}", (0, 0))
    if not deep:
        document.blocks.get("B0").add_blockref("B0", (1, 1))
    space.add_blockref(f"B{deep}", (0, 0))


def grid(document: Drawing, space: Modelspace) -> None:
    """A block placed a billion times."""
    document.blocks.new("B0").add_lwpolyline(SQUARE, close=True)
    counts = {"row_count": 30_000, "column_count": 30_000, "row_spacing": 1, "column_spacing": 1}
    space.add_blockref("B0", (0, 0), counts)


@pytest.mark.parametrize("draw", BAD_DRAWINGS.values(), ids=BAD_DRAWINGS.keys())
def test_bad_drawings(tmp_path: Path, draw: Callable[[Any, Any], Any]) -> None:
    """Numbers out of all proportion and blocks without end are refused."""
    with pytest.raises(FormatError):
        read(dxf(tmp_path / "a.dxf", draw))


def test_nothing_is_fetched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No form opens a connection, whatever it refers to."""

    def refuse(*_: Any, **__: Any) -> None:
        raise AssertionError("a connection was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)
    inside = (
        '<image href="http://localhost/a.png"/><use href="https://localhost/a.svg#b"/><rect width="90" height="90"/>'
    )
    assert len(read(svg(tmp_path / "a.svg", inside)).pieces) == 1


def test_many_crossings(tmp_path: Path) -> None:
    """An outline of ten thousand points that crosses itself millions of times is left out, not mended."""
    points = np.random.default_rng(2).uniform(0, 900, (10_000, 2)).tolist()
    with pytest.raises(FormatError, match="10000 points"):
        read(dxf(tmp_path / "a.dxf", lambda document, space: space.add_lwpolyline(points, close=True)))


def test_many_ends_in_one_place() -> None:
    """Eight thousand lines that end in one place are joined without comparing each with each."""
    ends = np.random.default_rng(1).uniform(0, 0.4, (8_000, 2))
    lines = [DrawnLine(np.array([end, (50.0 + i, 9.0)])) for i, end in enumerate(ends)]
    assert not any(joined.closed for joined in join(lines, 0.5))


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)), min_size=3, max_size=12))
def test_any_outline(points: list[tuple[float, float]]) -> None:
    """Any points make a simple outline that runs counter-clockwise within them, or are left out with a reason."""
    report = ImportReport("test")
    ring = tidy(np.array(points), "a", report)
    if ring is None:
        assert report.left_out
        return
    outline = shapely.Polygon(ring)
    assert outline.is_valid and outline.exterior.is_ccw
    hull = shapely.MultiPoint(np.round(points, 9)).convex_hull  # GEOS is at a loss with 1e-205 beside 49
    assert (shapely.distance(hull, shapely.points(ring)) <= 1e-3).all()


@settings(max_examples=40)
@given(st.integers(3, 30), st.randoms(use_true_random=False), st.floats(0.01, 0.24))
def test_any_order_of_lines(sides: int, random: Any, gap: float) -> None:
    """A polygon's sides, in any order and direction, their ends a little apart, are joined to the polygon."""
    angles = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    ring = 200 * np.column_stack([np.cos(angles), np.sin(angles)])
    lines = []
    for i in range(sides):
        ends = np.array([ring[i], ring[(i + 1) % sides]]) + random.uniform(-gap, gap) / 2
        lines.append(DrawnLine(ends[:: random.choice((1, -1))]))
    random.shuffle(lines)
    (joined,) = join(lines, 0.5)
    assert joined.closed and joined.gap <= 0.5
    found = shapely.Polygon(joined.points)
    assert found.symmetric_difference(shapely.Polygon(ring)).area <= 200 * 2 * np.pi * 0.5


def concentric(_: Drawing, space: Modelspace) -> None:
    """Circles in one another."""
    for step in range(700):
        space.add_circle((0, 0), 20 + step * 0.7)


def heaped(_: Drawing, space: Modelspace) -> None:
    """Squares over one another."""
    for step in range(700):
        space.add_lwpolyline([(x + step * 0.5, y + step * 0.25) for x, y in SQUARE], close=True)


def wordy(_: Drawing, space: Modelspace) -> None:
    """Words beside many pieces."""
    for step in range(300):
        space.add_lwpolyline([(x + step * 110, y) for x, y in SQUARE], close=True)
    for step in range(3000):
        space.add_text(f"word {step} cut 2 lining", dxfattribs={"insert": (step * 12, -25)})


@pytest.mark.parametrize("draw", [concentric, heaped, wordy])
def test_crowded_drawings(tmp_path: Path, draw: Callable[[Any, Any], None]) -> None:
    """Hundreds of outlines over one another, or thousands of words beside pieces, are read, or refused in one line."""
    try:
        found = read(dxf(tmp_path / "a.dxf", draw))
    except FormatError as error:
        assert "--size" in str(error)
    else:
        assert len(found.pieces) >= 300
