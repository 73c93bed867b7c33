"""Garments laid together and one at a time: what that saves is searched, and shares add up."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from pydantic import TypeAdapter

from pieces.trims.trim import TrimNeeded
from reports.ask.draft import draft_whole
from reports.ask.job import parse_job
from reports.buy.question import Buy
from reports.buy.report import plan_report
from reports.plan.alone import Alone, AloneGarment
from reports.plan.effort import Effort
from reports.plan.one_by_one import with_alone
from reports.plan.parts import cost_of_each, parts_of
from reports.plan.plain import plan_to_plain
from reports.plan.plan import plan_job
from reports.plan.shopping import shopping_left_out, shopping_of, trims_of
from reports.plan.together import share_rows, together_lines
from reports.schema.buy import BuyAnswer
from reports.sew.sewing import sewing_lines, sewing_order
from tests.make.several import CLOTH, JACKET, bag

if TYPE_CHECKING:
    from pathlib import Path

    from reports.plan.plan import Plan

NOW = Effort(0, proof=0)


def squares(folder: Path, head: str = "") -> Plan:
    """Two bags of one square of 20 cm, one bag of a square of 10 cm, on cloth of 50 cm: 20 cm are enough for all."""
    cloth = CLOTH.format("50 cm") + 'end_allowance = "0 cm"\nsold_by = "10 cm"\n'
    text = head + bag(folder, "large", 200, 1) + "quantity = 2\n" + bag(folder, "small", 100, 1) + cloth
    return plan_job(parse_job(text, "bags.toml", folder), NOW)


def test_saving(tmp_path: Path) -> None:
    """Worked out by hand: 20 cm together; one at a time 2 × 20 cm and 10 cm. So 30 cm are saved."""
    plan = with_alone(squares(tmp_path), NOW)
    (alone,) = plan.alone
    assert alone.buy == pytest.approx(500)
    assert alone.saved == pytest.approx(300)
    assert alone.cost == Decimal("5.47")  # 2 × 2.19 and 1.09: 10.00 a yard
    assert alone.saved_cost == Decimal("3.28")
    first, second = together_lines(plan)
    assert "One at a time: 0.5 m (large 2 × 0.2 m, small 0.1 m), each searched as hard." in first
    assert second.strip() == "Laying them together saves 0.3 m and 3.28."


def test_not_known(tmp_path: Path) -> None:
    """Where one garment cannot be laid alone, nothing is said of a saving, and the reason is."""
    plan = with_alone(squares(tmp_path), NOW)
    (alone,) = plan.alone
    last = alone.each[-1]
    broken = Alone(1, alone.together, (*alone.each[:-1], AloneGarment(last.member, None, "it needs a fold")))
    assert (broken.buy, broken.cost, broken.saved, broken.saved_cost) == (None, None, None, None)
    (line,) = together_lines(replace(plan, alone=(broken,)))
    assert line.endswith("One at a time: not known; small alone: it needs a fold.")


def test_no_saving(tmp_path: Path) -> None:
    """A marker of all that takes more than one at a time is told as such, and not as a saving."""
    plan = with_alone(squares(tmp_path), NOW)
    large, small = plan.alone[0].each
    assert large.plan is not None
    more, alike = Alone(1, large.plan, (small,)), Alone(1, large.plan, (small, small))
    assert more.saved == pytest.approx(-100)
    assert "Laid together they take 0.1 m more" in list(together_lines(replace(plan, alone=(more,))))[1]
    assert "as much is bought" in list(together_lines(replace(plan, alone=(alike,))))[1]


def test_shares(tmp_path: Path) -> None:
    """Areas are 8 to 1; percent, length and cost add up to the whole to the last figure."""
    (parted,) = parts_of(squares(tmp_path))
    assert [part.share for part in parted.parts] == [889, 111]
    assert sum(part.cost or 0 for part in parted.parts) == parted.whole.cost == Decimal("2.19")
    assert sum(Decimal(part.text.split()[0]) for part in parted.parts) == Decimal(parted.whole.text.split()[0])
    assert dict(cost_of_each((parted,))) == {part.member: part.cost for part in parted.parts}


def test_asked_for(tmp_path: Path) -> None:
    """Up to three are searched alone without a word; with alone = false none is, and no figure is told."""
    plan = with_alone(squares(tmp_path, "alone = false\n"), NOW)
    assert plan.alone == ()
    (line,) = together_lines(plan)
    assert "not searched one at a time" in line
    many = plan.members * 2
    unasked = replace(plan, job=plan.job.model_copy(update={"alone": None}), members=many)
    assert with_alone(unasked, NOW).alone == ()


def test_every_face(tmp_path: Path) -> None:
    """JSON keeps to its schema, the report and the answer in words have shares, and says how many are made."""
    plan = with_alone(squares(tmp_path), NOW)
    plain = plan_to_plain(plan)
    TypeAdapter(BuyAnswer).validate_python(json.loads(json.dumps(plain)), strict=True)
    assert plain["together"]["alone"][0]["saved_mm"] == pytest.approx(300)
    assert plain["shopping"]["garments"] == plan.made == 3
    assert [row[1] for row in share_rows(plan)] == ["large", "small", "all"]
    report = plan_report(plan)
    assert report.subtitle == "bags.toml: 3 garments"
    assert any("saves 0.3 m" in str(line) for line in Buy().words(plan))


def test_jacket_and_bag(tmp_path: Path) -> None:
    """A jacket and an imported bag: trims and steps of the jacket, and the bag named as left out of both."""
    job = parse_job(JACKET + bag(tmp_path, "bag", 300, 2) + CLOTH.format("60 in"), "both.toml", tmp_path)
    plan = plan_job(job, NOW, rib=False)
    zips = [line for line in shopping_of(plan) if line.name == "separating zip"]
    assert [(line.count, line.where[0]) for line in zips] == [(1, "Ada: front edge")]
    assert all(isinstance(trim, TrimNeeded) for trim in trims_of(plan) or ())
    assert shopping_left_out(plan) == "Trims of bag are not worked out: add them yourself."
    lines = list(sewing_lines(sewing_order(job, draft_whole(job))))
    assert lines[0].startswith("1. Ada: ")
    assert "No order of sewing is known of bag." in lines


def test_shapes_have_a_share(tmp_path: Path) -> None:
    """By hand: a square of 20 cm, and a shape of 10 by 40 cm pieced of 2 on 30 cm of cloth: half each, no seams."""
    shape = '[[shape]]\nname = "band"\nkind = "rectangle"\nlength = "10 cm"\nwidth = "40 cm"\nseam = "0 cm"\n'
    text = "alone = true\n" + bag(tmp_path, "bag", 200, 1) + "quantity = 2\n" + shape + CLOTH.format("30 cm")
    plan = with_alone(plan_job(parse_job(text, "bags.toml", tmp_path), NOW), NOW)
    (parted,) = parts_of(plan)
    assert [(part.member.label, part.share) for part in parted.parts] == [("bag", 667), ("shapes", 333)]
    assert plan.made == 2
    ((alone,),) = [one.each[1:] for one in plan.alone]
    assert alone.member.label == "shapes" and alone.plan is not None
