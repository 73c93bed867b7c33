"""The files of a plan that the page offers, each with what it is made together with."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reports.asking.download import Download
from reports.buy.files import planned_files, write_plan
from reports.plan.answers import Refusal
from reports.sew.files import BOUND

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from reports.ask.job import Job
    from reports.plan.plan import Plan

_OFFERS = ("fabrics", "ribs")
_FORMS = ("dxf", "csv")

DOSSIER = "dossier.pdf"
"""All of it on paper, for one client."""


def plan_downloads(job: Job, result: Mapping[str, Any]) -> Iterator[Download]:
    """What is wanted most first."""
    done = {part: [i for i, one in enumerate(result["plan"][part], 1) if "refused" not in one] for part in _OFFERS}
    yield Download(DOSSIER, "Dossier for a client: body, pieces, markers, rib, list, sewing, cost", "dossier")
    yield Download("report.html", "The whole answer", "report.html")
    yield Download("report.xlsx", "The whole answer", "report.xlsx")
    names = [path.name for path in planned_files(job, Path(), ("markers", "rib", "pieces", "answer"))]
    for name in names:
        part, which = name.split(".")[0].partition("-")[::2]
        if part in ("marker", "rib") and int(which) not in done["fabrics" if part == "marker" else "ribs"]:
            continue
        title = {"marker": f"Marker {which}", "rib": f"Rib {which}", "pieces": "Pieces", "buy": "What to buy"}[part]
        yield Download(
            name, title, {"marker": f"markers-{which}", "rib": f"rib-{which}", "buy": "answer"}.get(part, part)
        )
    if job.model().steps is not None:
        yield from (Download(name, "Order of sewing", "sew") for name in BOUND)
    for number in done["fabrics"]:
        yield from (Download(f"marker-{number}.{form}", f"Marker {number}, full size", "export") for form in _FORMS)
        yield Download(f"marker-{number}-check.pdf", f"Marker {number}, check sheet of the outlines", "export")
        yield Download(f"marker-{number}-full-size.pdf", f"Marker {number}, full size", "print")
        yield Download(f"guide-{number}.txt", f"Marker {number}, to cut by tape and chalk", "guide")
    yield from (Download(f"pieces.{form}", "Pieces, full size", "export") for form in _FORMS)
    yield Download("pieces-check.pdf", "Pieces, check sheet of the outlines", "export")
    yield Download("pieces-full-size.pdf", "Pieces, full size on sheets to tape or glue", "print")


def write_group(plan: Plan, group: str, folder: Path) -> None:
    """Write the files of a plan that are made together."""
    if group.startswith("report"):
        from reports.buy.report import plan_report
        from reports.sheets.files import write_report

        write_report(plan_report(plan), folder / group)
    elif group == "export":
        _write_export(plan, folder)
    elif group == "print":
        from reports.paper.order import PrintOrder, paper_for

        paper = paper_for(None, None, plan.job.written_in)
        PrintOrder(plan.job, folder, paper).print_pieces(plan.pieces).path.rename(folder / "pieces-full-size.pdf")
        for number, fabric in plan.markers:
            printed = PrintOrder(plan.job, folder, None).print_marker(number, fabric)
            printed.path.rename(folder / f"marker-{number}-full-size.pdf")
    elif group == "guide":
        from reports.guide.guide import guide_of
        from reports.guide.words import guide_lines, guide_title
        from reports.output import write_text

        for number, fabric in plan.markers:
            guide = guide_of(fabric, plan.job.written_in)
            lines = guide_lines(guide, guide_title(plan.job, guide))
            write_text(folder / f"guide-{number}.txt", "\n".join(lines) + "\n")
    elif group == "dossier":
        from reports.dossier.pages import write_dossier

        write_dossier(plan, folder / DOSSIER)
    elif group == "sew":
        from reports.ask.draft import draft_whole
        from reports.sew.files import write_bound
        from reports.sew.sewing import sewing_order

        write_bound(sewing_order(plan.job, draft_whole(plan.job)), folder)
    else:
        part, which = group.partition("-")[::2]
        write_plan(_alone(plan, int(which)) if which else plan, folder, [part])  # type: ignore[list-item]


def _write_export(plan: Plan, folder: Path) -> None:
    """Write pieces and markers for other programs, and their check sheets."""
    from reports.checksheet.files import write_check_sheets
    from reports.export.files import write_marker, write_pieces

    sheets, units = [folder / f"pieces.{form}" for form in _FORMS], plan.job.written_in
    write_pieces(plan.pieces, sheets)
    write_check_sheets(f"{plan.job.title}: pieces", sheets, units)
    for number, fabric in plan.markers:
        paths = [folder / f"marker-{number}.{form}" for form in _FORMS]
        write_marker(fabric, paths)
        write_check_sheets(f"{plan.job.title}, on {fabric.offer.name}", paths, units)


def _alone(plan: Plan, number: int) -> Plan:
    """The plan with one of its cloths and one of its ribs alone, under their own numbers."""
    fabrics = (f if i == number else Refusal(f.offer, "") for i, f in enumerate(plan.fabrics, 1))
    ribs = (r if i == number else Refusal(r.offer, "") for i, r in enumerate(plan.ribs, 1))
    return replace(plan, fabrics=tuple(fabrics), ribs=tuple(ribs))
