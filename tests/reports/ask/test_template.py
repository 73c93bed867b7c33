"""The job file that `ellwand new` writes: every key there is stands in it, and what it says of defaults is so."""

from __future__ import annotations

import re
import tomllib
from dataclasses import asdict, fields
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

from pieces.body.body import Body
from pieces.body.corrections import CORRECTIONS
from pieces.body.rules import RULES
from pieces.garments import GARMENTS
from pieces.garments.jacket.allowances import NAMED
from pieces.garments.known import find_garment
from reports.ask.draft import draft_job
from reports.ask.job import OURS, Job, parse_job
from reports.ask.offer import FabricOffer, RibOffer
from reports.ask.order.order import parse_order
from reports.ask.several import GarmentEntry
from reports.ask.template import LINE, example_body, length_written, starting_job, starting_order, template
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.others import OTHERS, installed, write_metadata

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

TEMPLATE = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")
COMMENTED = re.compile(r"^# (\w+) = ", re.MULTILINE)
PAIRS = {"relaxed": "{}_stretched", "stretched": "{}_relaxed"}
"""Of a swatch both lengths are needed: the other by the end of the one."""
TOGETHER = [("swatch_relaxed", "swatch_stretched"), ("border", "border_edges")]
DEFAULTS = [key for key in COMMENTED.findall(TEMPLATE) if key != "pieces_file"]  # which goes with another garment


EXAMPLES = {*RULES, *CORRECTIONS, *(f"{kind}_seam" for kind in NAMED)}
"""What has a rule, or nothing, in place of a default: it is shown by an example."""


def uncommented(key: str) -> str:
    """The template with one of its commented keys in force, and with it those that it goes with."""
    return re.sub(rf"^# ((?:{'|'.join(with_others(key))}) = )", r"\1", TEMPLATE, flags=re.MULTILINE)


def with_others(key: str) -> tuple[str, ...]:
    """A key and those without which it says nothing: the two lengths of a swatch, a border and the edges on it."""
    return next((keys for keys in TOGETHER if key in keys), (key,))


def test_reads() -> None:
    """The template is a job that needs no change, and its body is nothing out of the ordinary."""
    job = parse_job(TEMPLATE)
    assert (len(job.fabric), len(job.rib)) == (2, 2)
    assert not job.measured().remarks(job.written_in)


def test_complete() -> None:
    """Every key that a job may have stands in the template, and no other."""
    whole = tomllib.loads(COMMENTED.sub(r"\1 = ", TEMPLATE))
    assert set(whole) == set(Job.model_fields) - {*OURS, "alone", "shape", "trim", "operation", "pricing"}
    tables = "[[garment]]", "[[shape]]", "[[trim]]", "[[operation]]", "[pricing]"
    assert all(f"\n# {table} " in TEMPLATE for table in tables)  # commented
    block = TEMPLATE.partition("\n# [[garment]]")[2].partition("\n\n")[0]
    assert set(re.findall(r"^#   (\w+) = ", block, re.MULTILINE)) == set(GarmentEntry.model_fields)
    assert "\n#   alone = " in TEMPLATE
    assert set(whole["body"]) - set(CORRECTIONS) == {field.name for field in fields(Body)} - {"tried_on"}
    assert set(whole["body"]) & set(CORRECTIONS)  # one of them, and where all are listed
    assert set(whole["style"]) == {option.name for option in GARMENTS["rib-jacket"].options()}
    for entries, model in ((whole["fabric"], FabricOffer), (whole["rib"], RibOffer)):
        # A tube's width is written by how it was measured; it becomes the one width there is.
        assert {key for entry in entries for key in entry} - {"opened", "lay_flat"} == set(model.model_fields)


@pytest.mark.parametrize("key", DEFAULTS)
def test_default(key: str) -> None:
    """A key that is shown commented shows its default: in force, it changes nothing."""
    plain, shown = parse_job(TEMPLATE), parse_job(uncommented(key))
    for offers, same in ((shown.fabric, plain.fabric), (shown.rib, plain.rib)):
        for offer, other in zip(offers, same, strict=True):
            # What has no default is shown by an example.
            examples = [one for one in with_others(key) if getattr(other, one, 0) in (None, ())]
            assert offer.model_copy(update={one: getattr(other, one) for one in examples}) == other
    before, after = asdict(plain.styled()), asdict(shown.styled())
    if before.get(key, 0) is not None:
        assert after == before
    drafted = draft_job(shown).measures
    if key not in EXAMPLES:
        assert drafted == pytest.approx(draft_job(plain).measures, abs=1e-6)


