"""What is wrong with a job or an order, each thing at its field; what is right is the job that the command reads."""

from __future__ import annotations

import copy
import tomllib
from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import DraftError
from reports.ask.job import parse_job
from reports.ask.order.order import parse_order
from reports.page.answers.catalogue import catalogue
from reports.page.answers.fields import field_of, job_of, order_of
from reports.page.errors import FieldsError
from tests.make.model import MODEL
from tests.make.orders import TEMPLATE

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def model() -> Any:
    """The model job as plain data."""
    return tomllib.loads(MODEL)


def faults(data: Any, check: Callable[..., Any] = job_of) -> dict[str, str]:
    """What is wrong, by field."""
    with pytest.raises(FieldsError) as refused:
        check(data)
    return {fault.field: fault.message for fault in refused.value.faults}


def test_same_job() -> None:
    """A job sent as JSON is the job that its TOML file is."""
    assert job_of(model()) == parse_job(MODEL, "job")
    assert order_of(TEMPLATE) == order_of(tomllib.loads(TEMPLATE)) == parse_order(TEMPLATE)


def test_every_fault_at_its_field() -> None:
    """Several things that are wrong are all told at once, each at its field."""
    data = model()
    data["body"] |= {"bust": "lots", "hip": "480 in", "nose": "2 in"}
    del data["body"]["neck"]
    data["style"] |= {"seam": "1/2", "closure": "velcro", "hat": "yes"}
    found = faults(data)
    assert set(found) == {"body.bust", "body.hip", "body.nose", "body.neck", "style.seam", "style.closure", "style.hat"}
    assert "48" in found["body.hip"]
    assert "missing" in found["body.neck"]


def test_cloth_and_rib() -> None:
    """A fault of a cloth or a rib names its number, counted from 0, and its key."""
    data = model()
    data["fabric"].append({"width": "none", "sold_by": "1/8 yd", "colour": "red"})
    del data["rib"][0]["opened"]
    assert set(faults(data)) == {"fabric.1.width", "fabric.1.colour", "rib.0"}


def test_what_to_write_in_a_file_stands_apart() -> None:
    """A fault says what is wrong apart from the line that mends a job file; its one line has both."""
    data = model()
    del data["fabric"][0]["width"]
    with pytest.raises(FieldsError) as refused:
        job_of(data)
    (fault,) = refused.value.faults
    assert fault == ("fabric.0.width", "width is missing", 'add a line such as width = "45 in"')
    with pytest.raises(FieldsError) as refused:
        job_of({"garment": "imported"})
    (fault,) = refused.value.faults
    assert (fault.message, "pieces_file" in fault.hint) == ("imported pieces need a file", True)


def test_what_does_not_go_together() -> None:
    """Options that are sound each, and do not go together, are told at the one that the message names."""
    data = model()
    data["style"] |= {"closure": "buttons", "front_extension": "1/4 in"}
    assert set(faults(data)) == {"style.front_extension"}
    assert set(faults(model() | {"fabric": [{"width": "60 in", "spread": "open", "fold_depth": "9 in"}]})) == {
        "fabric.0"
    }


def test_the_field_is_data_and_not_a_word_of_the_message() -> None:
    """An error of drafting bears the field it is about, whichever other fields its words name."""
    job = job_of(model())
    said = "the sleeve cap cannot meet its armhole: measure neck and bust again"
    for about, field in (("sleeve_room", "style.sleeve_room"), ("hip", "body.hip"), ("", "")):
        assert field_of(job, DraftError(said, about=about)) == field
    assert field_of(job, ValueError("neck")) == ""


@pytest.mark.parametrize("data", [None, [], "job", 3, {"garment": "cape"}, {"garment": 3}, {}, {"folder": "/etc"}])
def test_no_job(data: Any) -> None:
    """What is no job at all is refused with a reason."""
    assert all(faults(data).values())


