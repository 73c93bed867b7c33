"""By what files of one program are known."""

from __future__ import annotations

from pieces.exchange.decided.mark import FileMarks, LineMark, program_named


def test_the_version_of_a_program_does_not_count() -> None:
    """The name alone is kept."""
    assert program_named("Drawing Desk 12.4, export") == "Drawing Desk"
    assert program_named("Plotter v2") == "Plotter"
    assert program_named(" 3.1 ") == ""


def test_files_of_one_program() -> None:
    """By its name; where one of two files gives none, by layers that they share for the most part."""
    desk = FileMarks("svg", "Desk", ("cut", "seam"))
    assert desk.fits(FileMarks("svg", "Desk"))
    assert not desk.fits(FileMarks("svg", "Board", ("cut", "seam")))
    assert not desk.fits(FileMarks("dxf", "Desk"))
    assert desk.fits(FileMarks("svg", "", ("cut", "seam", "0")))
    assert not desk.fits(FileMarks("svg", "", ("0",)))


def test_words() -> None:
    """What is empty is not said."""
    assert LineMark("seam", "", "4 2").words() == "layer 'seam', line style 4 2"
