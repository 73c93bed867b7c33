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


def write_fits(fitting: Fitting, task: RemnantTask, ways: Sequence[TriedWayOut], folder: Path) -> list[Path]:
    """Write the answer, and a picture of the layout or of the nearest one; the files written."""
    from reports.fit.plain import fits_to_plain

    plain, *pictures, text = (folder / name for name in FILES)
    write_text(plain, json.dumps(fits_to_plain(fitting, task, ways)))
    write_text(text, "\n".join((*fits_lines(fitting, task), *way_out_lines(ways, task))) + "\n")
    figure = _picture(fitting, task)
    if figure is None:
        for path in pictures:  # of an earlier answer, which does not hold any more
            path.unlink(missing_ok=True)
        return [plain, text]
    from reports.draw.kit.files import save

    for path in pictures:
        save(figure, path)
    return [plain, *pictures, text]


def _picture(fitting: Fitting, task: RemnantTask) -> Figure | None:
    """The layout that fits, or the nearest that does not; None where there is neither."""
    shown = fitting.layout or fitting.nearest
    if shown is None or shown.result is None:
        return None
    from reports.fit.draw import remnant_page, short_page

    units, marker, remnant = task.units, shown.result.marker, fitting.remnant
    title = task.job.title
    subtitle = ", ".join((size_words(remnant, units), laid_words(shown, fitting), cloth_words(remnant, task)))
    hatched = ["Hatched both ways: a cut-out: nothing may lie on it."] if marker.problem.faults else []
    if shown is fitting.layout:
        return remnant_page(
            marker,
            remnant.length,
            title=f"{title}, on a remnant",
            subtitle=subtitle,
            units=units,
            lines=("It fits", *left_over_lines(fitting, units), *hatched),
        )
    return short_page(
        marker,
        remnant.length,
        title=f"Not for cutting: {title[0].lower()}{title[1:]}, on a remnant",
        subtitle=subtitle,
        units=units,
        lines=("It does not fit", *nearest_lines(fitting, units), *hatched),
    )
