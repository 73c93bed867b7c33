"""Few outlines: all orders and all ways to lie tried out, each outline as far left as it will go."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.problem.outline import polygon_area
from nesting.search.fill import faults_placed, laid_out, rooms_of
from nesting.shape.grid import INSET

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.search.fill import Place, Room
    from nesting.shape.layout import Layout
    from nesting.shape.nofit import NoFit
    from nesting.shape.shapes import Shapes

FEW_TRIED = 6
"""With so many outlines all orders are tried."""

MOST_PLACES = 12_000
"""Places looked for at most: half a second or so; four outlines take some 3,000."""

SHORTER = 4 * INSET
"""Steps by which a layout must be shorter to count: no-fit polygons are drawn a little too small."""


class FewOrders:
    """A walk through all orders of a few outlines, and all ways in which each may lie; what is longer is cut off.

    Attributes
    ----------
    places
        How many places were looked for.
    """

    def __init__(self, shapes: Shapes, nofit: NoFit, shortest: float) -> None:
        self._shapes, self._nofit = shapes, nofit
        steps = shapes.grid.to_steps([shape.length for shape in shapes.all])
        self._lengths: list[int] = steps.tolist()
        self._instead = {choice.item: choice.instead for choice in shapes.problem.choices}
        areas = [polygon_area(shapes.all[numbers[0]].outline) for numbers in shapes.of_item]
        self._order = sorted(range(len(areas)), key=lambda item: -areas[item])
        self._least = int(shapes.grid.to_steps(shortest)) - SHORTER
        self._best: list[Place] = []
        self.places = 0

    def shortest(self) -> Layout | None:
        """The shortest layout found; None if all are as long as what was known before."""
        left = [int((self._shapes.items == item).sum()) for item in range(len(self._shapes.of_item))]
        self._go_on(left, faults_placed(self._shapes), rooms_of(self._shapes, self._nofit), 0)
        if not self._best:
            return None
        faults = len(self._shapes.faults)
        laid = sorted(self._best[faults:], key=lambda place: self._shapes.all[place[0]].item)
        return laid_out(self._best[:faults] + laid, self._shapes)

    def _go_on(self, left: Sequence[int], placed: list[Place], rooms: list[Room], end: int) -> None:
        """Place each of those that are left next, and then the others."""
        if not any(left):
            self._least, self._best = end, placed
            return
        for item in self._order:
            if not left[item]:
                continue
            rest = [count - (other == item) for other, count in enumerate(left)]
            for places in sorted(self._ways(item, placed, rooms), key=self._end):
                further = max(end, self._end(places))
                if further >= self._least or self.places >= MOST_PLACES:
                    break
                self._go_on(rest, placed + places, _copies(rooms), further)

    def _ways(self, item: int, placed: list[Place], rooms: list[Room]) -> Iterator[list[Place]]:
        """Places of an item, in each of its shapes, and of those that may stand in for it."""
        for number in self._shapes.of_item[item]:
            yield [self._placed(number, placed, rooms)]
        if others := self._instead.get(item):
            own = _copies(rooms)
            places: list[Place] = []
            for other in others:
                ways = [self._placed(number, placed + places, own) for number in self._shapes.of_item[other]]
                places.append(min(ways, key=lambda place: self._end([place])))
            yield places

    def _placed(self, number: int, placed: list[Place], rooms: list[Room]) -> Place:
        self.places += 1
        return (number, *rooms[number].leftmost(placed))

    def _end(self, places: list[Place]) -> int:
        return max(x + self._lengths[number] for number, x, _ in places)


def _copies(rooms: list[Room]) -> list[Room]:
    """Rooms to go on from; shapes that look alike share one."""
    copies = {id(room): room.copy() for room in {id(room): room for room in rooms}.values()}
    return [copies[id(room)] for room in rooms]
