"""The files of an answer: those the commands write, each made when it is first asked for."""

from __future__ import annotations

import json
import tempfile
import threading
from dataclasses import replace
from functools import lru_cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from pieces.units import speaking
from reports.batch.cache import key_of
from reports.buy.files import planned_files, write_plan
from reports.draw.kit.files import PICTURES
from reports.page.answers.kept import kept_of_payload
from reports.page.answers.shown import many_shown
from reports.page.errors import MissingError, StateError
from reports.page.searches.work import Task, laid_of, task_of
from reports.page.work_folder import markers_of
from reports.plan.answers import Refusal

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from reports.ask.job import Job
    from reports.batch.cache import MarkerCache
    from reports.plan.effort import Effort
    from reports.plan.plan import Plan

GROUPS_KEPT = 24
"""Groups of files that are kept in memory."""

KINDS = {
    "csv": ("table", "text/csv; charset=utf-8"),
    "dxf": ("outlines for other programs", "image/vnd.dxf"),
    "html": ("page to read or print", "text/html; charset=utf-8"),
    "json": ("figures for other programs", "application/json"),
    "pdf": ("to print", "application/pdf"),
    "png": ("picture", "image/png"),
    "svg": ("drawing", "image/svg+xml"),
    "txt": ("in words", "text/plain; charset=utf-8"),
    "xlsx": ("workbook", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
}
"""What a file is for, and its type, by its ending."""

_drawing = threading.Lock()
"""Pictures are drawn one at a time: their settings hold for the whole process."""


class Download(NamedTuple):
    """A file that can be had: its name, what it shows, and what it is made together with."""

    name: str
    title: str
    group: str


class Answered(NamedTuple):
    """A search that has ended: its kind, and payload and result as text, so that they can be told apart fast."""

    kind: str
    payload: str
    result: str

    @classmethod
    def of(cls, kind: str, payload: dict[str, Any], result: dict[str, Any] | None) -> Answered:
        """A search; StateError if it has no result."""
        if result is None:
            raise StateError("this search has no result yet: wait for it, or stop it")
        return cls(kind, json.dumps(payload), json.dumps(result))


def downloads(answered: Answered) -> list[dict[str, Any]]:
    """The files of an answer; ``bytes`` is None as long as a file has not been made."""
    return [
        {
            "name": one.name,
            "subject": one.title,
            "what": KINDS[_ending(one.name)][0],
            "type": KINDS[_ending(one.name)][1],
            "bytes": None,
        }
        for one in _listed(answered)
    ]


def download(answered: Answered, name: str) -> tuple[bytes, str]:
    """A file and its type; MissingError if the answer has no file of that name."""
    group = next((one.group for one in _listed(answered) if one.name == name), None)
    if group is None:
        raise MissingError(f"this answer has no file {name!r}")
    return _plain(answered, name) or _made(answered, group)[name], KINDS[_ending(name)][1]


def _plain(answered: Answered, name: str) -> bytes:
    """A file that stands in the result itself; empty if it is none."""
    if answered.kind == "buy" or _ending(name) not in ("json", "txt"):
        return b""
    result = json.loads(answered.result)
    words, text, _, _ = (result.pop(key, None) for key in ("words", "text", "said", "markers"))
    if _ending(name) == "txt":
        return (text or "\n".join(words) + "\n").encode()
    return (json.dumps(result, indent=2) + "\n").encode()


def _ending(name: str) -> str:
    return name.rsplit(".", 1)[-1]


@lru_cache(maxsize=GROUPS_KEPT)
def _listed(answered: Answered) -> tuple[Download, ...]:
    result = json.loads(answered.result)
    task = task_of(answered.kind, json.loads(answered.payload))
    if answered.kind == "buy":
        return tuple(_of_plan(task.subject, result))
    return tuple(Download(path.name, _title(path.stem), answered.kind) for path in _many_files(answered.kind, result))


_TITLES = {
    "chart": "Yardage by size and width",
    "cost": "Cost",
    "lays": "Lay plan",
    "quote": "Quote",
    "report": "The whole answer",
    "run": "The run",
    "saves": "What saves cloth",
    "unit-cost": "Cost of one garment by quantity",
    "widths": "Length on cloth of each width",
}


def _title(stem: str) -> str:
    return _TITLES[stem] if stem in _TITLES else f"Cut ticket {stem.removeprefix('ticket-')}"


def _many_files(kind: str, result: dict[str, Any]) -> list[Path]:
    from reports.chart.files import chart_files
    from reports.run.files import fixed_files
    from reports.save.files import saving_files
    from reports.widths.files import curve_files

    if kind != "run":
        return {"widths": curve_files, "saves": saving_files, "chart": chart_files}[kind](Path())
    tickets = [Path(f"ticket-{ticket['number']}.{suffix}") for ticket in result["tickets"] for suffix in PICTURES]
    return [*fixed_files(Path()), *tickets, Path("report.html"), Path("report.xlsx")]


def _of_plan(job: Job, result: dict[str, Any]) -> Iterator[Download]:
    """The files of a plan, what is wanted most first."""
    done = {part: [i for i, one in enumerate(result["plan"][part], 1) if "refused" not in one] for part in _OFFERS}
    yield Download("report.html", _title("report"), "report.html")
    yield Download("report.xlsx", _title("report"), "report.xlsx")
    names = [path.name for path in planned_files(job, Path(), ("markers", "rib", "pieces", "answer"))]
    for name in names:
        part, which = name.split(".")[0].partition("-")[::2]
        if part in ("marker", "rib") and int(which) not in done["fabrics" if part == "marker" else "ribs"]:
            continue
        title = {"marker": f"Marker {which}", "rib": f"Rib {which}", "pieces": "Pieces", "buy": "What to buy"}[part]
        yield Download(
            name, title, {"marker": f"markers-{which}", "rib": f"rib-{which}", "buy": "answer"}.get(part, part)
        )
    for number in done["fabrics"]:
        yield from (Download(f"marker-{number}.{form}", f"Marker {number}, full size", "export") for form in _FORMS)
        yield Download(f"marker-{number}-full-size.pdf", f"Marker {number}, full size", "print")
        yield Download(f"guide-{number}.txt", f"Marker {number}, to cut by tape and chalk", "guide")
    yield from (Download(f"pieces.{form}", "Pieces, full size", "export") for form in _FORMS)
    yield Download("pieces-full-size.pdf", "Pieces, full size on sheets to glue", "print")


_OFFERS = ("fabrics", "ribs")
_FORMS = ("dxf", "csv")


@lru_cache(maxsize=GROUPS_KEPT)
def _made(answered: Answered, group: str) -> dict[str, bytes]:
    """The files of a group, by name."""
    payload, result = json.loads(answered.payload), json.loads(answered.result)
    if answered.kind == "buy":
        plan = kept_of_payload(payload).plan(result)
        units = plan.job.written_in
        write = partial(_write_of_plan, plan, group)
    else:
        task = task_of(answered.kind, payload)
        units = task.subject.written_in
        write = partial(_write_many, task, laid_again(task, result, markers_of(payload)))
    with tempfile.TemporaryDirectory() as name, _drawing, speaking(units):
        folder = Path(name)
        write(folder)
        return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def _write_of_plan(plan: Plan, group: str, folder: Path) -> None:
    if group.startswith("report"):
        from reports.buy.report import plan_report
        from reports.sheets.files import write_report

        write_report(plan_report(plan), folder / group)
    elif group == "export":
        from reports.export import files

        files.write_pieces(plan.pieces, [folder / f"pieces.{form}" for form in _FORMS])
        for number, fabric in plan.markers:
            files.write_marker(fabric, [folder / f"marker-{number}.{form}" for form in _FORMS])
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
    else:
        part, which = group.partition("-")[::2]
        write_plan(_alone(plan, int(which)) if which else plan, folder, [part])  # type: ignore[list-item]


def _alone(plan: Plan, number: int) -> Plan:
    """The plan with one of its cloths and one of its ribs alone, under their own numbers."""
    fabrics = (f if i == number else Refusal(f.offer, "") for i, f in enumerate(plan.fabrics, 1))
    ribs = (r if i == number else Refusal(r.offer, "") for i, r in enumerate(plan.ribs, 1))
    return replace(plan, fabrics=tuple(fabrics), ribs=tuple(ribs))


def _write_many(task: Task, found: Any, folder: Path) -> None:
    """Write the files of a curve, a chart, savings or a run."""
    from reports.chart.files import write_chart
    from reports.save.files import write_savings
    from reports.widths.files import write_curve

    if task.kind == "widths":
        write_curve(found, folder)
    elif task.kind == "chart":
        write_chart(found, folder)
    elif task.kind == "saves":
        write_savings(found, task.subject, task.options.get("fabric", 1), folder)
    else:
        from reports.printed import printed
        from reports.run.files import write_run
        from reports.run.report import run_report
        from reports.run.words import run_parts
        from reports.sheets.files import write_report

        write_run(found, printed(*run_parts(found)), folder)
        for name in ("report.html", "report.xlsx"):
            write_report(run_report(found), folder / name)


def laid_again(task: Task, result: dict[str, Any], markers: MarkerCache | None) -> Any:
    """What a search came to, out of the markers that are kept; StateError if they are not there any more."""
    shown = {key: value for key, value in result.items() if key != "markers"}
    try:
        found = laid_of(task, _Kept(task, markers))
        if json.dumps(many_shown(task.kind, found, task.subject, task.options)) == json.dumps(shown):
            return found
    except KeyboardInterrupt:
        pass
    raise StateError("the markers of this answer are not kept any more: search once more, then download")


class _Kept:
    """Lays nothing, but finds what was laid before."""

    def __init__(self, task: Task, markers: MarkerCache | None) -> None:
        self._stint, self._cache = task.stint, markers

    def __call__(self, problems: Sequence[Problem], stint: Effort | None = None) -> list[Marker | None]:
        """The markers that are kept."""
        parts = (stint or self._stint).parts
        if self._cache is None:
            return [None] * len(problems)
        return [self._cache.read(key_of(problem, *parts), problem) for problem in problems]
