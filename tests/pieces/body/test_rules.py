"""What stands in for measurements that were not taken, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from pieces.body.body import Body, measurement_names
from pieces.body.ranges import usual_range
from pieces.body.rules import RULES, lacking, measured_or_usual
from pieces.body.sizes import TABLES, find_table
from pieces.errors import MeasurementError
from pieces.length import mm
from tests.make.lengths import in_mm

INCH = 25.4
TYPES = ("women", "men", "children")


def test_rules_are_for_measurements_that_may_be_left_out() -> None:
    """Each rule is for a measurement, goes by others that have none, and says its source."""
    assert set(RULES) <= set(measurement_names())
    assert all(set(rule.needs) <= set(measurement_names()) - set(RULES) for rule in RULES.values())
    assert all(rule.words and rule.source for rule in RULES.values())


@pytest.mark.parametrize("name", RULES)
def test_a_rule_needs_what_it_says(body: Body, name: str) -> None:
    """A body that has only what a rule needs gets its measurement by it; one with nothing is told what to measure."""
    needed = {each: getattr(body, each) for each in RULES[name].needs}
    bare = Body(**in_mm(needed))
    assert measured_or_usual(bare, name) == RULES[name].work_out(body)
    assert lacking((name,), needed) == []
    for each in needed:
        with pytest.raises(MeasurementError, match=rf"^{name} is needed: measure it, or give {each} for its rule$"):
            measured_or_usual(Body(), name)


def test_hip_depth_as_in_the_book() -> None:
    """The Perfect Dressmaking System (1914, p. 13 of the scan): hip 40 in, the hip line 7 in below the waist."""
    assert measured_or_usual(Body(hip="40 in"), "hip_depth") / INCH == pytest.approx(7)


def test_what_was_measured_counts(body: Body) -> None:
    """A waist of 36 in is taken as it is; without it, a bust of 42 in has a ninth less (Hertzer 1892): 37 1/3."""
    assert measured_or_usual(replace(body, waist=mm(36 * INCH)), "waist") == 36 * INCH
    assert measured_or_usual(body, "waist") / INCH == pytest.approx(42 * 8 / 9)


def test_line_of_the_arm_as_in_the_course(body: Body) -> None:
    """A course's block, bust 88 cm: 88 / 6 + 6 = 20.67 cm (notes on the web); of a child of 66 cm 16.5 (practice)."""
    adult = replace(body, bust=mm(880.0))
    assert measured_or_usual(adult, "nape_to_armhole") == pytest.approx(880 / 6 + 60)
    child = replace(adult, bust=mm(660.0), wearer="children")
    assert measured_or_usual(child, "nape_to_armhole") == pytest.approx(165)


@pytest.mark.parametrize("name", RULES)
@pytest.mark.parametrize("table", [name for name in TABLES if name in TYPES])
def test_rules_give_what_is_usual(name: str, table: str) -> None:
    """Of every size of the tables, a rule gives a measurement within the usual range of its wearer."""
    sizes = find_table(table)
    for size in sizes.sizes:
        body = sizes.body(size)
        limits = usual_range(body.wearer, name)
        assert limits.low <= measured_or_usual(body, name) <= limits.high, size
