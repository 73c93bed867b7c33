"""Steps of sewing by a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, side_of, steps_by

if TYPE_CHECKING:
    from pieces import PieceSet


def test_steps_are_those_that_have_something_to_sew(jacket: PieceSet) -> None:
    """A step without edges and pieces is left out; the others have their words from the table."""
    seam = edges_of_seams(jacket, "shoulder")
    assert seam == (("front", "shoulder"), ("back", "shoulder"))
    steps = list(steps_by("jacket", [("yoke", (), ()), ("shoulder", seam, ()), ("loop", (), ("back",))]))
    assert [step.title for step in steps] == [sewing_table("jacket")[key]["title"] for key in ("shoulder", "loop")]


def test_pieces_and_edges_by_name(jacket: PieceSet) -> None:
    """Those there are, in the order asked for; of a side, where sides differ."""
    assert named(jacket, "sleeve", "no such piece", "back") == ("sleeve", "back")
    assert edges_named(jacket, ("back", "hem"), ("back", "no such edge")) == (("back", "hem"),)
    assert (side_of("left front"), side_of("front")) == ("front", "front")
