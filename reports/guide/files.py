"""The files of a guide: its text, and a drawing of each stage."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from reports.guide.guide import Guide

MOST_STAGES = 2
"""Cloth in several layers, and a single layer beside it."""


def guide_names(name: str, stages: int = MOST_STAGES) -> list[str]:
    """The files of a guide of that name, such as ``"1"`` or ``"lay-2"``, whose marker is cut in so many stages."""
    drawings = [f"guide-{name}-stage-{n}.{kind}" for n in range(1, stages + 1) for kind in ("pdf", "png")]
    return [f"guide-{name}.txt", *drawings]


def write_guide(guide: Guide, name: str, title: str, folder: Path) -> list[Path]:
    """Write one guide's text, and a drawing for each stage; the files written."""
    from reports.draw.kit.files import save
    from reports.guide.draw import stage_page
    from reports.guide.words import guide_lines
    from reports.output import write_text

    text, *drawings = (folder / file for file in guide_names(name, len(guide.stages)))
    write_text(text, "\n".join(guide_lines(guide, title)) + "\n")
    for i, stage in enumerate(guide.stages):
        figure = stage_page(guide, stage, title=title)
        for path in drawings[2 * i : 2 * i + 2]:
            save(figure, path)
    return [text, *drawings]
