"""The command `guide`: how to mark and cut by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from reports.commands.kit.answering import answer, only_cloth
from reports.commands.kit.options import (
    AsJson,
    ClothNumber,
    Force,
    Iterations,
    JobPath,
    OutPath,
    Seconds,
    Seed,
    Workers,
)
from reports.commands.kit.terminal import emit, leave, show, show_files
from reports.plan.effort import SearchOptions

if TYPE_CHECKING:
    from reports.guide.guide import Guide

MOST_STAGES = 2
"""Cloth in several layers, and a single layer beside it."""


def guide(
    job: JobPath,
    fabric: ClothNumber = None,
    out: OutPath = None,
    seconds: Seconds = None,
    iterations: Iterations = None,
    seed: Seed = 0,
    workers: Workers = 1,
    as_json: AsJson = False,
    force: Force = False,
) -> None:
    """Say step by step how to mark and cut by tape and chalk (into JOB-guide or --out; with --json only --out)."""
    from reports.ask.job import read_job
    from reports.guide.guide import guide_of
    from reports.guide.plain import guide_to_plain
    from reports.guide.words import guide_lines, guide_title
    from reports.output import refuse_overwriting

    asked = read_job(job)
    first = 1 if fabric is None else fabric
    asked = asked if fabric is None else only_cloth(asked, fabric)
    folder = out or (None if as_json else Path(f"{job.stem}-guide"))
    if folder:
        refuse_overwriting(_planned(folder, range(first, first + len(asked.fabric))), force=force)
    search = SearchOptions(seconds, iterations, seed, workers, quiet=as_json)
    plan, signalled, _ = answer(asked, search, None, (), force=force, rib=False)
    guides = {first - 1 + number: guide_of(found, asked.written_in) for number, found in plan.markers}
    written: list[Path] = []
    for number, one in guides.items():
        written += write_guide(one, number, guide_title(asked, one), folder) if folder else []
    if as_json:
        plain = [{"number": number, **guide_to_plain(one)} for number, one in guides.items()]
        emit(json.dumps({"job": asked.name, "units": asked.units, "seed": seed, "guides": plain}))
    else:
        from reports.plan.words import refusal_lines

        for one in guides.values():
            show(*guide_lines(one, guide_title(asked, one)), "")
        show(*refusal_lines(plan))
        show_files(written)
    leave(signalled)


def guide_names(number: int, stages: int) -> list[str]:
    """The files of a cloth's guide, whose marker is cut in so many stages."""
    drawings = [f"guide-{number}-stage-{n}.{kind}" for n in range(1, stages + 1) for kind in ("pdf", "png")]
    return [f"guide-{number}.txt", *drawings]


def _planned(folder: Path, numbers: range) -> list[Path]:
    return [folder / name for number in numbers for name in guide_names(number, MOST_STAGES)]


def write_guide(guide: Guide, number: int, title: str, folder: Path) -> list[Path]:
    """Write one cloth's text, and a drawing for each stage; the files written."""
    from reports.draw.kit.files import save
    from reports.guide.draw import stage_page
    from reports.guide.words import guide_lines
    from reports.output import write_text

    text, *drawings = (folder / name for name in guide_names(number, len(guide.stages)))
    write_text(text, "\n".join(guide_lines(guide, title)) + "\n")
    for i, stage in enumerate(guide.stages):
        figure = stage_page(guide, stage, title=title)
        for path in drawings[2 * i : 2 * i + 2]:
            save(figure, path)
    return [text, *drawings]
