"""Every garment of a run, one by one: on which ticket it is cut, in which ply, and in which colour and size."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import LayPlanError

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nesting.lays.order import ColourSize
    from reports.run.garments import Kinds
    from reports.run.lay_marker import LayMarker


class CutGarment(NamedTuple):
    """A garment: the ticket and the ply that its shell is cut by, plies counted from the table up, from 1."""

    ticket: int
    ply: int
    colour: str
    size: str


def plies_of(lay: LayMarker) -> list[str]:
    """The cloth of each ply of a lay, from the table up."""
    return [key for key, number in lay.plies.items() for _ in range(number)]


def cut_garments(lays: Iterable[LayMarker], cut: Kinds) -> list[CutGarment]:
    """All garments of a run, ticket by ticket, ply by ply.

    Of each colour those lays count whose part is the first that gives it: the shell. Of cloth for several colours
    the garments are taken for one colour after another.

    Raises
    ------
    LayPlanError
        If the lays do not give what is cut.
    """
    left: Counter[ColourSize] = Counter(cut)
    found, parts = [], dict[str, str]()
    for lay in lays:
        for ply, key in enumerate(plies_of(lay), 1):
            colours = [c for c in lay.lot.stands_for[key] if parts.setdefault(c, lay.lot.part) == lay.lot.part]
            for size in _sizes(lay) if colours else ():
                colour = next((colour for colour in colours if left[colour, size] > 0), colours[0])
                left[colour, size] -= 1
                found.append(CutGarment(lay.ticket, ply, colour, size))
    if wrong := [kind for kind, number in left.items() if number]:
        raise LayPlanError(f"the lays do not cut as many of {wrong[0][0]}, size {wrong[0][1]}, as the run counts")
    return found


def _sizes(lay: LayMarker) -> Iterator[str]:
    for size, number in lay.garments.items():
        yield from [size] * number
