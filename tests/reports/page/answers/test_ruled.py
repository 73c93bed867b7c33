"""Grade rules of a pattern file, made on the page and used for a run of its sizes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from reports.page.answers.fields import order_of
from reports.page.answers.ruled import keep_rules
from reports.page.answers.upload import read_upload
from reports.page.errors import FieldsError
from reports.page.notebook.notebook import notebook_of
from reports.page.store.patterns import Patterns
from reports.page.store.store import Store
from reports.page.work_folder import UPLOADS
from reports.run.garments import draft_all
from tests.pieces.exchange.test_sized import nest

if TYPE_CHECKING:
    from pathlib import Path


def order(rules: dict[str, Any], **more: Any) -> dict[str, Any]:
    """An order of imported pieces in sizes."""
    named = {key: rules[key] for key in ("pieces_file", "grade_file")}
    cloth = [{"name": "drill", "width": "150 cm", "colour": "sand"}]
    quantity = {"sand": {"S": 2, "L": 1}}
    return {"garment": "imported", "units": "cm", "quantity": quantity, "fabric": cloth} | named | more


@pytest.mark.usefixtures("read_here")
def test_a_run_of_the_sizes_of_a_file(tmp_path: Path) -> None:
    """The sizes that are ordered are as wide as they are drawn; only files that were made here are read."""
    uploads = tmp_path / UPLOADS
    read = read_upload("coat.svg", nest(tmp_path / "a.svg", (200, 212, 224)).read_bytes(), ReadingChoices(size="M"),
                       uploads)  # fmt: skip
    pattern = Patterns(tmp_path).find(read["pattern"]["id"])
    rules = keep_rules(pattern, uploads)
    assert (rules["sizes"], rules["base"], rules["pieces_file"]) == (["S", "M", "L"], "M", read["pieces_file"])
    assert keep_rules(pattern, uploads) == rules
    garments = draft_all(order_of(order(rules), uploads))
    assert [(one.name, [round(piece.length) for piece in one.pieces]) for one in garments.sizes] == [
        ("S", [200]),
        ("L", [224]),
    ]
    assert "coat.svg" in garments.source
    for wrong in ({"grade_file": "../grades.toml"}, {"grade_file": f"{'0' * 32}.json"}, {"pieces_file": "/etc/passwd"}):
        with pytest.raises(FieldsError) as refused:
            order_of(order(rules, **wrong), uploads)
        assert refused.value.faults[0].field in wrong
    kinds = [key[0] for key in notebook_of(Store(tmp_path)).things]
    assert kinds.count("pattern") == 1


@pytest.mark.usefixtures("read_here")
def test_a_file_of_one_size_has_no_rules(tmp_path: Path) -> None:
    """It says why."""
    square = b'{"unit": "mm", "pieces": {"flap": [[0, 0], [200, 0], [200, 60], [0, 60]]}}'
    read = read_upload("flap.json", square, ReadingChoices(), tmp_path / UPLOADS)
    with pytest.raises(FormatError, match="no second size"):
        keep_rules(Patterns(tmp_path).find(read["pattern"]["id"]), tmp_path / UPLOADS)
