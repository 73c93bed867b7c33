"""What each change saves, as bars."""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.figure import Figure

from reports.draw.kit.sheet import BLACK, FONT, GREY, MARGIN, PAGE_WIDTH, PALE, wrap
from reports.save.words import bought_words, length_words, scatter_line

if TYPE_CHECKING:
    from reports.save.saves import Savings

ROW, LINE = 0.36, 0.16
"""Height of a bar's row, and of a line below the bars, inches."""

CAPTION = "Each bar is how much shorter (to the right) or longer the marker is; its change was drafted and laid."


def savings_page(found: Savings) -> Figure:
    """A bar for each change, the shortest marker on top; beside it, how much less is bought.

    Below stands what came of changes of which no length is told.
    """
    units, scatter = found.job.written_in, found.scatter or 0.0
    rows = [row for row in found.rows[1:] if row.marker]
    untold = [f"{row.name}: {row.outcome}" for row in found.rows[1:] if not row.marker]
    notes = [line for words in (CAPTION, scatter_line(found), *untold) for line in wrap(words, 8, PAGE_WIDTH / 2)]
    margin = MARGIN / 72
    wide, high = PAGE_WIDTH / 72, 2 * margin + 0.8 + ROW * max(1, len(rows)) + LINE * len(notes)
    figure = Figure(figsize=(wide, high), layout="constrained")
    engine = figure.get_layout_engine()
    assert engine is not None
    engine.set(rect=(margin / wide, margin / high, 1 - 2 * margin / wide, 1 - 2 * margin / high))  # type: ignore[call-arg]
    ax = figure.add_subplot()
    ax.axvspan(-scatter, scatter, color=PALE, lw=0)
    ax.axvline(0, color=BLACK, lw=0.8)
    for i, row in enumerate(rows):
        ax.barh(i, row.saved, height=0.6, color=GREY if abs(row.saved) > scatter else PALE, edgecolor=BLACK, lw=0.6)
        words = f"{length_words(row.saved, units)}; {bought_words(found, row)}"
        beside = ("axes fraction", "data")
        ax.annotate(words, (1.01, i), xycoords=beside, va="center", fontsize=8.5, family=FONT, annotation_clip=False)
    ends = [-scatter, scatter, *(row.saved for row in rows)]
    spare = 0.03 * max(1.0, max(ends) - min(ends))
    ax.set(xlim=(min(ends) - spare, max(ends) + spare), ylim=(max(1, len(rows)) - 0.5, -0.5), xticks=[])
    ax.set_xlabel("\n".join(notes), fontsize=8, family=FONT, loc="left")
    ax.set_yticks(range(len(rows)), [row.name for row in rows], fontsize=9, family=FONT)
    title = f"What each change saves, on {found.job.fabric[found.fabric - 1].name}"
    ax.set_title(title, fontsize=12, weight="bold", family=FONT, loc="left")
    ax.tick_params(length=0)
    for side in ("top", "right", "bottom", "left"):
        ax.spines[side].set_visible(False)
    return figure
