"""Every thing of a file ends in one place of the report, and the counts add up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from pieces.errors import AccountError, FormatError
from pieces.exchange.account import Account
from pieces.exchange.read.dxf_entities import written
from pieces.exchange.sketch import assemble
from tests.make.drawings import SQUARE, area, dxf, read, svg

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

LARGE = [(4 * x, 4 * y) for x, y in SQUARE]

WIDGET = "  0\nWIDGET\n  5\nFF1\n100\nAcDbEntity\n  8\n{layer}\n100\nAcDbWidget\n 10\n1.0\n 20\n2.0\n"
"""An entity that no library knows, as a program may write it."""


def with_widget(path: Path, layer: str = "0") -> Path:
    """The file with an unknown entity before its first."""
    text = path.read_text(encoding="utf-8")
    head, tail = text.split("ENTITIES\n", 1)
    path.write_text(head + "ENTITIES\n" + WIDGET.format(layer=layer) + tail, encoding="utf-8")
    return path


def places(found: Any) -> dict[str, int]:
    """How many things ended where."""
    counts: dict[str, int] = found.report.account.places()
    return counts


def test_all_marks_are_accounted_for(tmp_path: Path) -> None:
    """An outline of four lines, a line of its own, a hole, words and a stray line: nine things, nine places."""

    def draw(document: Drawing, space: Modelspace) -> None:
        for start, end in zip(LARGE, [*LARGE[1:], LARGE[0]], strict=True):
            space.add_line(start, end)
        space.add_line((20, 200), (380, 200), {"layer": "grain"})
        space.add_line((50, 50), (90, 90))
        space.add_circle((200, 300), 4)
        space.add_text("yoke", dxfattribs={"insert": (100, 100)})
        space.add_line((900, 900), (950, 900))

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert places(found) == {
        "piece": 4, "inner line": 1, "drill point": 1, "grain": 1, "words read": 1, "left out": 1,
    }  # fmt: skip
    plain = found.report.account.to_plain()
    assert plain["total"] == sum(plain["places"].values()) == sum(plain["kinds"].values()) == 9
    assert sorted(n for row in plain["rows"] for n in row["numbers"]) == list(range(1, 10))


@pytest.mark.parametrize(
    ("layer", "said"),
    [({"color": -7}, "switched off"), ({"flags": 1}, "frozen"), ({"plot": 0}, "not plotted"), (None, "group code 60")],
)
@pytest.mark.parametrize("in_block", [False, True])
def test_hidden_in_dxf(tmp_path: Path, layer: Any, said: str, in_block: bool) -> None:
    """What is on a layer that is off, frozen or not plotted, or is invisible itself, is no cut line: told by name."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.layers.add("construction")
        for key, value in (layer or {}).items():
            document.layers.get("construction").dxf.set(key, value)
        where = document.blocks.new("EXTRA") if in_block else space
        hidden = {"layer": "construction"} if layer else {"invisible": 1}
        where.add_lwpolyline([(600, 0), (900, 0), (900, 300)], close=True, dxfattribs=hidden)
        where.add_polyline2d([(600, 500), (900, 500), (900, 800)], close=True, dxfattribs=hidden)
        space.add_lwpolyline(SQUARE, close=True)
        if in_block:
            space.add_blockref("EXTRA", (0, 0))

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert [area(piece) for piece in found.pieces] == [pytest.approx(10_000)]
    assert places(found) == {"piece": 1, "hidden": 2}
    (line,) = [line for line in found.report.lines() if line.startswith("hidden")]
    assert said in line and "2 " in line and ("'construction'" in line) == bool(layer)
    with pytest.raises(FormatError, match="--strict"):
        read(tmp_path / "a.dxf", strict=True, grain=0)


@pytest.mark.parametrize(("flags", "color", "wanted"), [(1, 7, 1), (0, -7, 2)])
def test_block_on_a_hidden_layer(tmp_path: Path, flags: int, color: int, wanted: int) -> None:
    """A block on a frozen layer is not drawn; on a layer that is off only what has no layer of its own is hidden."""

    def draw(document: Drawing, space: Modelspace) -> None:
        layer = document.layers.add("off")
        layer.dxf.flags, layer.dxf.color = flags, color
        block = document.blocks.new("A")
        block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "cut"})
        block.add_lwpolyline([(600, 0), (900, 0), (900, 300)], close=True)
        space.add_blockref("A", (0, 0), {"layer": "off"})
        space.add_lwpolyline([(0, 500), (100, 500), (100, 900)], close=True)

    assert len(read(dxf(tmp_path / "a.dxf", draw)).pieces) == wanted


