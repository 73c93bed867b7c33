"""What was read of a file of patterns: every outline numbered as in the account, and drawn as what it was taken for."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from matplotlib.collections import LineCollection

from reports.draw.kit.sheet import BLACK, MARGIN, PAGE_HEIGHT, PAGE_WIDTH, Sheet, new_page, shorten

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from pieces.exchange.account import Account, EntryRole, FileEntry
    from reports.draw.kit.surface import Style

    Floats = NDArray[np.float64]

KEY_WIDTH = 250.0
"""Of the column with the key and the list, points."""

MOST_LISTED = 38

MOST_NUMBERED = 400

MANY_POINTS, SEEN = 50_000, 0.1
"""Of more points, those that stand this little off their lines are not drawn, points of the page."""

BEYOND = 0.15
"""How far around what is used the picture shows what is not, in shares of its size."""


class Pen(NamedTuple):
    """How a thing is drawn: told apart by its line as well as by its colour."""

    colour: str
    style: Style
    width: float
    sign: str = ""


# Colours that people see apart whatever their colour vision (Okabe and Ito 2008, "Color Universal Design").
PENS: dict[EntryRole, Pen] = {
    "piece": Pen(BLACK, "-", 1.6),
    "cutout": Pen("#D55E00", "-", 0.8),
    "sew line": Pen("#0072B2", (0, (5, 3)), 0.9),
    "inner line": Pen("#009E73", (0, (8, 2, 1.5, 2)), 0.8),
    "fold": Pen("#CC79A7", (0, (10, 2, 1.5, 2, 1.5, 2)), 1.6),
    "grain": Pen("#0072B2", (0, (16, 3)), 1.0),
    "notch": Pen(BLACK, "-", 0.9, "D"),
    "drill point": Pen("#D55E00", "-", 0.9, "o"),
    "frame": Pen("#E69F00", (0, (2, 1.5)), 1.3),
    "another size": Pen("0.45", (0, (3, 3)), 0.6),
    "words read": Pen("#56B4E9", "-", 0.5, "$T$"),
    "hidden": Pen("0.6", (0, (1, 2)), 0.8),
    "not drawn": Pen("0.6", (0, (1, 4)), 0.6),
    "left out": Pen("#D55E00", (0, (1, 1.2)), 1.1, "x"),
}


def reading_page(account: Account, *, title: str) -> Figure:
    """Draw everything in a file where it lies there, with a key and a list of its outlines.

    Returns
    -------
    Figure
        A4 on its side.
    """
    figure, page = new_page()
    page.text(MARGIN, PAGE_HEIGHT - MARGIN - 15, shorten(title, 15, PAGE_WIDTH - 2 * MARGIN, bold=True), 15, bold=True)
    left, wide, high = MARGIN, PAGE_WIDTH - 2 * MARGIN - KEY_WIDTH, PAGE_HEIGHT - 2 * MARGIN - 40
    ax = figure.add_axes((left / PAGE_WIDTH, MARGIN / PAGE_HEIGHT, wide / PAGE_WIDTH, high / PAGE_HEIGHT))
    ax.set_axis_off()
    low, span = _view(account.entries, wide / high)
    ax.set_xlim(low[0], low[0] + span[0])
    ax.set_ylim(low[1], low[1] + span[1])
    sheet = Sheet(ax, float(span[0]) / wide)
    many = sum(len(e.points) for e in account.entries if e.points is not None)
    for place, pen in PENS.items():
        drawn = [e for e in account.entries if e.place == place and e.points is not None]
        _draw(sheet, drawn, pen, SEEN * sheet.pt if many > MANY_POINTS else 0.0)
    numbered = _numbered(account.entries)
    for number, entry in numbered[:MOST_NUMBERED]:
        if entry.points is None:
            continue
        x, y = entry.points[int(np.argmax(entry.points[:, 1] - 1e-3 * entry.points[:, 0]))].tolist()
        _number(sheet, x, y, number)
    top = _key(page, account, PAGE_WIDTH - MARGIN - KEY_WIDTH + 16, PAGE_HEIGHT - MARGIN - 44)
    _list(page, numbered, PAGE_WIDTH - MARGIN - KEY_WIDTH + 16, top - 10)
    return figure


def _view(entries: Sequence[FileEntry], shape: float) -> tuple[Floats, Floats]:
    """Lower left corner and size of what the picture shows, mm: all that is used, and what lies near."""
    drawn = [e.points for e in entries if e.points is not None and e.place not in ("left out", "hidden", "not drawn")]
    drawn = drawn or [e.points for e in entries if e.points is not None] or [np.array([[0.0, 0.0], [1.0, 1.0]])]
    every = np.vstack(drawn)
    low, high = every.min(axis=0), every.max(axis=0)
    size = np.maximum(high - low, 1e-3)
    size = size * (1 + 2 * BEYOND)
    span = np.array([max(size[0], size[1] * shape), max(size[1], size[0] / shape)])
    corner: Floats = (low + high - span) / 2
    return corner, span


def _draw(sheet: Sheet, entries: Sequence[FileEntry], pen: Pen, off: float) -> None:
    """Draw all things of one place: lines, to `off` mm, and a sign for points and words."""
    closed = {"closed outline"}
    lines = [
        np.vstack([e.points, e.points[:1]]) if e.kind in closed else e.points
        for e in entries
        if e.points is not None and len(e.points) > 1 and e.kind != "words"
    ]
    drawn = LineCollection(
        _sparser(lines, off) if off else lines, colors=pen.colour, linewidths=pen.width, linestyles=[pen.style]
    )
    sheet.ax.add_collection(drawn, autolim=False)
    signed = [e.points.mean(axis=0) for e in entries if e.points is not None and (e.kind in ("point", "words"))]
    if signed and pen.sign:
        x, y = np.array(signed).T
        sheet.ax.plot(x, y, linestyle="none", marker=pen.sign, markersize=4, color=pen.colour, fillstyle="none")


def _sparser(lines: Sequence[Floats], off: float) -> list[Floats]:
    """Lines with fewer points, which stray from them by no more than `off` mm."""
    import shapely

    kept = []
    for line in lines:
        fewer = shapely.get_coordinates(shapely.simplify(shapely.LineString(line), off, preserve_topology=False))
        kept.append(fewer if len(fewer) > 1 else line)
    return kept


def _numbered(entries: Sequence[FileEntry]) -> list[tuple[str, FileEntry]]:
    """What gets a number: each closed outline, and lines that were joined to one together."""
    joined: dict[int, list[FileEntry]] = {}
    for entry in entries:
        if entry.points is not None and entry.place in PENS and (entry.outline or entry.kind == "closed outline"):
            joined.setdefault(entry.outline or entry.number, []).append(entry)
    found = []
    for lines in joined.values():
        numbers = [line.number for line in lines]
        words = str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"
        found.append((words, max(lines, key=_top)))
    return sorted(found, key=lambda pair: pair[1].number)


def _top(entry: FileEntry) -> float:
    return float(entry.points[:, 1].max()) if entry.points is not None else 0.0


def _number(sheet: Sheet, x: float, y: float, number: str) -> None:
    low, high = sheet.ax.get_xlim(), sheet.ax.get_ylim()
    if low[0] <= x <= low[1] and high[0] <= y <= high[1]:
        box = {"boxstyle": "round,pad=0.15", "facecolor": "white", "edgecolor": "0.5", "linewidth": 0.4}
        sheet.ax.text(x, y, number, fontsize=6.5, ha="center", va="center", bbox=box, zorder=5, parse_math=False)


def _key(page: Sheet, account: Account, x: float, top: float) -> float:
    """What each line means, and how many there are; where the key ends."""
    page.text(x, top, "What it was taken for", 9, bold=True)
    places = account.places()
    for place, pen in PENS.items():
        if place not in places:
            continue
        top -= 14
        if pen.sign and place in ("notch", "drill point", "words read"):
            page.ax.plot(
                [x + 17],
                [top + 2.5],
                linestyle="none",
                marker=pen.sign,
                markersize=4.5,
                color=pen.colour,
                fillstyle="none",
            )
        else:
            page.line([(x, top + 2.5), (x + 34, top + 2.5)], pen.width, style=pen.style, colour=pen.colour)
        page.text(x + 42, top, f"{place}: {places[place]}{account.outlines(place)}", 8)
    rest = {place: count for place, count in places.items() if place not in PENS}
    total = f"in all {len(account.entries)}" + "".join(f", {place} {count}" for place, count in rest.items())
    page.text(x, top - 16, shorten(f"{total}: as many as in the file", 7, KEY_WIDTH - 20), 7)
    return top - 26


def _list(page: Sheet, numbered: Sequence[tuple[str, FileEntry]], x: float, top: float) -> None:
    """The outlines by number, as far as there is room."""
    page.text(x, top, "Outlines by number", 9, bold=True)
    room = min(MOST_LISTED, max(0, int((top - MARGIN - 14) / 10)))
    for number, entry in numbered[:room]:
        top -= 10
        words = f"{number}  {entry.place}" + (f" of '{entry.of}'" if entry.of and entry.place != "piece" else "")
        words += f" '{entry.of}'" if entry.place == "piece" else ""
        words += f": {entry.why}" if entry.why else ""
        page.text(x, top, shorten(words, 7, KEY_WIDTH - 20), 7)
    if len(numbered) > room:
        page.text(x, top - 10, f"and {len(numbered) - room} more: see import.txt", 7)
