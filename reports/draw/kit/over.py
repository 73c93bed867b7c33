"""What is drawn over a page that stands already, row of cloth by row of cloth."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from reports.draw.kit.sheet import Sheet

if TYPE_CHECKING:
    from collections.abc import Iterator

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

UNDER = 0.5
"""Depth of what lies under all else in a drawing."""


def rows_of(figure: Figure, length: float) -> Iterator[tuple[Axes, float, float]]:
    """Each row of cloth on a page, with the stretch of it that it shows, mm."""
    _, *rows = figure.axes  # the page itself comes first
    for i, ax in enumerate(rows):
        yield ax, length * i / len(rows), length * (i + 1) / len(rows)


def sheet_of(ax: Axes) -> Sheet:
    """A sheet on a row of cloth, to its scale."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    (left, right), box = ax.get_xlim(), ax.get_position()
    return Sheet(ax, (right - left) / (box.width * figure.get_figwidth() * 72))


@contextmanager
def underneath(ax: Axes) -> Iterator[None]:
    """What is drawn meanwhile comes to lie under all that was drawn before: words stay readable."""
    before = set(ax.get_children())
    yield
    for artist in ax.get_children():
        if artist not in before:
            artist.set_zorder(UNDER)
