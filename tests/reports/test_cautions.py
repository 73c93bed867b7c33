"""Cautions: one list, by tool, and every face says it word by word.

Outside: UK Health and Safety Executive, cutting in textiles (seen 2023): a five-finger chain-mail glove that fits, worn
for cutting and for handling blades; an adjustable guard. A chain glove near a blade that turns can be caught: a factory
owner's published opinion, no standard.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

import pytest
from pypdf import PdfReader

from pieces.units import Units
from reports.ask.job import parse_job
from reports.ask.order.order import USUAL_LAYERS
from reports.cautions import BY_HAND, CAUTIONS, TOOLS, Subject, cautions
from reports.draw.marker import marker_page
from reports.guide.guide import guide_of
from reports.guide.plain import guide_to_plain
from reports.guide.words import guide_lines
from reports.page.answers.catalogue import catalogue
from reports.plan.answers import FabricPlan
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.printed import printed
from reports.run.draw.ticket import ticket_page
from reports.run.plain import run_to_plain
from reports.run.report import run_report
from reports.run.words import run_parts
from tests.make.drawn import overlapping, texts
from tests.make.model import with_fabrics
from tests.make.orders import planned

if TYPE_CHECKING:
    from collections.abc import Callable

    from reports.cautions import Tool
    from tests.reports.conftest import Ran

ROOT = Path(__file__).parents[2]
HAZARDOUS = re.compile(r"glove|blade guard|guard down|unplug|lift(?:ed)? (?:it )?(?:by|with)|close a rotary", re.I)
EVERY = tuple(CAUTIONS[subject].words for subject in get_args(Subject))


def flat(words: str) -> str:
    """Words without the breaks of their lines."""
    return " ".join(words.split())


def test_glove_by_blade() -> None:
    """A straight knife takes the chain-mail glove; a blade that turns must have none near it; hand tools name none."""
    said = {tool: CAUTIONS[tool].words for tool in TOOLS}
    assert "wear a five-finger chain-mail glove" in said["straight knife"]
    assert "no chain-mail glove near the blade" in said["round knife"] and "catch" in said["round knife"]
    assert "wear a" not in said["round knife"].replace("Wear safety glasses", "")
    assert not any("glove" in said[tool] for tool in BY_HAND)
    for knife in ("straight knife", "round knife"):
        assert "guard" in said[knife] and "Unplug" in said[knife]
    assert all(caution.source for caution in CAUTIONS.values())


def test_the_list_is_whole() -> None:
    """Each tool that an order may name has a caution; with no tool named, all are said, and the law comes last."""
    assert set(TOOLS) == set(USUAL_LAYERS)
    assert cautions() == EVERY
    assert all(cautions(tool) == (CAUTIONS[tool].words, *EVERY[len(TOOLS) :]) for tool in TOOLS)
    assert "local codes" in EVERY[-1] and "licensed" in EVERY[-1]


@pytest.mark.parametrize("tool", TOOLS)
def test_run_says_those_of_its_tool(tool: Tool) -> None:
    """Ticket, its picture, the printed run, JSON and report say the list's words for the tool, and no other tool's."""
    run = planned((r'^tool = "rotary cutter"', f'tool = "{tool}"'))
    ticket, wanted = run.tickets[0], cautions(tool)
    figure = ticket_page(ticket, run.lays[0], run.order.written_in)
    drawn = flat(" ".join(reversed([text for text in texts(figure) if text])))
    shown = flat(" ".join(texts(figure)))
    told = flat(printed(*run_parts(run)))
    report = [line for page in run_report(run).pages for part in page.parts for line in getattr(part, "lines", ())]
    assert ticket.cautions == wanted
    assert tuple(run_to_plain(run)["cautions"]) == wanted
    others = set(EVERY) - set(wanted)
    for words in wanted:
        assert words in told and words in report
        assert words in shown or words in drawn
    assert not any(words in told or words in shown or words in report for words in others)
    assert not overlapping(figure)


def test_faces_without_a_tool_say_all() -> None:
    """Guide (words and JSON), a marker's drawing, the page, README and help say every word of the list."""
    fabric = 'name = "canvas"\nwidth = "60 in"\nspread = "folded"'
    plan = plan_job(parse_job(with_fabrics(fabric), "job.toml"), Effort(0))
    (cloth,) = plan.fabrics
    assert isinstance(cloth, FabricPlan)
    made = guide_of(cloth, plan.job.written_in)
    lines = list(guide_lines(made, "title"))
    assert tuple(lines[-len(EVERY) :]) == EVERY
    assert tuple(guide_to_plain(made)["cautions"]) == EVERY
    drawn = flat(" ".join(texts(marker_page(plan.fabrics[0].result.marker, title="", subtitle="", units=Units.INCHES))))
    backwards = flat(" ".join(texts(marker_page(made.chalked.marker, title="", subtitle="", units=Units.INCHES))[::-1]))
    assert all(words in drawn or words in backwards for words in EVERY)
    assert tuple(catalogue()["cautions"]) == EVERY
    assert catalogue()["tool_cautions"] == {tool: list(cautions(tool)) for tool in TOOLS}
    for path in (ROOT / "README.md", ROOT / "reports" / "help" / "cautions.md"):
        listed = [flat(one) for one in re.split(r"^- |\n\n", path.read_text(encoding="utf-8"), flags=re.MULTILINE)]
        assert [line for line in listed if line in EVERY] == list(EVERY)


def test_no_second_list() -> None:
    """What protects hands and backs is written in one file: no other source or document speaks of it."""
    files = [path for name in ("pieces", "nesting", "reports") for path in (ROOT / name).rglob("*")]
    sources = [path for path in files if path.suffix in (".py", ".js", ".html", ".toml")]
    found = [path.name for path in sources if HAZARDOUS.search(path.read_text(encoding="utf-8"))]
    assert found == ["cautions.py"]
    for path in (ROOT / "README.md", *(ROOT / "reports" / "help").glob("*.md")):
        rest = flat(path.read_text(encoding="utf-8"))
        for words in EVERY:
            rest = rest.replace(words, "")
        assert not HAZARDOUS.search(rest), path.name


@pytest.mark.parametrize("extra", [(), ("--what", "markers", "--roll", "cloth")])
def test_print_says_those_of_hand_tools(
    run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path, extra: tuple[Any, ...]
) -> None:
    """The first page of a print says the list's words for shears and rotary cutter."""
    fabric = 'name = "canvas"\nwidth = "60 in"\nspread = "folded"'
    path = job_file(with_fabrics(fabric))
    assert run("print", path, "--effort", 0, "--out", tmp_path / "out", *extra).code == 0
    pdf, check = sorted((tmp_path / "out").glob("*.pdf"), key=lambda path: len(path.name))
    assert check.stem == f"{pdf.stem}-check"
    said = flat(PdfReader(pdf).pages[0].extract_text())
    assert all(words in said for words in cautions(*BY_HAND))
