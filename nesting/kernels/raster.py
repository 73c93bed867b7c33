"""The main search on a raster: whole maps of overlap, and the moves that lessen it.

Shapes lie on lattice points. For two shapes a table gives the depth of their overlap at each offset; the sum of
these tables over all outlines, seen from one shape, is a map of the strip. All depths are whole numbers, so that
the maps do not drift although they are kept up to date move by move.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.kernels.jit import kernel

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Tables(NamedTuple):
    """Depths of overlap for every two of V shapes.

    Parameters
    ----------
    depth
        All tables one after the other, int16.
    start, left, low, columns, rows
        (V, V), int64: of the table for a fixed and a moved shape its beginning, the offset in cells that its
        first entry stands for, and its size. Entries that follow one another lie along the cloth.
    first, last
        Per item, int64: its shapes are `first` to `last - 1`.
    own
        (V,), int64: depth of each shape on a copy of itself in the same place; its own map holds it.
    stride_x, stride_y
        (V,), int64: of the lattice points along and across, each shape lies on every so many only.
    """

    depth: NDArray[np.int16]
    start: NDArray[np.int64]
    left: NDArray[np.int64]
    low: NDArray[np.int64]
    columns: NDArray[np.int64]
    rows: NDArray[np.int64]
    first: NDArray[np.int64]
    last: NDArray[np.int64]
    own: NDArray[np.int64]
    stride_x: NDArray[np.int64]
    stride_y: NDArray[np.int64]


class Board(NamedTuple):
    """A layout of n outlines on the lattice, the maps of V shapes, and the weights of pairs.

    Parameters
    ----------
    item, shape, x, y
        (n,), int64: item, shape, and lattice position of each outline.
    map, start, columns, rows
        Maps of all shapes one after the other, float32, and (V,), int64: each one's beginning and size.
    spare
        Room for one line of a map, float32.
    map_bits, bits
        The same memory as `map` and `spare` as int32. Floats that are not negative are in the order of their
        bits, and the least of whole numbers is found thirty times as fast, by vector code.
    weight
        (n, n), float32: symmetric, at least 1.
    seed
        (1,), uint64: state of the random numbers.
    """

    item: NDArray[np.int64]
    shape: NDArray[np.int64]
    x: NDArray[np.int64]
    y: NDArray[np.int64]
    map: NDArray[np.float32]
    map_bits: NDArray[np.int32]
    start: NDArray[np.int64]
    columns: NDArray[np.int64]
    rows: NDArray[np.int64]
    spare: NDArray[np.float32]
    bits: NDArray[np.int32]
    weight: NDArray[np.float32]
    seed: NDArray[np.uint64]


@kernel
def _add(target, begin, columns, rows, tables, fixed, moved, x, y, factor):  # type: ignore[no-untyped-def]
    """Add a table, times a factor, to a map of shape `moved`; the fixed shape lies at (x, y)."""
    wide, high = tables.columns[fixed, moved], tables.rows[fixed, moved]
    x += tables.left[fixed, moved]
    y += tables.low[fixed, moved]
    left, count = max(0, -x), min(wide, columns - x) - max(0, -x)
    if count <= 0:
        return
    for row in range(max(0, -y), min(high, rows - y)):
        # Unsigned numbers cannot count from the end, so that the compiler makes vector code without a slice.
        to = np.uint64(begin + (y + row) * columns + x + left)
        at = np.uint64(tables.start[fixed, moved] + row * wide + left)
        for k in range(np.uint64(count)):
            target[to + k] += factor * np.float32(tables.depth[at + k])


@kernel
def _depth(tables, fixed, moved, dx, dy):  # type: ignore[no-untyped-def]
    column, row = dx - tables.left[fixed, moved], dy - tables.low[fixed, moved]
    if 0 <= column < tables.columns[fixed, moved] and 0 <= row < tables.rows[fixed, moved]:
        return np.int64(tables.depth[tables.start[fixed, moved] + row * tables.columns[fixed, moved] + column])
    return np.int64(0)


@kernel
def _lift(tables, board, i, factor):  # type: ignore[no-untyped-def]
    """Add outline i to all maps, or take it off them."""
    for moved in range(len(board.start)):
        _add(
            board.map, board.start[moved], board.columns[moved], board.rows[moved],
            tables, board.shape[i], moved, board.x[i], board.y[i], factor,
        )  # fmt: skip


@kernel
def lay(tables, board):  # type: ignore[no-untyped-def]
    """Make the maps anew from the positions."""
    board.map[:] = 0
    for i in range(len(board.x)):
        _lift(tables, board, i, np.float32(1))


@kernel
def _random(seed, below):  # type: ignore[no-untyped-def]
    """A whole number under `below` (xorshift64*, Vigna 2016, from memory)."""
    state = seed[0]
    state ^= state >> np.uint64(12)
    state ^= state << np.uint64(25)
    state ^= state >> np.uint64(27)
    seed[0] = state
    return np.int64((state * np.uint64(2685821657736338717)) >> np.uint64(33)) % below


@kernel
def _conflict(tables, board, i):  # type: ignore[no-untyped-def]
    """Sum of the depths between outline i and all others."""
    shape = board.shape[i]
    at = board.start[shape] + board.y[i] * board.columns[shape] + board.x[i]
    return np.int64(board.map[at]) - tables.own[shape]


@kernel
def total(tables, board):  # type: ignore[no-untyped-def]
    """Sum of the depths over all pairs."""
    double = np.int64(0)
    for i in range(len(board.x)):
        double += _conflict(tables, board, i)
    return double // 2


@kernel
def _least_of_all(line):  # type: ignore[no-untyped-def]
    least = np.int32(2147483647)
    for k in range(len(line)):
        least = min(least, line[k])
    return least


@kernel
def _least(line, stride):  # type: ignore[no-untyped-def]
    """The least of the numbers a stride apart; of all of them by a loop that becomes vector code."""
    if stride == 1:
        return _least_of_all(line)
    least = np.int32(2147483647)
    for k in range(0, len(line), stride):
        least = min(least, line[k])
    return least


@kernel
def _add_row(line, tables, fixed, moved, x, row, factor):  # type: ignore[no-untyped-def]
    """Add one row of a table, times a factor, to a line of a map that the fixed shape lies at x of."""
    wide = tables.columns[fixed, moved]
    x += tables.left[fixed, moved]
    left = max(0, -x)
    count = min(wide, len(line) - x) - left
    if count <= 0:
        return
    to, at = np.uint64(x + left), np.uint64(tables.start[fixed, moved] + row * wide + left)
    for k in range(np.uint64(count)):
        line[to + k] += factor * np.float32(tables.depth[at + k])


@kernel
def relocate(tables, board, i):  # type: ignore[no-untyped-def]  # noqa: C901 - the innermost loops, in one
    """Move outline i to the place on the strip, in any of its shapes, where its weighted overlap is least.

    Weights are at least 1, so a line of the map that is nowhere better without them needs no adding up.
    """
    n, own, own_x, own_y = len(board.x), board.shape[i], board.x[i], board.y[i]
    best, best_shape, best_x, best_y = np.int32(2147483647), own, own_x, own_y
    heavy, count = np.empty(n, dtype=np.int64), 0
    for j in range(n):
        if board.weight[i, j] > 1:
            heavy[count] = j
            count += 1
    for moved in range(tables.first[board.item[i]], tables.last[board.item[i]]):
        columns, rows, stride = board.columns[moved], board.rows[moved], tables.stride_x[moved]
        line, bits = board.spare[:columns], board.bits[:columns]
        own_low, own_rows = own_y + tables.low[own, moved], tables.rows[own, moved]
        for row in range(0, rows, tables.stride_y[moved]):
            at = board.start[moved] + row * columns
            if 0 <= row - own_low < own_rows:
                line[:] = board.map[at : at + columns]
                _add_row(line, tables, own, moved, own_x, row - own_low, np.float32(-1))
                if _least(bits, stride) > best:
                    continue
            else:
                if _least(board.map_bits[at : at + columns], stride) > best:
                    continue
                line[:] = board.map[at : at + columns]
            for k in range(count):
                j = heavy[k]
                shape = board.shape[j]
                high = row - board.y[j] - tables.low[shape, moved]
                if 0 <= high < tables.rows[shape, moved]:
                    extra = board.weight[i, j] - np.float32(1)
                    _add_row(line, tables, shape, moved, board.x[j], high, extra)
            least = _least(bits, stride)
            if least < best or (least == best and moved == best_shape):
                for column in range(0, columns, stride):
                    if bits[column] == least:
                        if least < best or column < best_x:
                            best, best_shape, best_x, best_y = least, moved, column, row
                        break
    if best_shape != own or best_x != own_x or best_y != own_y:
        _lift(tables, board, i, np.float32(-1))
        board.shape[i], board.x[i], board.y[i] = best_shape, best_x, best_y
        _lift(tables, board, i, np.float32(1))


@kernel
def _reweigh(tables, board, queue, decay):  # type: ignore[no-untyped-def]
    """Make pairs in conflict heavier, the worst by 1; let the others fall back towards 1.

    Guided local search with additive growth, as in Umetani and others 2009. `queue`: the outlines in conflict.
    """
    worst = np.int64(1)
    for step in range(2):
        for a in range(len(queue)):
            i = queue[a]
            for b in range(a):
                j = queue[b]
                dx, dy = board.x[i] - board.x[j], board.y[i] - board.y[j]
                depth = _depth(tables, board.shape[j], board.shape[i], dx, dy)
                if step == 0:
                    worst = max(worst, depth)
                elif depth > 0:
                    # Negative for a moment: grown already, not to fall back.
                    grown = board.weight[i, j] + np.float32(depth) / np.float32(worst)
                    board.weight[i, j] = board.weight[j, i] = -grown
    for i in range(len(board.x)):
        for j in range(i):
            weight = board.weight[i, j]
            if weight == 1:
                continue
            if weight < 0:
                weight = -weight
            else:
                weight = np.float32(1) + (weight - np.float32(1)) * np.float32(decay)
                if weight < 1.1:
                    weight = np.float32(1)
            board.weight[i, j] = board.weight[j, i] = weight


@kernel
def sweeps(tables, board, best, goal, decay, patience, ticks, moves):  # type: ignore[no-untyped-def]
    """Sweep over the outlines in conflict, in random order, until there is no conflict, or no progress.

    Parameters
    ----------
    best
        (3, n), int64: shapes and positions where the total was least; kept up to date.
    goal
        Share of the least total that counts as progress.
    decay
        How a weight falls back towards 1, a sweep.
    patience
        Sweeps without progress to end after.
    ticks
        (3,), int64: least total so far (-1: none), total to beat, sweeps since; kept from call to call.
    moves
        End the call after about so many relocations, so that it stays short.

    Returns
    -------
    tuple of bool and int
        Whether the search is over (not only the call), and relocations done.
    """
    n, done = len(board.x), 0
    queue = np.empty(n, dtype=np.int64)
    while True:
        count, now = 0, np.int64(0)
        for i in range(n):
            conflict = _conflict(tables, board, i)
            now += conflict
            if conflict > 0:
                queue[count] = i
                count += 1
        now //= 2
        if ticks[0] < 0 or now < ticks[0]:
            ticks[0] = now
            best[0], best[1], best[2] = board.shape, board.x, board.y
        if ticks[1] < 0 or now < goal * ticks[1]:
            ticks[1], ticks[2] = now, 0
        else:
            ticks[2] += 1
        if now == 0 or ticks[2] > patience:
            return True, done
        if done >= moves:
            return False, done
        _reweigh(tables, board, queue[:count], decay)
        for k in range(count):
            pick = k + _random(board.seed, count - k)
            i = queue[pick]
            queue[pick] = queue[k]
            if _conflict(tables, board, i) > 0:
                relocate(tables, board, i)
                done += 1
