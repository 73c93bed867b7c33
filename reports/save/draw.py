"""What each change saves, as bars."""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.figure import Figure

from pieces.units import format_bound, format_need
from reports.draw.kit.sheet import BLACK, FONT, GREY, PALE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.units import Units

ROW, WIDTH = 0.36, 9.0
"""Height of a bar's row, and the page's width, inches."""

LINE = 0.16
"""Height of a line below the bars, inches."""

ROOM = 0.4
"""Room for the words beside the longest bar, as a share of all bars."""

CAPTION = "Each bar's change was drafted and laid; differences within the grey band may come from the search alone."


def savings_page(
    title: str, bars: Sequence[tuple[str, float]], untold: Sequence[str], scatter: float, units: Units
) -> Figure:
    """A bar for each change, longest saving on top.

    Parameters
    ----------
    bars
        Name and length of cloth saved, mm, less than 0 if it takes more.
    untold
        Changes of which no length is told, and what came of them.
    scatter
        How much may be the search's own, mm.
    """
    height = 1.5 + ROW * len(bars) + LINE * len(untold)
    figure = Figure(figsize=(WIDTH, height), layout="constrained")
    ax = figure.add_subplot()
    ax.axvspan(-scatter, scatter, color=PALE, lw=0)
    ax.axvline(0, color=BLACK, lw=0.8)
    for i, (_, saved) in enumerate(bars):
        ax.barh(i, saved, height=0.6, color=GREY if abs(saved) > scatter else PALE, edgecolor=BLACK, lw=0.6)
        words = f"saves {format_bound(saved, units)}" if saved >= 0 else f"takes {format_need(-saved, units)} more"
        offset = (4, 0) if saved >= 0 else (-4, 0)
        ax.annotate(
            words,
            (saved, i),
            offset,
            textcoords="offset points",
            ha="left" if saved >= 0 else "right",
            va="center",
            fontsize=8.5,
            family=FONT,
        )
    most, least = max([scatter, *(saved for _, saved in bars)]), min([-scatter, *(saved for _, saved in bars)])
    room = ROOM * (most - least)
    ax.set(xlim=(least - (room if least < -scatter else 0), most + room), ylim=(len(bars) - 0.5, -0.5), xticks=[])
    ax.set_xlabel("\n".join([CAPTION, *untold]), fontsize=8, family=FONT, loc="left")
    ax.set_yticks(range(len(bars)), [name for name, _ in bars], fontsize=9, family=FONT)
    ax.set_title(title, fontsize=12, weight="bold", family=FONT, loc="left")
    ax.tick_params(length=0)
    for side in ("top", "right", "bottom", "left"):
        ax.spines[side].set_visible(False)
    return figure
