"""Every file of an answer, through the API, opened by a library that is not ours; what they tell is the answer's."""

from __future__ import annotations

import csv
import io
import json
import tomllib
import xml.etree.ElementTree as ET
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import html5lib
import openpyxl
import pypdf
import pytest
from ezdxf import filemanagement
from PIL import Image
from pytest import MonkeyPatch

from reports.page.search import Search
from reports.page.searches import work
from reports.plan.effort import Effort
from tests.make.model import MODEL
from tests.make.recheck import recheck
from tests.reports.page.conftest import app_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from ezdxf.document import Drawing
    from starlette.testclient import TestClient

POINT = 25.4 / 72  # PDF 32000-1: a point is 1/72 in


def sound_dxf(data: bytes) -> Drawing:
    """A drawing by ezdxf, which finds nothing to mend in it."""
    drawing = filemanagement.read(io.StringIO(data.decode()))
    assert drawing.audit().errors == []
    return drawing


READERS: dict[str, Callable[[bytes], Any]] = {
    "csv": lambda data: list(csv.reader(io.StringIO(data.decode()), strict=True)),
    "dxf": sound_dxf,
    "html": lambda data: html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(data),
    "json": json.loads,
    "pdf": lambda data: pypdf.PdfReader(io.BytesIO(data), strict=True),
    "png": lambda data: Image.open(io.BytesIO(data)).size,
    "svg": ET.fromstring,
    "txt": bytes.decode,
    "xlsx": lambda data: openpyxl.load_workbook(io.BytesIO(data)),
}


@pytest.fixture
def answer(client: TestClient, monkeypatch: MonkeyPatch) -> Any:
    """What to buy for the model job, and a client of the server that has found it."""
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    payload = {"job": tomllib.loads(MODEL), "effort": "quick", "options": {}}
    done = Search("done", "buy", payload)
    done.turn("done", json.loads(json.dumps(work.run_task("buy", payload, lambda told: None, lambda: False))))
    app_of(client).state.searches = SimpleNamespace(find={"done": done}.__getitem__)
    return done.result, client


def test_downloads(answer: Any) -> None:
    """All files open, as what the list says; the marker is as long in each as in the answer, and can be cut."""
    result, client = answer
    read: dict[str, Any] = {}
    for file in client.get("/api/searches/done/files").json():
        sent = client.get(f"/api/searches/done/files/{file['name']}")
        assert (sent.status_code, sent.headers["content-type"]) == (200, file["type"])
        read[file["name"]] = READERS[file["name"].rpartition(".")[2]](sent.content)
    assert {name.rpartition(".")[2] for name in read} == set(READERS)
    plan, length = result["plan"], result["plan"]["fabrics"][0]["marker_mm"]
    assert read["buy.json"] == plan
    assert read["buy.txt"].splitlines()[0] == result["words"][0]
    recheck(read["marker-1.json"], read["pieces.json"])
    assert read["marker-1.json"]["length"] == length
    across = read["marker-1.csv"][0].index("x (mm)")
    assert max(float(row[across]) for row in read["marker-1.csv"][1:]) == pytest.approx(length)
    cut = [line for line in read["marker-1.dxf"].modelspace() if line.dxf.layer == "CUT"]
    assert max(x for line in cut for x, *_ in line.get_points()) == pytest.approx(length)
    (sheet,) = read["marker-1-full-size.pdf"].pages
    assert max(float(side) for side in sheet.mediabox[2:]) * POINT > length
    assert result["words"][0] in {cell.value for row in read["report.xlsx"]["As planned"] for cell in row}
    assert plan["fabrics"][0]["buy"] in "".join(read["report.html"].itertext())
    assert all(side > 500 for name, size in read.items() if name.endswith("png") for side in size)
