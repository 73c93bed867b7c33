"""A tube has two widths: which was measured is asked for by name, never guessed; a selvedge left out is said."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from reports.ask.job import parse_job
from reports.ask.order.order import parse_order
from reports.errors import JobError
from reports.page.answers.fields import job_of
from reports.page.errors import FieldsError
from reports.plan.effort import Effort
from reports.plan.plain import plan_to_plain
from reports.plan.plan import Plan, plan_job
from reports.plan.words import answer_lines
from tests.make.model import with_fabrics
from tests.make.orders import changed, planned

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

INCH = 25.4
CLOTH = 'name = "jersey"\nspread = "tube"\n'
RIB = '[[rib]]\nname = "knit"\nform = "tube"\n'
PLAIN = 'name = "canvas"\nwidth = "60 in"\nspread = "open"\n'


def planned_job(*entries: str, rib: str = "") -> Plan:
    """The model job on some cloth, by first layouts alone."""
    return plan_job(parse_job(with_fabrics(*entries, rib=rib)), Effort(0))


@pytest.mark.parametrize(("kind", "entry"), [("fabric", CLOTH), ("rib", RIB.removeprefix("[[rib]]\n"))])
def test_width_of_a_tube_is_asked_for(kind: str, entry: str) -> None:
    """A bare width, both widths, or none: refused in one line that names both keys and what each means."""
    for keys in ('width = "30 in"\n', 'lay_flat = "30 in"\nopened = "60 in"\n', ""):
        text = with_fabrics(entry + keys) if kind == "fabric" else with_fabrics(PLAIN, rib=f"[[rib]]\n{entry}{keys}")
        with pytest.raises(JobError) as refused:
            parse_job(text)
        said = str(refused.value)
        assert f"[[{kind}]] number 1" in said and "\n" not in said
        assert "lay_flat = " in said and "opened = " in said and "lying flat" in said
        assert '"30 in"' in said or not keys


def test_as_it_lies_is_half_of_cut_open() -> None:
    """30 in as it lies is 60 in cut open: the same cloth, the same rib, to the last digit."""
    offers = [parse_job(with_fabrics(CLOTH + keys)).fabric[0] for keys in ('lay_flat = "30 in"', 'opened = "60 in"')]
    assert [offer.width for offer in offers] == pytest.approx([60 * INCH] * 2, abs=1e-9)
    ribs = [parse_job(with_fabrics(PLAIN, rib=RIB + k)).rib[0] for k in ('lay_flat = "50 cm"', 'opened = "1 m"')]
    assert [rib.width for rib in ribs] == pytest.approx([1000] * 2, abs=1e-9)
    with pytest.raises(JobError, match=r"cannot read|write it with"):
        parse_job(with_fabrics(CLOTH + 'lay_flat = "thirty"'))


def test_only_a_tube_has_two_widths() -> None:
    """Cloth that is no tube, and rib that is none, have one width: the other keys are refused."""
    with pytest.raises(JobError, match="lay_flat is only for a tube: write width"):
        parse_job(with_fabrics('name = "canvas"\nlay_flat = "30 in"'))
    with pytest.raises(JobError, match="opened is only for a tube: write width"):
        parse_job(with_fabrics(PLAIN, rib='[[rib]]\nform = "flat"\nopened = "30 in"'))


def test_order_and_page_ask_as_well() -> None:
    """An order's tubes and the page's are held to the same rule."""
    with pytest.raises(JobError, match="a tube has two widths"):
        parse_order(changed((r'^opened = "36 in".*$', 'width = "36 in"')))
    body = {"bust": "37 in", "hip": "39 in", "across_shoulder": "15 in", "neck": "14 in", "upper_arm": "12 in"}
    job = {"garment": "rib-jacket", "body": body | {"wrist": "7 in", "arm_length": "23 in"}}
    tube = {"name": "jersey", "spread": "tube", "width": "30 in"}
    with pytest.raises(FieldsError) as refused:
        job_of(job | {"fabric": [tube]})
    (fault,) = refused.value.faults
    assert fault.field == "fabric.0" and "lay_flat" in fault.message
    del tube["width"]
    assert job_of(job | {"fabric": [tube | {"lay_flat": "30 in"}]}).fabric[0].width == pytest.approx(60 * INCH)


@pytest.mark.parametrize("command", [("widths", "--from", "30 in", "--to", "30 in"), ("chart", "--widths", "30 in")])
def test_options_ask_as_well(
    run: Callable[..., Ran], job_file: Callable[[str], Path], command: tuple[Any, ...]
) -> None:
    """Of a tube, widths on the command line are as it lies or cut open: without --tube they are refused."""
    name, *options = command
    path = job_file(with_fabrics(CLOTH + 'opened = "60 in"'))
    refused = run(name, path, *options, "--effort", 0)
    assert refused.code == 2 and "--tube lay_flat" in refused.err and "--tube opened" in refused.err
    laid = run(name, path, *options, "--effort", 0, "--tube", "lay_flat", "--no-cache", "--json")
    assert laid.code == 0
    told = json.loads(laid.out)
    assert pytest.approx(told["widths"][0]["width_mm"] if name == "widths" else told["widths_mm"][0]) == 30 * 2 * INCH
    flat = run(name, job_file(with_fabrics(PLAIN)), *options, "--effort", 0, "--tube", "opened")
    assert flat.code == 2 and "is not one" in flat.err


def test_selvedge_left_out_is_said() -> None:
    """A selvedge that no one gave is 0, as data not given, and a line says so; one given as 0 is not spoken of."""
    said, given = planned_job(PLAIN), planned_job(PLAIN + 'selvedge = "0 in"')
    (line,) = (line for line in said.remarks if "selvedge" in line)
    assert line.startswith("canvas: no selvedge is given") and 'selvedge = "0 in"' in line
    assert not any("selvedge" in line for line in given.remarks)
    cloth, known = (plan_to_plain(plan)["fabrics"][0] for plan in (said, given))
    assert (cloth["selvedge_mm"], cloth["selvedge_given"]) == (0, False)
    assert (known["selvedge_mm"], known["selvedge_given"]) == (0, True)
    assert list(answer_lines(said)) == list(answer_lines(given))


def test_tube_has_no_selvedge_to_give() -> None:
    """Nothing is said of a tube's selvedge; of flat rib's it is."""
    wide = CLOTH + 'opened = "90 in"'
    assert not any("selvedge" in line for line in planned_job(wide, rib=RIB + 'opened = "40 in"').remarks)
    flat = planned_job(wide, rib='[[rib]]\nname = "flat rib"\nform = "flat"\nwidth = "40 in"')
    assert [line for line in flat.remarks if line.startswith("flat rib: no selvedge")]


def test_run_says_it_too() -> None:
    """A run notes each of its cloths whose selvedge is not given."""
    run = planned((r'^selvedge = "1/2 in"\n', ""))
    assert [note for note in run.notes if "no selvedge is given" in note]
