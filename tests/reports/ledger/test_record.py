"""What people tell the ledger: taken where it adds up, refused in a line where it does not."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

import pytest

from reports.errors import LedgerError
from reports.ledger.record import record
from tests.make.ledger import FORTY, LONG_AGO, left, shelf, standing

if TYPE_CHECKING:
    from pathlib import Path


def used(item: str, amount: Any, **more: Any) -> dict[str, Any]:
    """What was used."""
    return {"item": item, "amount": amount, **more}


def test_left_over(tmp_path: Path) -> None:
    """A remnant takes its length from its roll, with its name and lot; eighths of a metre used up leave nothing."""
    journal = shelf(tmp_path)
    assert left(journal) == {"roll 1": 8800, "remnant 2": 1200, "trim 4": 30}
    remnant = next(item for item in standing(journal).items.values() if item.kind == "remnant")
    assert (remnant.name, remnant.lot, remnant.width, remnant.cut_from) == ("canvas", "A", 1400, 1)
    for _ in range(3):
        record(journal, "used", used("remnant 2", "15 1/2 in"))
    assert left(journal)["remnant 2"] == pytest.approx(1200 - 3 * 15.5 * 25.4)
    record(journal, "used", used("2", "all"))
    assert [item.label for item in standing(journal).on_hand] == ["roll 1", "trim 4"]
    thirds = record(journal, "bought", {"what": "cloth", "name": "voile", "amount": "1 in", "width": "1 m"})
    for _ in range(3):
        record(journal, "used", used(str(thirds.number), "1/3 in"))
    assert left(journal)[f"roll {thirds.number}"] == 0


REFUSED: dict[str, tuple[str, dict[str, Any], str]] = {
    "too much": ("used", used("roll 1", "9 m"), r"roll 1 has 8\.80 m left on .*, and entry 5 takes 9 m"),
    "no unit": (
        "used",
        used("roll 1", "2"),
        "roll 1 is measured: write a length with its unit",
    ),
    "a length of zips": ("used", used("trim 4", "2 m"), "trim 4 is counted: write a whole number"),
    "unknown unit": ("used", used("roll 1", "2 ells"), "unknown unit 'ells'"),
    "comma": ("used", used("roll 1", "1,5 m"), "use a point, not a comma"),
    "negative": ("used", used("roll 1", "-1 m"), "cannot be negative"),
    "negative number": ("used", used("trim 4", -1), "must be more than 0"),
    "nothing": ("used", used("trim 4", 0), "must be more than 0"),
    "half a zip": ("used", used("trim 4", "1.5"), "a whole number, such as 2, or all, not '1.5'"),
    "no amount": ("used", {"item": "roll 1"}, "used needs amount"),
    "unknown item": ("used", used("roll 9", "1 m"), "there is no roll 9 in the ledger; on hand: roll 1, remnant 2"),
    "other kind": ("used", used("remnant 1", "1 m"), "there is no remnant 1 in the ledger"),
    "no item": ("used", used("the blue one", "1 m"), "cannot read the item 'the blue one'"),
    "unknown order": (
        "used",
        used("roll 1", "1 m", order="fifty"),
        "no order 'fifty' in the ledger: there are 'forty'",
    ),
    "strange key": ("used", used("roll 1", "1 m", price=3), "has no 'price'"),
    "narrow lie": ("remnant", {"of": "1", "length": "1 m", "width": "2 m"}, "wider than roll 1"),
    "remnant of zips": ("remnant", {"of": "4", "length": "1 m"}, "trim 4 is not cloth"),
    "cloth by number": ("bought", {"what": "cloth", "name": "a", "amount": "4", "width": "1 m"}, "bought by length"),
    "no width": ("bought", {"what": "cloth", "name": "a", "amount": "4 m"}, "cloth needs its full width"),
    "long name": ("bought", {"what": "trim", "name": "a" * 61, "amount": 4}, "1 to 60 characters"),
    "unseen name": ("bought", {"what": "trim", "name": "a\u202eb", "amount": 4}, "plainer name"),
    "same order": ("order", FORTY | {"name": " FORTY "}, "there is an order 'forty' already, entry 3: choose another"),
    "sewn first": ("sewn", {"order": "forty", "colour": "rust", "garments": {"M": 1}}, "0 cut .* 1 would be sewn"),
    "other size": (
        "cut",
        {"order": "forty", "colour": "rust", "garments": {"S": 1}},
        "no rust in size S; it has rust M",
    ),
    "none cut": ("cut", {"order": "forty", "colour": "rust", "garments": {"M": 0}}, "greater than or equal to 1"),
    "other work": (
        "minutes",
        {"order": "forty", "work": "singing", "minutes": 9, "garments": 1},
        "choose cutting, sew",
    ),
    "endless": ("minutes", {"order": "forty", "work": "sewing", "minutes": 1e300, "garments": 1}, "less than or equal"),
    "strike what": ("struck", {}, "name the entry to strike"),
}


@pytest.mark.parametrize("how", REFUSED)
def test_refused(how: str, tmp_path: Path) -> None:
    """What does not add up, or makes no sense, is refused with the reason, and nothing is entered."""
    journal = shelf(tmp_path)
    kind, told, words = REFUSED[how]
    with pytest.raises(LedgerError, match=words):
        record(journal, kind, told)  # type: ignore[arg-type]
    assert len(journal.entries()) == 4


def test_days(tmp_path: Path) -> None:
    """No entry is about tomorrow, nor about a day before the thing came in; one entered late counts on its day."""
    journal = shelf(tmp_path)
    with pytest.raises(LedgerError, match="is in the future"):
        record(journal, "used", used("1", "1 m"), day=date.today() + timedelta(days=1))
    with pytest.raises(LedgerError, match="too long ago"):
        record(journal, "used", used("1", "1 m"), day=date(26, 1, 1))
    with pytest.raises(LedgerError, match=f"roll 1 came in on {LONG_AGO}: nothing can be taken"):
        record(journal, "used", used("1", "1 m"), day=LONG_AGO - timedelta(days=1))
    record(journal, "used", used("1", "8 m"))
    with pytest.raises(LedgerError, match=r"has 7\.80 m left on .*, and entry 5 takes 8 m"):
        record(journal, "used", used("1", "1 m"), day=LONG_AGO + timedelta(days=1))
    assert len(journal.entries()) == 5


def test_corrected(tmp_path: Path) -> None:
    """A correction takes the place of an entry, which stays; of one corrected already, the last is to be corrected."""
    journal = shelf(tmp_path)
    record(journal, "used", used("1", "3 m"))
    record(journal, "used", used("1", "2 m"), corrects=5)
    assert left(journal)["roll 1"] == 6800
    with pytest.raises(LedgerError, match="entry 5 was corrected by entry 6: correct that one"):
        record(journal, "used", used("1", "1 m"), corrects=5)
    with pytest.raises(LedgerError, match="of another kind, 'used': strike it"):
        record(journal, "bought", {"what": "trim", "name": "a", "amount": 1}, corrects=6)
    record(journal, "struck", {"note": "was another roll"}, corrects=6)
    assert left(journal)["roll 1"] == 8800
    with pytest.raises(LedgerError, match="entry 6 was struck by entry 7"):
        record(journal, "struck", {}, corrects=6)
    with pytest.raises(LedgerError, match="there is no entry 99: there are 7"):
        record(journal, "struck", {}, corrects=99)
    assert [entry.number for entry in journal.entries()] == list(range(1, 8))


def test_corrected_where_others_rest_on_it(tmp_path: Path) -> None:
    """A roll keeps its number when it is corrected; it cannot become shorter than what was used, nor be struck."""
    journal = shelf(tmp_path)
    told = {"what": "cloth", "name": "canvas", "width": "150 cm", "lot": "A"}
    record(journal, "bought", told | {"amount": "12 m"}, day=LONG_AGO, corrects=1)
    assert left(journal)["roll 1"] == 10_800
    with pytest.raises(LedgerError, match=r"roll 1 has 1\.00 m left on .*, and entry 2 takes 1\.2 m"):
        record(journal, "bought", told | {"amount": "1 m"}, day=LONG_AGO, corrects=5)
    with pytest.raises(LedgerError, match=r"entry 2 is about a thing that .* was struck: strike entry 2 first"):
        record(journal, "struck", {}, corrects=5)
    assert standing(journal).faults == []
