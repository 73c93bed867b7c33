"""What each measurement is: one definition, which everyone who uses it says; and the picture of the tape."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from xml.etree import ElementTree

from pieces.body.body import measurement_names
from pieces.body.figure import draw_figure
from pieces.body.measures import MEASURES
from pieces.body.sizes import TABLES, find_table
from reports.page.answers.catalogue import catalogue

# ISO 8559-1:2017, read second-hand: neck base girth is 5.3.3, neck girth 5.3.2 is another.
CLAUSES = {"bust": "5.3.4", "hip": "5.3.13", "across_shoulder": "5.4.3", "neck": "5.3.3", "upper_arm": "5.3.16"}


def test_every_measurement_is_defined() -> None:
    """Each measurement of a body has one definition, with the standard's clause where it has one."""
    assert list(MEASURES) == measurement_names()
    assert {name: MEASURES[name].clause for name in CLAUSES} == CLAUSES
    assert MEASURES["neck"].term == "neck base girth"
    assert all(bool(measure.term) == bool(measure.clause) for measure in MEASURES.values())


def test_neck_is_its_base_everywhere() -> None:
    """Page, tables with their notes, and the job to begin with all speak of the base of the neck."""
    (asked,) = (each for each in catalogue()["measurements"] if each["name"] == "neck")
    assert asked["help"] == MEASURES["neck"].how and "base" in asked["help"]
    assert "5.3.3" in asked["standard"]
    for name in TABLES:
        note = find_table(name).notes.get("neck", "as table") if "letters" in name else find_table(name).notes["neck"]
        assert "base" in note or "as table" in note
    job = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")
    (line,) = (line for line in job.splitlines() if line.startswith("neck = "))
    assert "base" in line and tomllib.loads(line)["neck"] == "14 in"


def test_letters_are_the_table_at_their_bust() -> None:
    """A woman M (bust 94 cm) has the neck that the table by bust has there: one measurement, not two."""
    by_bust, letters = find_table("women"), find_table("women-letters")
    low, high = by_bust.measures("92"), by_bust.measures("96")
    middle = letters.measures("M")
    assert middle["bust"] == (low["bust"] + high["bust"]) / 2
    assert abs(middle["neck"] - (low["neck"] + high["neck"]) / 2) <= 1


def test_picture_shows_every_tape() -> None:
    """The picture is sound SVG with a tape and a number for each measurement, and says what each is."""
    root = ElementTree.fromstring(draw_figure())
    tapes = [node.get("d") for node in root.iter() if node.tag.endswith("}path")]
    words = ["".join(node.itertext()) for node in root.iter() if node.tag.endswith("}text")]
    said = " ".join(words)
    for number, (name, measure) in enumerate(MEASURES.items(), 1):
        assert measure.tape in tapes
        assert str(number) in words and f"{number}  {name.replace('_', ' ')}" in words
        assert measure.how in said and measure.standard in said
