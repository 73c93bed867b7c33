"""What stands at the head of a file: its unit, its DOCTYPE, its encoding."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from tests.make.drawings import SQUARE, area, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize(
    ("side", "unit", "asks"),
    [(15, "mm", True), (3100, "mm", True), (25, "mm", False), (200, "in", True), (8, "ft", False)],
)
def test_is_the_unit_right(tmp_path: Path, side: float, unit: str, asks: bool) -> None:
    """A piece under 2 cm or over 3 m asks whether the unit is right, by name."""
    (tmp_path / "a.csv").write_text(f"piece,x,y\na,0,0\na,{side},0\na,{side},{side}\n", encoding="utf-8")
    found = read(tmp_path / "a.csv", units=unit)
    assert any("'a' measures" in remark and "unit right" in remark for remark in found.report.remarks) == asks


@pytest.mark.parametrize(
    ("unit", "per_inch", "side"),
    [("px", 96, 254 / 96 * 10), ("px", 72, 254 / 72 * 10), ("m", 96, 100_000), ("ft", 96, 30_480)],
)
def test_more_units(tmp_path: Path, unit: str, per_inch: float, side: float) -> None:
    """Pixels at 96 to the inch (CSS 2.1, 4.3.2) or as asked, metres, and feet of 304.8 mm (1959)."""
    made = svg(tmp_path / "a.svg", '<rect width="100" height="50"/>', 'width="400" height="300"')
    assert read(made, units=unit, per_inch=per_inch).pieces.pieces[0].length == pytest.approx(side, rel=1e-6)
    half = svg(
        tmp_path / "b.svg", '<rect width="100" height="50"/>', 'width="400px" height="300px" viewBox="0 0 800 600"'
    )
    if unit == "px":
        assert read(half, units=unit, per_inch=per_inch).pieces.pieces[0].length == pytest.approx(side / 2, rel=1e-6)


def test_advice_for_pixels(tmp_path: Path) -> None:
    """A drawing in pixels is told of --units px first, not to take its numbers for millimetres."""
    with pytest.raises(FormatError, match="give --units px"):
        read(svg(tmp_path / "a.svg", path(SQUARE), 'width="800px" height="600px"'))


HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
HEAD += '<rect width="80" height="90"/></svg>'

DOCTYPES = {
    "public": '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
    "bare": "<!DOCTYPE svg>",
    "empty": "<!DOCTYPE svg []>",
    "attributes": '<!DOCTYPE svg [<!ATTLIST svg version CDATA "1.1">]>',
}


@pytest.mark.parametrize("doctype", DOCTYPES.values(), ids=DOCTYPES.keys())
def test_harmless_doctype(tmp_path: Path, doctype: str) -> None:
    """A DOCTYPE that defines no entity is harmless, for nothing is fetched: the file is read."""
    (tmp_path / "a.svg").write_text('<?xml version="1.0"?>\n' + doctype + HEAD, encoding="utf-8")
    assert area(read(tmp_path / "a.svg").pieces.pieces[0]) == pytest.approx(7200)


@pytest.mark.parametrize(
    "entity",
    ['<!ENTITY a "b">', '<!ENTITY x SYSTEM "file:///etc/hostname">', '<!ENTITY % p SYSTEM "http://localhost/x">'],
)
def test_entities_are_refused(tmp_path: Path, entity: str) -> None:
    """Definitions of entities are refused, in the file or outside, used or not."""
    (tmp_path / "a.svg").write_text(f"<!DOCTYPE svg [{entity}]>" + HEAD, encoding="utf-8")
    with pytest.raises(FormatError, match="defines an entity"):
        read(tmp_path / "a.svg")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1"])
def test_encodings_that_are_declared(tmp_path: Path, encoding: str) -> None:
    """XML in the encoding that it names is read: an umlaut in a label stays one (XML 1.0, 4.3.3)."""
    text = f'<?xml version="1.0" encoding="{encoding}"?>' + HEAD.replace("<rect ", '<rect id="Ärmel" ')
    (tmp_path / "a.svg").write_bytes(text.encode(encoding))
    assert [piece.name for piece in read(tmp_path / "a.svg").pieces] == ["Ärmel"]
