"""The folder of an answer: pieces, markers and figures, each file named before any work is done."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Literal

from pieces.exchange.own.plain import to_plain
from reports.draw.kit.files import PICTURES
from reports.output import write_text
from reports.plan.costing import costing_of, is_costed
from reports.plan.pictures import marker_figure, rib_figure
from reports.plan.plain import marker_to_plain, plan_to_plain
from reports.plan.shopping import shopping_lines
from reports.plan.words import answer_lines
from reports.stock.on_hand import on_hand_lines

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces import PieceSet
    from reports.ask.job import Job
    from reports.plan.answers import FabricPlan, RibAnswer
    from reports.plan.plan import Plan

FilesFor = Literal["pieces", "markers", "rib", "answer"]


def planned_files(job: Job, folder: Path, parts: Sequence[FilesFor]) -> list[Path]:
    """All files that `write_plan` and `write_pieces` may write for these parts."""
    names = []
    if "pieces" in parts:
        names += [f"pieces.{suffix}" for suffix in ("json", *PICTURES)]
    if "markers" in parts:
        names += [f"marker-{n}.{suffix}" for n in range(1, len(job.fabric) + 1) for suffix in ("json", *PICTURES)]
    if "rib" in parts:
        names += [f"rib-{n}.{suffix}" for n in range(1, len(job.rib) + 1) for suffix in PICTURES]
    if "answer" in parts:
        names += ["buy.json", "buy.txt", *(f"quote.{suffix}" for suffix in PICTURES if is_costed(job))]
    return [folder / name for name in names]


def write_pieces(job: Job, pieces: PieceSet, folder: Path) -> list[Path]:
    """Write the pieces as JSON and as a sheet with their main dimensions."""
    from reports.draw.kit.files import save
    from reports.draw.pieces import pieces_page

    paths = planned_files(job, folder, ["pieces"])
    write_text(paths[0], json.dumps(to_plain(pieces)))
    figure = pieces_page(pieces, title=f"{job.title}: pieces", units=job.written_in)
    for path in paths[1:]:
        save(figure, path)
    return paths


def write_plan(plan: Plan, folder: Path, parts: Sequence[FilesFor]) -> list[Path]:
    """Write the parts of an answer that were asked for; the files written."""
    written = write_pieces(plan.job, plan.pieces, folder) if "pieces" in parts else []
    if "markers" in parts:
        for number, fabric in plan.markers:
            written += _write_marker(plan, number, fabric, folder)
    if "rib" in parts:
        for number, rib in plan.rib_plans:
            written += _write_rib(plan, number, rib, folder)
    if "answer" in parts:
        answer, text, *quote = planned_files(plan.job, folder, ["answer"])
        write_text(answer, json.dumps(plan_to_plain(plan), indent=2) + "\n")
        there = on_hand_lines(plan.on_hand or (), plan.job.written_in)
        write_text(text, "\n".join([*answer_lines(plan), *there, *shopping_lines(plan)]) + "\n")
        written += [answer, text, *_write_quote(plan, quote)]
    return written


def _write_quote(plan: Plan, paths: Sequence[Path]) -> Sequence[Path]:
    """The quote for a client on one page, where the job asks for a cost; the files written."""
    costing = costing_of(plan)
    if costing is not None:
        from reports.draw.kit.files import save
        from reports.draw.quote import quote_page

        figure = quote_page(costing.quote)
        for path in paths:
            save(figure, path)
    return paths


def _write_marker(plan: Plan, number: int, fabric: FabricPlan, folder: Path) -> list[Path]:
    from reports.draw.kit.files import save

    paths = [folder / f"marker-{number}.{suffix}" for suffix in ("json", *PICTURES)]
    write_text(paths[0], json.dumps(marker_to_plain(fabric)))
    figure = marker_figure(plan, fabric)
    for path in paths[1:]:
        save(figure, path)
    return paths


def _write_rib(plan: Plan, number: int, rib: RibAnswer, folder: Path) -> list[Path]:
    from reports.draw.kit.files import save

    paths = [folder / f"rib-{number}.{suffix}" for suffix in PICTURES]
    figure = rib_figure(plan, rib)
    for path in paths:
        save(figure, path)
    return paths