def test_other_numbers() -> None:
    """The template is a scenario of its own: none of its measurements is the model job's."""
    from tests.make.model import MODEL

    body, model = (tomllib.loads(text)["body"] for text in (TEMPLATE, MODEL))
    assert not {key for key in body if body[key] == model.get(key)}


def test_width() -> None:
    """No line of the template is wider than 120 signs."""
    assert max(map(len, TEMPLATE.splitlines())) <= 120


@pytest.fixture
def others(monkeypatch: MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """The garments of the package in tests/others are there as well."""
    write_metadata((OTHERS / "pyproject.toml").read_text(encoding="utf-8"), tmp_path)
    with installed(monkeypatch, OTHERS, tmp_path):
        yield


@pytest.mark.usefixtures("others")
@pytest.mark.parametrize("name", [*GARMENTS, "kerchief", "sarong"])
def test_job_of_each_garment(name: str) -> None:
    """It reads, its body is usual, and each option in it stands at its default, or shows what it takes."""
    garment = find_garment(name)
    text = starting_job(garment)
    job = parse_job(text)
    assert (job.garment, job.measured().remarks(job.written_in)) == (name, [])
    assert max(map(len, text.splitlines())) <= LINE
    body = text.partition("\n[style]")[0]
    assert all(re.search(rf"^(# )?{each} = ", body, re.MULTILINE) for each in garment.measurements)
    table = re.search(r"^\[style\].*?(?=^\[\[)", text, re.MULTILINE | re.DOTALL)
    assert table is not None
    shown = re.findall(r"^# (\w+) = (\S.*?)(?:  #|$)", table[0], re.MULTILINE)
    assert {key for key, _ in shown} <= {option.name for option in garment.options()}
    if name != "rib-jacket":  # which has a template of its own, tested above
        assert [key for key, _ in shown] == [option.name for option in garment.options()]
        by_default = {key: value for key, value in shown if getattr(garment.style(), key) is not None}
        written = "".join(f"{key} = {value}\n" for key, value in by_default.items())
        read = parse_job(text.replace("\n[style]", f"\n[style]\n{written}#")).styled()
        assert asdict(read) == pytest.approx(asdict(garment.style()))
        for key, value in set(shown) - set(by_default.items()):  # an example is read, alone, or with its pair
            pair = [(key, value)] + [
                one for one in shown if one[0] == PAIRS.get(key.partition("_")[2], "").format(key.partition("_")[0])
            ]
            lines = "".join(f"{name} = {given}\n" for name, given in pair)
            parse_job(text.replace("\n[style]", f"\n[style]\n{lines}#"))


@pytest.mark.usefixtures("others")
@pytest.mark.parametrize("name", [name for name in (*GARMENTS, "kerchief", "sarong") if name != "rib-jacket"])
def test_job_of_each_garment_is_answered(name: str) -> None:
    """Nothing need be filled in: there is a cloth for each part, and a rib where it has bands; and an order as well."""
    garment = find_garment(name)
    job = parse_job(starting_job(garment))
    plan = plan_job(job, Effort(0))
    offered = {fabric.offer.material for _, fabric in plan.markers}
    assert {piece.material for piece in plan.pieces} - {"rib"} == offered
    assert bool(plan.pieces.of("rib")) == bool(plan.rib_plans) == bool(job.rib)
    order = parse_order(starting_order(garment))
    assert (order.garment, bool(order.rib)) == (name, bool(job.rib))


def test_jacket_keeps_its_own() -> None:
    """Of the rib jacket the files are the templates themselves."""
    garment = GARMENTS["rib-jacket"]
    assert (starting_job(garment), starting_order(garment)) == (template(), template("order"))


def test_body_to_start_with() -> None:
    """What a table has is as in the table, to an eighth of an inch; the rest by a rule."""
    body = example_body(GARMENTS["rib-jacket"])
    assert body.bust == pytest.approx(940, abs=25.4 / 16)  # women-letters, M
    assert body.bust / 25.4 * 8 == pytest.approx(round(body.bust / 25.4 * 8))


@pytest.mark.parametrize(("mm", "text"), [(12.7, "1/2 in"), (25.4 * 40 / 64, "5/8 in"), (60.0, "60 mm"), (0.0, "0 in")])
def test_length_is_written_exactly(mm: float, text: str) -> None:
    """A default is never rounded: in inches where they are exact, else in mm."""
    assert length_written(mm) == text