def test_old_polyline_that_is_invisible(tmp_path: Path) -> None:
    """A polyline in the old form of R12 keeps its group code 60 on the way to the short form."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_polyline2d(SQUARE, close=True)
        space.add_polyline2d([(x + 500, y) for x, y in SQUARE], close=True, dxfattribs={"invisible": 1})

    path = dxf(tmp_path / "a.dxf", draw, version="R12")
    assert places(read(path, units="mm")) in ({"piece": 2}, {"piece": 1, "hidden": 1})
    text = path.read_text(encoding="utf-8").replace("POLYLINE\n", "POLYLINE\n 60\n1\n")
    path.write_text(text.replace(" 60\n1\n", "", 1), encoding="utf-8")
    assert places(read(path, units="mm")) == {"piece": 1, "hidden": 1}


def test_unknown_entity(tmp_path: Path) -> None:
    """An entity that the DXF library does not know is left out by its name, without a traceback."""
    path = with_widget(dxf(tmp_path / "a.dxf", lambda _, space: space.add_lwpolyline(SQUARE, close=True)), "marks")
    found = read(path)
    assert len(found.pieces) == 1 and places(found) == {"piece": 1, "left out": 1}
    assert [out.what for out in found.report.left_out] == ["WIDGET"]


def test_sheets_of_paper(tmp_path: Path) -> None:
    """What stands on a sheet of paper is no part of the drawing: told, not cut."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        document.layout("Layout1").add_lwpolyline([(0, 0), (297, 0), (297, 210), (0, 210)], close=True)

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert len(found.pieces) == 1
    assert any("paper sheet" in line for line in found.report.lines())


def test_block_placed_nowhere(tmp_path: Path) -> None:
    """What stands in a block that is never placed is told as not drawn."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.blocks.new("SPARE").add_lwpolyline(LARGE, close=True)
        space.add_lwpolyline(SQUARE, close=True)

    assert places(read(dxf(tmp_path / "a.dxf", draw))) == {"piece": 1, "not drawn": 1}


HIDDEN_SVG = {
    "display": 'display="none"',
    "style": 'style="display:none"',
    "visibility": 'visibility="hidden"',
    "visibility by style": 'style="fill:#000;visibility:collapse"',
    "opacity": 'opacity="0"',
    "opacity by style": 'style="opacity:0.0"',
    "no paint": 'fill="none" stroke="none"',
    "no width": 'style="fill:none;stroke:#000;stroke-width:0"',
    "no opaque paint": 'fill-opacity="0" stroke="#000" stroke-opacity="0"',
    "class": 'class="off"',
}


@pytest.mark.parametrize("how", HIDDEN_SVG.values(), ids=HIDDEN_SVG.keys())
@pytest.mark.parametrize("group", [False, True])
def test_hidden_in_svg(tmp_path: Path, how: str, group: bool) -> None:
    """What SVG 1.1 does not draw (11.2, 11.5, 14.5) is hidden, by itself or with its group."""
    hidden = '<rect x="200" width="90" height="90"{}/>'
    hidden = f"<g {how}>{hidden.format('')}</g>" if group else hidden.format(f" {how}")
    found = read(
        svg(tmp_path / "a.svg", f'<style>.off {{display: none}}</style>{hidden}<rect width="50" height="80"/>')
    )
    assert [area(piece) for piece in found.pieces] == [pytest.approx(4000)]
    assert places(found) == {"piece": 1, "hidden": 1}


def test_seen_in_a_hidden_group(tmp_path: Path) -> None:
    """Visibility is inherited, and can be switched on again further down; display cannot."""
    inside = '<rect width="50" height="80" visibility="visible"/>'
    assert len(read(svg(tmp_path / "a.svg", f'<g visibility="hidden">{inside}</g>')).pieces) == 1
    with pytest.raises(FormatError, match="display is none"):
        read(svg(tmp_path / "a.svg", f'<g display="none">{inside}</g>'))


def test_never_drawn_in_svg(tmp_path: Path) -> None:
    """Outlines that clip, shade or wait in a store to be copied are no pieces; a copy of one is."""
    inside = (
        '<defs><clipPath id="c"><rect width="400" height="300"/></clipPath><rect id="r" width="100" height="80"/>'
        '<rect id="s" width="60" height="60"/></defs><mask><rect width="99" height="99"/></mask>'
        '<symbol id="t"><rect width="70" height="70"/></symbol>'
        '<g clip-path="url(#c)"><use href="#r" x="5"/><a href="x"><rect x="200" width="40" height="40"/></a></g>'
    )
    found = read(svg(tmp_path / "a.svg", inside))
    assert sorted(area(piece) for piece in found.pieces) == pytest.approx([1600, 8000])
    assert places(found) == {"piece": 2, "placement": 1, "not drawn": 4}


def test_a_lost_line_is_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If a stage loses what it was given, the import fails as a fault of the program, and says so."""
    monkeypatch.setattr(assemble, "add_line", lambda *_: None)

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        space.add_line((20, 50), (80, 50), {"layer": "grain"})

    with pytest.raises(AccountError, match="fault of this program"):
        read(dxf(tmp_path / "a.dxf", draw))


