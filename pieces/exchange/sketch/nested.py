"""Sizes of one piece drawn over one another: found by their shape, and the one that is wanted."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError, SeveralSizesError
from pieces.exchange.sketch.within import evenly_within, is_around
from pieces.exchange.words.words import in_size_order, may_be_size, read_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.drawing import Drawing
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.mend.joining import JoinedLine
    from pieces.exchange.sketch.outline import Outline

    Floats = NDArray[np.float64]

ALIKE, SHARED = 0.92, 0.6
"""Of outlines that are sizes of one piece: how much of each other they cover once equally large, and as they lie."""

MOST_OFF = 0.4
"""Of an outline and the mirror image of a size, how much they cover of each other at the least."""

SAME_SIZE = 0.995
"""Of two sizes, the smaller has no more than this share of the area of the larger."""

MOST_PAIRS = 20_000
"""Outlines over one another that are compared with each other."""

ALL = "all"
"""What is asked for if outlines in one another are no sizes."""


def choose_size(
    found: Sequence[Outline], asked: str | None, page: Floats | None = None, report: ImportReport | None = None
) -> list[str]:
    """Of outlines that lie over one another like sizes, keep the one that is wanted; what is to be told of it.

    Raises
    ------
    FormatError
        If there are several and none was asked for, or one that is not there.
    """
    nests = [] if asked == ALL else _apart(_nests(found, page))
    if not nests:
        if asked not in (None, ALL):
            raise FormatError(f"the file has no size {asked!r}: no outlines are nested like sizes")
        return []
    drawn = [_named(nest) for nest in nests]
    told = {name: outline.size_told for nest in drawn for name, outline in nest.items() if outline.size_told}
    if len({*told.values(), *(name for nest in drawn for name in nest if name not in told)}) < len(
        {name for nest in drawn for name in nest}
    ):
        raise FormatError(f"two sizes have the same name: {', '.join(sorted(told.values()))}: give each its own")
    named = [{told.get(name, name): outline for name, outline in nest.items()} for nest in drawn]
    known = _in_order(named)
    if report is not None:
        report.sizes = tuple(known)
        report.nests = [frozenset(outline.ring.numbers[0] for outline in nest) for nest in nests]
        report.sized = {outline.ring.numbers[0]: name for nest in named for name, outline in nest.items()}
    if asked is None:
        raise SeveralSizesError(
            f"outlines are nested like the sizes of one piece: {', '.join(known)}, smallest first: choose one with "
            f"--size, or give --size {ALL} if they are not sizes",
            tuple(known),
        )
    size = asked
    for nest, before in zip(named, drawn, strict=True):
        wanted = nest.get(asked, before.get(asked))  # what was asked for may have been given a name since
        if wanted is None:
            raise FormatError(f"the file has no single size {asked!r}: it has {', '.join(nest)}")
        size = next(name for name, outline in nest.items() if outline is wanted)
        for outline in nest.values():
            outline.part = "piece" if outline is wanted else "another size"
            if outline is not wanted:
                outline.why = f"size {size} is read"
            elif may_be_size(outline.ring.called):
                outline.why = "size"
        _free(list(nest.values()), wanted)
    if report is not None:
        report.size = size
        _doubt_numbers(named, size, report)
        _doubt_mirrored(nests, found, size, report)
    return [f"nested outlines are taken as sizes: {', '.join(known)}; size {size} is read"]


def in_the_size(
    drawing: Drawing, chains: list[JoinedLine], found: Sequence[Outline], report: ImportReport
) -> tuple[Drawing, list[JoinedLine]]:
    """Lines, points and words without those of other sizes.

    Those stand on layers where other sizes are drawn and nothing else is. What the size that is read has none of on its
    own layers, such as a grainline, may be drawn for all sizes in one of them: it is kept.
    """
    layers: dict[str, set[str]] = {}
    for outline in found:
        number = outline.ring.numbers[0]
        if number in report.sized or not outline.is_small:
            layers.setdefault(_layer((number,), report), set()).add(report.sized.get(number, report.size))
    others = {layer for layer, sizes in layers.items() if layer and report.size not in sizes} if report.size else set()
    if not others:
        return drawing, chains
    strokes = [one for one in drawing.strokes if one.role != "outline"]
    things = [*((one.role, one.numbers) for one in strokes), *((one.role, one.numbers) for one in drawing.points)]
    things += [*(("words", one.numbers) for one in drawing.words), *(("line", one.numbers) for one in chains)]
    own = {kind for kind, numbers in things if report.size in layers.get(_layer(numbers, report), ())}
    gone = [numbers for kind, numbers in things if kind in own and _layer(numbers, report) in others]
    for numbers in gone:
        report.account.put(numbers, "another size", why=f"size {report.size} is read")
    lost = {number for numbers in gone for number in numbers}
    for outline in found:
        outline.words = [word for word in outline.words if lost.isdisjoint(word.numbers)]
    kept = replace(
        drawing,
        strokes=[one for one in drawing.strokes if lost.isdisjoint(one.numbers)],
        points=[one for one in drawing.points if lost.isdisjoint(one.numbers)],
        words=[one for one in drawing.words if lost.isdisjoint(one.numbers)],
    )
    return kept, [chain for chain in chains if lost.isdisjoint(chain.numbers)]


def _layer(numbers: Sequence[int], report: ImportReport) -> str:
    return report.account.entries[numbers[0] - 1].mark.layer if numbers else ""


def _doubt_numbers(named: Sequence[Mapping[str, Outline]], size: str, report: ImportReport) -> None:
    """Tell of pieces in more sizes and in fewer, where sizes are but counted: the same number may not be the same."""
    counts = sorted({len(nest) for nest in named})
    if len(counts) > 1 and any(_name(one) != name != one.size_told for nest in named for name, one in nest.items()):
        many = " and in ".join(map(str, counts))
        report.sizes_are_counted = True
        report.guess(
            f"pieces are drawn in {many} sizes, and not all of these have names: they are counted in each piece from "
            f"the smallest, so that size {size} may not be the same size in all: name the sizes"
        )


def _doubt_mirrored(
    nests: Sequence[Sequence[Outline]], found: Sequence[Outline], size: str, report: ImportReport
) -> None:
    """Tell of outlines that lie over the sizes of a piece and are like their mirror image: one may be a size of it."""
    inside = {id(outline) for nest in nests for outline in nest}
    others = [outline for outline in found if id(outline) not in inside and not outline.told and not outline.is_small]
    for nest in nests:
        for outline in others:
            close = [one for one in nest if min(one.size, outline.size) >= SHARED * max(one.size, outline.size)]
            over = next((one for one in close if _are_mirrored(one, outline)), None)
            if over is not None:
                number, of = outline.ring.numbers[0], over.ring.numbers[0]
                report.guess(
                    f"the outline of number {number} lies over that of number {of}, and is like its mirror image: if it"
                    f" is a size of the same piece, turn it over in the file; it is not taken for one,"
                    f" and so sizes may be counted wrongly (size {size} is read)"
                )
                report.mirrored.append(frozenset(one.ring.numbers[0] for one in nest))
                break


def _are_mirrored(one: Outline, other: Outline) -> bool:
    shared = one.area.intersection(other.area).area
    return shared >= MOST_OFF * max(one.size, other.size) and _alike(one, other, is_mirrored=True)


def _free(nest: list[Outline], wanted: Outline) -> None:
    """Put the wanted outline in the place of all; what lies in others and not in it goes with the outermost."""
    top = max(nest, key=lambda outline: outline.size)
    for outline in nest:
        outline.children = [child for child in outline.children if child not in nest]
        for child in outline.children:
            if outline is not wanted:
                child.parent = wanted
                wanted.children.append(child)
        if outline is not wanted:
            wanted.words += outline.words
            outline.children, outline.words = [], []
    above = top.parent if top.parent not in nest else None
    if above is not None:
        above.children = [child for child in above.children if child not in nest]
        above.children.append(wanted)
    for outline in nest:
        outline.parent = above


def _nests(found: Sequence[Outline], page: Floats | None) -> list[list[Outline]]:
    """All sets of outlines that are sizes of the same piece."""
    import shapely

    usable = [
        outline
        for outline in found
        if outline.size_told or not (outline.told or outline.is_small or _material(outline) or is_around(outline, page))
    ]
    if len(usable) < 2:
        return []
    areas = np.array([outline.area for outline in usable])
    sizes = shapely.area(areas)
    i, j = shapely.STRtree(areas).query(areas)  # by their boxes alone: which of them share cloth is measured below
    ratio = np.minimum(sizes[i], sizes[j]) / np.maximum(np.maximum(sizes[i], sizes[j]), 1e-9)
    pairs = np.array([i, j]).T[(i != j) & (ratio >= SHARED) & (ratio <= SAME_SIZE)]
    if len(pairs) > MOST_PAIRS:
        raise FormatError(f"hundreds of outlines are nested: export one size alone, or give --size {ALL}")
    over: dict[int, list[Outline]] = {}
    for one, other in pairs.tolist():
        if _are_sizes(usable[one], usable[other]):
            over.setdefault(one, []).append(usable[other])
    nests = [sorted([usable[i], *others], key=lambda outline: outline.size) for i, others in over.items()]
    return [nest for nest in nests if len(nest) > 2 or not _only_two(nest)]


def _only_two(nest: Sequence[Outline]) -> bool:
    """Whether two outlines could as well be something else: rectangles, or a line at an even distance."""
    small, large = nest
    if may_be_size(_name(small)) and may_be_size(_name(large)):
        return False
    return (small.is_rectangle and large.is_rectangle) or evenly_within(small, large)


def _are_sizes(one: Outline, other: Outline) -> bool:
    if one.size_told and other.size_told:
        return True
    names = [_name(one), _name(other)]
    is_told = one.size_told or other.size_told
    if not is_told and all(names) and names[0] != names[1] and not all(map(_may_count, names)):
        return False
    shared = one.area.intersection(other.area).area
    return shared >= SHARED * max(one.size, other.size) and _alike(one, other)


def _may_count(name: str) -> bool:
    """Whether a name is one of a size, or counts sizes from 0 or 1."""
    return may_be_size(name) or name.strip() in ("0", "1")


def _alike(one: Outline, other: Outline, *, is_mirrored: bool = False) -> bool:
    """Whether both have the same shape once they are equally large; or one has that of the other's mirror image."""
    import shapely

    def scaled(outline: Outline) -> Floats:
        low, high = outline.box
        unit: Floats = (outline.ring.points - low) / np.maximum(high - low, 1e-9)
        return unit

    places = scaled(one)
    if is_mirrored:
        places = np.column_stack([1 - places[:, 0], places[:, 1]])
    a, b = (shapely.make_valid(shapely.Polygon(points)) for points in (places, scaled(other)))
    whole = a.union(b).area
    return bool(whole > 0 and a.intersection(b).area >= ALIKE * whole)


