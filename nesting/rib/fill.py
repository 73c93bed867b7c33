"""First plans for rib: long bands cut into full widths and a rest, all parts laid where they first fit."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.rib.task import BandPart, StripRow

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.rib.task import BandKind, RibTask


def cut_parts(task: RibTask) -> Iterator[BandPart]:
    """Every band as few parts: as many full widths as it holds, and the rest."""
    for index, kind in enumerate(task.kinds):
        lengths = part_lengths(task, kind)
        for copy in range(kind.count):
            joined = copy if len(lengths) > 1 else None
            yield from (BandPart(index, length, joined) for length in lengths)


def part_lengths(task: RibTask, kind: BandKind) -> list[int]:
    """A band in as few parts as can be: full widths, and a rest that is no shorter than a part may be."""
    pieces = task.fewest_parts(kind)
    rest = kind.length + (pieces - 1) * (task.join - task.width)
    short = max(0, task.least - rest) if pieces > 1 else 0
    return [task.width] * (pieces - 2) + [task.width - short] * (pieces > 1) + [rest + short]


def first_fit(task: RibTask, parts: Sequence[BandPart]) -> list[StripRow]:
    """Deepest parts first, longest first, each in the first row with room."""
    rows: list[list[BandPart]] = []
    room: list[int] = []
    for part in sorted(parts, key=lambda part: (-task.kinds[part.kind].depth, -part.length)):
        at = next((i for i, left in enumerate(room) if part.length <= left), len(rows))
        if at == len(rows):
            rows.append([])
            room.append(task.width)
        rows[at].append(part)
        room[at] -= part.length
    return [StripRow(tuple(row)) for row in rows]


def next_fit(task: RibTask, parts: Sequence[BandPart]) -> list[StripRow]:
    """Deepest parts first, longest first, each in the last row or in a new one: for any number of them."""
    rows: list[list[BandPart]] = [[]]
    room = task.width
    for part in sorted(parts, key=lambda part: (-task.kinds[part.kind].depth, -part.length)):
        if part.length > room:
            rows.append([])
            room = task.width
        rows[-1].append(part)
        room -= part.length
    return [StripRow(tuple(row)) for row in rows]


def stack_rows(task: RibTask, rows: Sequence[StripRow]) -> list[StripRow]:
    """Rows put into strips, deepest first, each in the first strip with room; as they are where there are none."""
    rows = sorted(rows, key=lambda row: (-task.row_depth(row), -sum(part.length for part in row.parts)))
    if task.strip_depth is None:
        return list(rows)
    stacked, room = [], list[int]()
    for row in rows:
        depth = task.row_depth(row)
        at = next((i for i, left in enumerate(room) if depth <= left), len(room))
        if at == len(room):
            room.append(task.strip_depth)
        room[at] -= depth
        stacked.append(replace(row, strip=at))
    return sorted(stacked, key=lambda row: row.strip)
