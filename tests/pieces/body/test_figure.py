"""The figure shows each measurement, and the words beside it."""

from __future__ import annotations

from importlib.resources import files
from xml.etree import ElementTree

from pieces.body.figure import draw_figure
from pieces.body.measures import MEASURES


def test_every_measurement_has_its_tape_and_its_name() -> None:
    """As many tapes as measurements are drawn; each is numbered on the figure and again beside its name."""
    root = ElementTree.fromstring(draw_figure())
    tapes = [e.get("d") for e in root.iter() if e.tag.endswith("path") and "stroke:#b00" in e.get("style", "")]
    words = [e.text for e in root.iter() if e.tag.endswith("text")]
    front, behind = ([m.tape for m in MEASURES.values() if m.is_behind == behind] for behind in (False, True))
    assert tapes == front + behind
    for number, name in enumerate(MEASURES, 1):
        assert words.count(str(number)) == 1
        assert f"{number}  {name.replace('_', ' ')}" in words


def test_help_shows_it() -> None:
    """The picture in the help is the one that is drawn."""
    shown = (files("reports.help") / "measures.svg").read_text(encoding="utf-8")
    assert shown == draw_figure()
