"""The order file: what it holds, and what is said of one that makes no sense."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from reports.ask.order.order import USUAL_LAYERS, Cutting, Tolerance, parse_order, read_order
from reports.errors import JobError

if TYPE_CHECKING:
    from pathlib import Path

TEMPLATE = (files("reports") / "templates" / "order.toml").read_text(encoding="utf-8")


def changed(pattern: str, new: str) -> str:
    """The template with one place changed."""
    text, times = re.subn(pattern, new, TEMPLATE, count=1, flags=re.MULTILINE)
    assert times == 1
    return text


def test_template() -> None:
    """The file that `new --run` writes is an order of forty garments in two colours and five sizes."""
    order = parse_order(TEMPLATE)
    assert sum(n for by_size in order.quantity.values() for n in by_size.values()) == 40
    assert [cloth.colour for cloth in order.fabric] == ["rust", "navy"]
    assert {len(by_size) for by_size in order.quantity.values()} == {5}


def test_tolerance() -> None:
    """A number of garments, or a share of those ordered; of a size not ordered none is cut."""
    by_number = Tolerance.model_validate({"under": 1, "over": 2})
    assert (by_number.least(5), by_number.most(5), by_number.least(0), by_number.most(0)) == (4, 7, 0, 0)
    by_share = Tolerance.model_validate({"under": "5 %", "over": "10 %"})
    assert (by_share.least(40), by_share.most(40), by_share.most(9)) == (38, 44, 9)


def test_layers() -> None:
    """A tool cuts its usual layers, those given, or as many as go into the height given; folded, two make a ply."""
    order = parse_order(TEMPLATE.replace('# thickness = "0.8 mm"', 'thickness = "0.8 mm"'))
    cloth = order.fabric[0]
    assert cloth.most_plies(Cutting()) == USUAL_LAYERS["shears"]
    assert cloth.most_plies(Cutting.model_validate({"most_layers": 7})) == 7
    assert cloth.most_plies(Cutting.model_validate({"height": "40 mm"})) == 50
    assert cloth.most_plies(Cutting.model_validate({"height": "40 mm", "most_layers": 30})) == 30
    assert cloth.model_copy(update={"spread": "folded"}).most_plies(Cutting.model_validate({"most_layers": 7})) == 3


@pytest.mark.parametrize(
    ("pattern", "new", "said"),
    [
        (r"^sizes = .*$", "", "needs either a table"),
        (r"^sizes = .*$", 'sizes = "women"\nclients = "c.csv"', "or a file of clients"),
        (r"^garment = .*$", 'garment = "kilt"', "unknown garment"),
        (r"^garment", "garmnet", "unknown key 'garmnet': did you mean 'garment'"),
        (r"^rust = .*\nnavy = .*$", "", "[quantity] is empty"),
        (r"^rust = \{ XS = 2", "rust = { XS = -2", "0 or more"),
        (r"^# over = 0", "over = -1", "number of garments"),
        (r"^# under = 0", 'under = "120 %"', "number of garments"),
        (r'^table = "4 m"', 'table = "0 m"', "must be more than 0"),
        (r"^most_layers = 6", "most_layers = 0", "[cutting] most_layers: write 1 or more"),
        (r'^tool = "rotary cutter"', 'tool = "saw"', "[cutting] tool"),
        (r'^price = "16.50 / yd"', 'price = "-16.50 / yd"', "cannot read the price"),
        (r'^price = "2.40 / piece"', 'price = "-2.40 / piece"', "cannot read the price"),
        (r'^spread = "face-up"', 'spread = "crosswise"', "[[fabric]] number 1 spread"),
        (r'^length = "25 in"', 'length = "25"', "[style] length"),
        (r"^overhead = 18", "overhead = -18", "[pricing] overhead"),
    ],
)
def test_mistakes_are_said_in_one_line(pattern: str, new: str, said: str) -> None:
    """Each mistake is one line that names the file and the entry."""
    with pytest.raises(JobError) as found:
        parse_order(changed(pattern, new), "forty.toml")
    assert str(found.value).startswith("forty.toml: ")
    assert said in str(found.value)
    assert "\n" not in str(found.value)


def test_files_that_are_none(tmp_path: Path) -> None:
    """An empty file, one that is not there, and one that is no TOML."""
    (tmp_path / "empty.toml").write_text("")
    (tmp_path / "odd.toml").write_text("garment = ")
    for name, said in (("empty.toml", "is empty"), ("gone.toml", "cannot read"), ("odd.toml", "not valid TOML")):
        with pytest.raises(JobError, match=said):
            read_order(tmp_path / name)
