"""The files of an answer to whether pieces fit."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.fit.remnant import cloth_words, size_words
from reports.fit.ways import way_out_lines
from reports.fit.words import fits_lines, laid_words, left_over_lines, nearest_lines
from reports.output import write_text

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from matplotlib.figure import Figure

    from nesting.fit.fitting import Fitting
    from reports.fit.remnant import RemnantTask
    from reports.fit.ways import TriedWayOut

FILES = ("fits.json", "fits.pdf", "fits.png", "fits.svg", "fits.txt")

WAY_FILES = ("fits-way-out.pdf", "fits-way-out.png", "fits-way-out.svg")
"""The drawing of the way out that fits, where one was found."""


def write_fits(fitting: Fitting, task: RemnantTask, ways: Sequence[TriedWayOut], folder: Path) -> list[Path]:
    """Write the answer, a picture of the layout or of the nearest one, and one of the way out; the files written."""
    from reports.fit.plain import fits_to_plain

    plain, *pictures, text = (folder / name for name in FILES)
    write_text(plain, json.dumps(fits_to_plain(fitting, task, ways)))
    write_text(text, "\n".join((*fits_lines(fitting, task), *way_out_lines(ways, task))) + "\n")
    drawn = _draw(_picture(fitting, task), pictures)
    out = ways[-1] if ways and ways[-1].answer == "yes" else None
    figure = _picture(out.fitting, task, out.way.name) if out and out.fitting else None
    return [plain, *drawn, text, *_draw(figure, [folder / name for name in WAY_FILES])]


def _draw(figure: Figure | None, pictures: Sequence[Path]) -> Sequence[Path]:
    """Save a picture in each form; without one take away those of an earlier answer, which does not hold any more."""
    if figure is None:
        for path in pictures:
            path.unlink(missing_ok=True)
        return ()
    from reports.draw.kit.files import save

    for path in pictures:
        save(figure, path)
    return pictures


def _picture(fitting: Fitting, task: RemnantTask, changed: str = "") -> Figure | None:
    """The layout that fits, or the nearest that does not; None where there is neither.

    Parameters
    ----------
    changed
        What is cut otherwise than the job says.
    """
    shown = fitting.layout or fitting.nearest
    if shown is None or shown.result is None:
        return None
    from reports.fit.draw import remnant_page, short_page

    units, marker, remnant = task.units, shown.result.marker, fitting.remnant
    title, where = task.job.title, "on a remnant"
    if task.lay:
        title = f"{title}, a ply of lay {task.lay.facts.ticket}"
        where = "on the table" if task.lay.table else where
    subtitle = ", ".join((size_words(remnant, units), laid_words(shown, fitting), cloth_words(remnant, task)))
    hatched = ["Hatched both ways: a cut-out: nothing may lie on it."] if marker.problem.faults else []
    if shown is fitting.layout:
        return remnant_page(
            marker,
            remnant.length,
            title=f"{title}, {where}{', a way out' if changed else ''}",
            subtitle=subtitle,
            units=units,
            lines=(f"It fits so: {changed}" if changed else "It fits", *left_over_lines(fitting, units), *hatched),
        )
    return short_page(
        marker,
        remnant.length,
        title=f"Not for cutting: {title[0].lower()}{title[1:]}, {where}",
        subtitle=subtitle,
        units=units,
        lines=("It does not fit", *nearest_lines(fitting, units), *hatched),
    )
