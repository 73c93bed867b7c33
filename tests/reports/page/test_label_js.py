"""Names lie inside their pieces on the page's marker; Node runs the page's module, shapely judges."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path

import pytest
from shapely.geometry import Polygon, box

MODULE = Path(str(files("reports.page"))) / "static" / "js" / "table" / "label.js"

LETTER = 0.62
"""Width of a letter as a share of its size, as the module takes it; most letters are narrower."""

OUTLINES = {
    "a sleeve across the cloth": [[0, 0], [100, 0], [100, 330], [0, 330], [0, 300], [-110, 165], [0, 30]],
    "along it": [[0, 0], [0, 100], [330, 100], [330, 0], [300, 0], [165, -110], [30, 0]],
    "a ring's quarter": [
        [0, 200],
        [200, 200],
        [190, 110],
        [130, 40],
        [100, 0],
        [300, 0],
        [390, 190],
        [400, 400],
        [0, 400],
    ],
    "a band": [[0, 0], [700, 0], [700, 60], [0, 60]],
    "a small square": [[0, 0], [30, 0], [30, 30], [0, 30]],
}

SCRIPT = """
const { placeOf } = await import(process.argv[1]);
console.log(JSON.stringify(JSON.parse(process.argv[2]).map((outline) => placeOf(outline, "Sleeve (right)", 25))));
"""


@pytest.mark.skipif(shutil.which("node") is None, reason="Node is not here; the page's tests in CI have it")
def test_names_lie_inside() -> None:
    """Words as long as their letters, as high as they are large, lie in outlines whose middle has no room for them."""
    command = [
        "node",
        "--input-type=module",
        "--eval",
        SCRIPT,
        "--",
        MODULE.as_uri(),
        json.dumps(list(OUTLINES.values())),
    ]
    places = json.loads(subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout)
    for (name, outline), place in zip(OUTLINES.items(), places, strict=True):
        across, along = place["size"] / 2, place["size"] * LETTER * len("Sleeve (right)") / 2
        dx, dy = (across, along) if place["isTall"] else (along, across)
        x, y = place["x"], place["y"]
        assert Polygon(outline).buffer(1e-6).contains(box(x - dx, y - dy, x + dx, y + dy)), name
        assert place["size"] > 1
