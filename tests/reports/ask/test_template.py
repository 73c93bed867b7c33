"""The job file that `ellwand new` writes: every key there is stands in it, and what it says of defaults is so."""

from __future__ import annotations

import re
import tomllib
from dataclasses import asdict, fields
from importlib.resources import files

import pytest

from pieces.body.body import Body
from pieces.body.corrections import CORRECTIONS
from pieces.body.rules import RULES
from pieces.garments import GARMENTS
from pieces.garments.jacket.allowances import NAMED
from reports.ask.draft import draft_job
from reports.ask.job import OURS, Job, parse_job
from reports.ask.offer import FabricOffer, RibOffer
from reports.ask.several import GarmentEntry

TEMPLATE = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")
COMMENTED = re.compile(r"^# (\w+) = ", re.MULTILINE)
DEFAULTS = [key for key in COMMENTED.findall(TEMPLATE) if key != "pieces_file"]  # which goes with another garment


EXAMPLES = {*RULES, *CORRECTIONS, *(f"{kind}_seam" for kind in NAMED)}
"""What has a rule, or nothing, in place of a default: it is shown by an example."""


def uncommented(key: str) -> str:
    """The template with one of its commented keys in force; the two lengths of a swatch go together."""
    keys = "swatch_relaxed|swatch_stretched" if key.startswith("swatch") else key
    return re.sub(rf"^# ((?:{keys}) = )", r"\1", TEMPLATE, flags=re.MULTILINE)


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
            is_example = hasattr(other, key) and getattr(other, key) in (None, ())
            assert (offer.model_copy(update={key: getattr(other, key)}) if is_example else offer) == other
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