def test_no_file_of_this_machine_is_read(tmp_path: Path) -> None:
    """Neither a job nor an order names files of this machine: pieces and tables are those uploaded or built in."""
    (tmp_path / "pieces.json").write_text("{}")
    for name in ("../pieces.json", str(tmp_path / "pieces.json"), "pieces.json", "0" * 32 + ".json", "/etc/passwd"):
        data = {"garment": "imported", "pieces_file": name}
        with pytest.raises(FieldsError) as refused:
            job_of(data, tmp_path / "uploads")
        assert [fault.field for fault in refused.value.faults] == ["pieces_file"]
    order = tomllib.loads(TEMPLATE)
    assert set(faults(order | {"sizes": "/etc/passwd"}, order_of)) == {"sizes"}
    del order["sizes"], order["quantity"]
    assert set(faults(order | {"clients": "clients.csv"}, order_of)) == {"clients"}


def test_catalogue_names_what_a_job_takes() -> None:
    """The job to begin with is sound; every option and measurement of the catalogue is known, its default allowed."""
    known = catalogue()
    job = copy.deepcopy(known["template_job"])
    job_of(job)
    order_of(known["template_order"])
    (garment,) = [each for each in known["garments"] if each["name"] == job["garment"]]
    for option in garment["options"]:
        if option["kind"] == "choice":
            assert option["default"] in option["choices"]
            job["style"][option["name"]] = option["default"]
    job_of(job)
    assert {each["name"] for each in known["measurements"]} >= set(garment["measurements"])
    assert {spread["name"] for spread in known["spreads"]} >= {fabric["spread"] for fabric in job["fabric"]}
    for table in known["tables"]:
        assert all(size["measures"] for size in table["sizes"])


def test_usual_ranges_hold_the_survey_means() -> None:
    """The catalogue's usual ranges hold the mean hip girths of ANSUR II (NATICK/TR-15/007): 1021 mm, 1020 mm."""
    (hip,) = [each for each in catalogue()["measurements"] if each["name"] == "hip"]
    for wearer, mean in (("women", 1021.2), ("men", 1019.5)):
        low, high = hip["usual"][wearer]
        assert low < mean < high


def test_two_of_one_name() -> None:
    """Two cloths or two ribs of one name are told at the second one's name, of a job and of an order."""
    data = model()
    data["fabric"] = [{"name": "canvas", "width": "60 in"}, {"name": "Canvas ", "width": "45 in"}]
    data["rib"] *= 2
    found = faults(data)
    assert set(found) == {"fabric.1.name", "rib.1.name"}
    assert found["fabric.1.name"] == ("number 1 is called 'canvas', and number 2 'Canvas ': give each its own name")
    order = tomllib.loads(TEMPLATE)
    order["fabric"][1]["name"] = order["fabric"][0]["name"]
    assert set(faults(order, order_of)) == {"fabric.1.name"}


def test_several_garments() -> None:
    """A job of several garments is refused in words."""
    several = {"garment": [{"garment": "tote"}, {"garment": "apron"}], "fabric": [{"width": "60 in"}]}
    assert faults(several) == {
        "garment": "[[garment]] is for a job file that 'ellwand buy' reads: here write one garment's name"
    }


def test_rib_only_where_there_is_some() -> None:
    """The catalogue says what each garment is cut of by its defaults."""
    materials = {each["name"]: each["materials"] for each in catalogue()["garments"]}
    assert (materials["joggers"], materials["circle-skirt"]) == (["rib", "shell"], ["shell"])


def test_shapes() -> None:
    """Shapes beside a garment are kept, and what is wrong with one is told at its field; alone they are refused."""
    shape = {"name": "scarf", "kind": "strip", "length": "70 in", "width": "6 in"}
    (kept,) = job_of(model() | {"shape": [shape]}).shape
    assert (kept.name, kept.kind) == ("scarf", "strip")
    assert set(faults(model() | {"shape": [shape | {"gathers": 9}]})) == {"shape.0.gathers"}
    alone = {"shape": [shape], "fabric": [{"width": "60 in"}]}
    assert faults(alone) == {"garment": "the page has no view for shapes alone: use 'ellwand buy' for that"}
