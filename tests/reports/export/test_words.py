"""Names that people wrote, made safe for each kind of file."""

from __future__ import annotations

import csv
import io
from xml.etree import ElementTree

import pytest

from reports.export.words import csv_text, dxf_name, dxf_text, one_line, unique, xml_text


def test_one_line() -> None:
    """Control signs and runs of space become one space."""
    assert one_line(" left\n\tfront\0 ") == "left front"


def test_in_dxf_no_sign_stands_for_another() -> None:
    """Two percent signs, a caret and a backslash with a number would."""
    assert dxf_text("50%%d") == "50% %d"
    assert dxf_text("a^J") == "a^ J"
    assert dxf_text(r"\U+00C4") == "/U+00C4"
    assert dxf_text("\U0001f457 Ä") == "\ufffd Ä"  # a number of four digits cannot name it


@pytest.mark.parametrize(
    ("text", "name"),
    [("left front", "left_front"), ("Ärmel, Größe 38", "Armel_Grosse_38"), ("→", "piece"), ("a" * 200, "a" * 100)],
)
def test_names_of_blocks(text: str, name: str) -> None:
    """Latin letters and digits, not too many, and never none."""
    assert dxf_name(text) == name


def test_xml() -> None:
    """Inside an element, and between quotes, it is read back as it was."""
    words = "a<b>&\"c'"
    assert ElementTree.fromstring(f'<a b="{xml_text(words)}">{xml_text(words)}</a>').text == words


def test_csv_runs_no_formula() -> None:
    """Text that a spreadsheet would reckon with is marked as text; numbers stay numbers."""
    ((cell, number),) = csv.reader(io.StringIO(csv_text([("=1+1", 2.5)])))
    assert not cell.startswith("=")
    assert number == "2.5"


def test_names_told_apart() -> None:
    """Capital letters make no difference; a number that is taken is passed over."""
    assert unique(["a", "A", "a-2", "b"]) == ["a", "A-2", "a-2-2", "b"]
