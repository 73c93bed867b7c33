"""The files of boxes beside outlines."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.boxes.plain import boxes_to_plain
from reports.boxes.words import bought_words, boxes_cells, boxes_lines, difference_words
from reports.draw.kit.files import PICTURES, save
from reports.output import write_text
from reports.plan.answers import FabricPlan
from reports.plan.words import SPREAD_WORDS, width_words

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

    from reports.ask.job import Job
    from reports.boxes.boxes import BoxedCloth, Boxes

NOTE = "Bold: cut the box first. Thin, in it: what is cut of it on the table."

_WAYS = ("boxes", "outlines")


def box_files(job: Job) -> list[str]:
    """Names of all files that may be written."""
    drawn = [f"{way}-{i + 1}.{ending}" for i in range(len(job.fabric)) for way in _WAYS for ending in PICTURES]
    return ["boxes.json", "boxes.txt", *drawn]


def write_boxes(found: Boxes, folder: Path) -> list[Path]:
    """Write the answer, and a drawing of each cloth laid each way; the files written."""
    written = [folder / "boxes.json", folder / "boxes.txt"]
    write_text(written[0], json.dumps(boxes_to_plain(found)))
    write_text(written[1], "\n".join([*map("  ".join, boxes_cells(found)), "", *boxes_lines(found)]) + "\n")
    for number, cloth in enumerate(found.cloths, 1):
        for way, plan in zip(_WAYS, (cloth.by_boxes, cloth.by_outlines), strict=True):
            if not isinstance(plan, FabricPlan):
                continue
            figure = _page(found, cloth, way, plan)
            paths = [folder / f"{way}-{number}.{ending}" for ending in PICTURES]
            for path in paths:
                save(figure, path)
            written += paths
    return written


def _page(found: Boxes, cloth: BoxedCloth, way: str, plan: FabricPlan) -> Figure:
    from reports.draw.marker import NOTES, marker_page

    title, offer, told = found.task.job.title, plan.offer, bought_words(plan, found.units)
    return marker_page(
        plan.result.marker,
        title=f"{title[0].upper() + title[1:]}: {way} on {offer.name}",
        subtitle=f"{width_words(offer, found.units)}, {SPREAD_WORDS[plan.spread]}{', with nap' if offer.nap else ''}",
        units=found.units,
        nap=offer.nap is True,
        lines=(f"Buy {plan.purchase.text}", told[:1].upper() + told[1:], difference_words(cloth)),
        notes=(NOTE, *NOTES) if way == "boxes" else NOTES,
    )
