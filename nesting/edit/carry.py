"""A marker carried over: a marker of one problem made into one of another, checked, or not at all.

What lies on folded cloth lies on the cloth laid open, its layers unfolded; on narrow cloth, on wider cloth; on a nap,
without one; with a wide gap, with a narrower; on a pattern, on plain cloth; on a short remnant, on a longer one. And
where a piece has become smaller, it lies where it lay. So what was found once is found for all of these.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.edit.unfold import moves
from nesting.errors import CheckError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.marker.stretches import join_stretches, split_stretches
from nesting.problem.grain import SAME_MARK, is_same
from nesting.problem.transform import Transform
from nesting.search.compact import Compaction
from nesting.shape.layout import Layout
from nesting.shape.shapes import Shapes
from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.edit.unfold import LayerMove
    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem

    Floats = NDArray[np.float64]

LONGER = 1.05
"""How long a marker may become, as a share of its length, where pieces must be parted anew."""


class _Role(NamedTuple):
    """A way to lie on the other cloth: item and variant, and its corner from that of what is carried, mm.

    One that has changed has another outline there.
    """

    item: int
    variant: int
    x: float = 0.0
    y: float = 0.0
    has_changed: bool = False


class _Spot(NamedTuple):
    """A piece on the other cloth: what it may be there, and where the corner of its box comes to lie, mm."""

    roles: tuple[_Role, ...]
    x: float
    y: float


def carry(marker: Marker, problem: Problem) -> Marker | None:
    """A marker of another problem with the layout of this one; None if it does not hold there.

    It is as long, or shorter. Only where pieces that lie apart here do not there, as they keep a gap across a fold that
    is laid open, or their outlines have changed, they are parted and pressed together anew, and it may be a little
    longer. Each piece is known by its name, and its hand by its outline.

    Parameters
    ----------
    problem
        The other problem: of the same pieces, or of such that have changed, on any cloth.
    """
    ways = (_carried(marker, one) for one in (problem, *problem.alternatives))
    return next((again for again in ways if again), None)


def _carried(marker: Marker, problem: Problem) -> Marker | None:
    own = marker.problem.repeat
    if problem.repeat is not None and own is not None:
        problem = replace(problem, repeat=replace(problem.repeat, start=own.start))
    where = moves(marker, problem, problem.repeat)
    if where is None:
        return None
    if problem.stretches:
        bands = zip(marker.problem.bands, problem.bands, strict=True)
        problem = replace(problem, bands=tuple(replace(b, start=a.start, end=a.end) for a, b in bands))
    spots = sorted(_spots(marker, where, problem), key=lambda spot: spot.x)
    placements = _placed(problem, spots)
    if not placements:
        return None
    ends = [p.x + problem.items[p.item].variants[p.variant].length for p in placements]
    again = Marker(problem, tuple(placements), marker.length if problem.stretches else max(ends))
    held = again if _holds(again) else None
    if held and not any(role.has_changed for spot in spots for role in spot.roles):
        return held
    return _parted(again, marker.length * LONGER) or held


def _spots(marker: Marker, where: dict[int, tuple[LayerMove, ...]], problem: Problem) -> Iterator[_Spot]:
    """Every piece of a marker, layer by layer, where it comes to lie on the other cloth."""
    known: dict[tuple[int, int, int], tuple[tuple[_Role, ...], float, float]] = {}
    by_name: dict[str, list[int]] = {}
    for number, item in enumerate(problem.items):
        by_name.setdefault(_name(item), []).append(number)
    for placement, item, variant, _ in marker.outlines():
        layers = where[variant.band]
        for k, move in enumerate(layers[:1] if variant.on_fold else layers):  # halves on a fold are one whole piece
            key = placement.item, placement.variant, k
            if key not in known:
                known[key] = _roles(item, variant, move, problem, by_name.get(_name(item), []))
            roles, x, y = known[key]
            along, across = move.signs
            yield _Spot(roles, x + along * placement.x, y + across * placement.y)


def _name(item: Item) -> str:
    return item.piece.name if item.piece else item.name


def _roles(
    item: Item, variant: Variant, move: LayerMove, problem: Problem, items: Sequence[int]
) -> tuple[tuple[_Role, ...], float, float]:
    """What a piece may be on the other cloth, and where its corner lies there, if it is moved from the corner here."""
    half = variant.on_fold and not move.opened
    transform = move(variant.transform or Transform(variant.turn, variant.mirrored))
    if item.piece is None or not (variant.on_fold and move.opened):
        x, y = move.signs
        outline = variant.outline * (x, y) + (move.x, move.y)
        outline = outline[::-1] if x * y < 0 else outline
    else:
        outline = transform.outline(item.piece.unfolded)
    corner = outline.min(axis=0)
    match = None if item.piece is None or item.piece.match is None else transform([item.piece.match])[0] - corner
    alike, changed = [], []
    for number in items:
        for v, way in enumerate(problem.items[number].variants):
            if way.band != move.band or way.on_fold != half:
                continue
            if way.match and match is not None and np.abs(match - way.match).max() > SAME_MARK:
                continue
            if is_same(outline - corner, way.outline, SAME_MARK):
                alike.append(_Role(number, v))
            elif way.transform and variant.transform and _turned_alike(way.transform, transform):
                off = np.array(transform.shift) - way.transform.shift - corner
                changed.append(_Role(number, v, float(off[0]), float(off[1]), True))
    return tuple(alike or changed), float(corner[0]), float(corner[1])


def _turned_alike(one: Transform, other: Transform) -> bool:
    off = (one.turn - other.turn) % 360.0
    return one.mirrored == other.mirrored and min(off, 360.0 - off) < SAME_MARK


def _placed(problem: Problem, spots: Sequence[_Spot]) -> list[Placement]:
    """A spot for everything that is to lie, those first that come first; none at all where one is missing.

    More spots than are needed are a twin that was wasted.
    """
    room = [item.quantity for item in problem.items]
    stand_ins = [other for choice in problem.choices for other in choice.instead]
    for choice in problem.choices:
        for other in choice.instead:
            room[other] += problem.items[choice.item].quantity
    roles = [sorted(spot.roles, key=lambda role: role.item in stand_ins) for spot in spots]
    laid: list[dict[int, _Role]] = [{} for _ in problem.items]

    def finds_room(spot: int, tried: set[int]) -> bool:
        for role in roles[spot]:
            if role.item in tried:
                continue
            tried.add(role.item)
            there = laid[role.item]
            if len(there) < room[role.item] or any(finds_room(other, tried) for other in list(there)):
                for one in laid:
                    one.pop(spot, None)
                there[spot] = role
                return True
        return False

    for number in range(len(spots)):
        finds_room(number, set())
    if not problem.choices and any(len(there) < most for there, most in zip(laid, room, strict=True)):
        return []
    return [
        _placement(problem, spots[number], role, copy)
        for there in laid
        for copy, (number, role) in enumerate(sorted(there.items()))
    ]


def _placement(problem: Problem, spot: _Spot, role: _Role, copy: int) -> Placement:
    """A piece in its place: on its fold; what misses its range by no more than is allowed, or has changed, within."""
    way, y = problem.items[role.item].variants[role.variant], spot.y + role.y
    if way.low - TOLERANCE <= y <= way.high + TOLERANCE or way.on_fold or role.has_changed:
        y = min(max(y, way.low), way.high)
    return Placement(role.item, copy, role.variant, max(spot.x + role.x, 0.0), y)


def _holds(marker: Marker) -> bool:
    try:
        check(marker)
    except CheckError:
        return False
    return True


def _parted(marker: Marker, limit: float) -> Marker | None:
    """A marker whose pieces are parted by linear programs, and pressed together; None if they do not part.

    Parameters
    ----------
    limit
        Most that it may be long, mm.
    """
    if not all(_is_within(marker.problem, place) for place in marker.placements):
        return None
    if marker.problem.stretches:
        stretches = [_parted(part, part.length * LONGER) for part in split_stretches(marker)]
        again = join_stretches(marker.problem, [one for one in stretches if one]) if all(stretches) else None
    else:
        shapes = Shapes(marker.problem)
        layout = Layout.from_marker(marker, shapes)
        steps = Compaction(shapes).settle(layout, limit)
        again = layout.to_marker(shapes) if _run(steps) else None
    return again if again and _holds(again) else None


def _is_within(problem: Problem, place: Placement) -> bool:
    """Whether a piece lies on the cloth, or would by no more than the gap: linear programs bring it there."""
    way = problem.items[place.item].variants[place.variant]
    return way.low - problem.gap - TOLERANCE <= place.y <= way.high + problem.gap + TOLERANCE


def _run(steps: Iterator[None]) -> bool:
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return bool(end.value)