def _material(outline: Outline) -> bool:
    return any(cut.material for name in (outline.ring.called, outline.layer) for cut in read_words(name).cuts)


def _name(outline: Outline) -> str:
    """What tells it from the others: its own name, its layer, or words alone in it that are a size."""
    if name := outline.ring.called or outline.layer:
        return name
    words = [word.text.strip() for word in outline.words if may_be_size(word.text)]
    return words[0] if len(words) == 1 else ""


def _named(nest: Sequence[Outline]) -> dict[str, Outline]:
    """The sizes by their names, or by numbers from the smallest."""
    names = [_name(outline) for outline in nest]
    if not all(names) or len(set(names)) < len(names):
        names = [str(number) for number in range(1, len(nest) + 1)]
    return dict(zip(names, nest, strict=True))


def _in_order(nests: Sequence[Mapping[str, Outline]]) -> list[str]:
    """The names of all sizes, smallest first: as most of the pieces have each two of them."""
    votes = Counter((a, b) for nest in nests for a, b in combinations(nest, 2))
    names = list(dict.fromkeys(name for nest in nests for name in nest))
    before: dict[str, set[str]] = {name: set() for name in names}
    for (a, b), many in votes.items():
        if many > votes[b, a]:
            before[b].add(a)
    order: list[str] = []
    while before:
        name = next((name for name, smaller in before.items() if not smaller & before.keys()), next(iter(before)))
        del before[name]
        order.append(name)
    return in_size_order(order)


def _apart(nests: list[list[Outline]]) -> list[list[Outline]]:
    """Each nest once; of nests that share an outline the largest."""
    kept: list[list[Outline]] = []
    for nest in sorted(nests, key=len, reverse=True):
        if not any(outline in other for other in kept for outline in nest):
            kept.append(nest)
    return kept