def test_account() -> None:
    """A source without entry, an entry without place or with two, and a count that differs, are faults."""
    account = Account()
    first = account.enter(account.source("LINE"), "open line", points=np.zeros((2, 2)))
    with pytest.raises(AccountError, match="ends nowhere"):
        account.check([])
    account.put([first], "left out", why="it is short")
    account.check([])
    with pytest.raises(AccountError, match="as left out and as frame"):
        account.put([first], "frame")
    account.source("ARC")
    with pytest.raises(AccountError, match="the account does not mention 'ARC'"):
        account.check([])
    account.put([account.enter(1, "open line")], "piece", "front")
    with pytest.raises(AccountError, match="'front' is in the account but was not read"):
        account.check([])
    account.expect(3)
    with pytest.raises(AccountError, match="3 entities, but 2"):
        account.check([])


def test_entities_counted_from_tags(tmp_path: Path) -> None:
    """Entities are counted from the tags of the file: a polyline and its points are one, each block for itself."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_polyline2d(SQUARE, close=True)
        space.add_line((0, 0), (1, 1))
        document.blocks.new("A").add_lwpolyline(SQUARE)

    many = written(dxf(tmp_path / "a.dxf", draw).read_text(encoding="utf-8"))
    assert many[""] == 2 and many["A"] == 1


def test_parts_without_a_whole(tmp_path: Path) -> None:
    """Points of a polyline that lost its head in a damaged file are told, and are no fault of the program."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_polyline2d(SQUARE, close=True)
        space.add_polyline2d(LARGE, close=True)

    path = dxf(tmp_path / "a.dxf", draw, version="R12")
    head, _, tail = path.read_text(encoding="utf-8").rpartition("POLYLINE\n")
    path.write_text(head + "POINT\n" + tail, encoding="utf-8")
    found = read(path, units="mm")
    assert len(found.pieces) == 1 and places(found)["left out"] >= 4


def test_block_that_cannot_be_drawn(tmp_path: Path) -> None:
    """A placed block with a damaged line is left out with its reason, and the rest is read."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.blocks.new("BAD").add_lwpolyline(SQUARE, close=True)
        space.add_blockref("BAD", (500, 0))
        space.add_lwpolyline(SQUARE, close=True)

    path = dxf(tmp_path / "a.dxf", draw)
    text = path.read_text(encoding="utf-8")
    start = text.index("BLOCKS\n")
    at = text.index("AcDbPolyline\n", start)
    end = text.index("  0\nENDBLK", at)
    path.write_text(text[: at + len("AcDbPolyline\n")] + " 90\n0\n" + text[end:], encoding="utf-8")
    found = read(path)
    assert len(found.pieces) == 1 and places(found) == {"piece": 1, "left out": 1}
