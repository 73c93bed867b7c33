"""Which lines round a piece are a fold, and not to be cut; Node runs the page's module."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

MODULE = Path(str(files("reports.page"))) / "static" / "js" / "cutting" / "folded.js"

SCRIPT = """
const { foldsOf, linesRound } = await import(process.argv[1]);
const { layout, pieces } = JSON.parse(process.argv[2]);
const folds = foldsOf(layout);
console.log(JSON.stringify({ folds, lines: pieces.map((piece) => linesRound(piece, folds)) }));
"""

BACK = [[0.0, 0.0], [0.0, 200.0], [300.0, 200.0], [300.0, 0.0], [150.0, 0.0]]
"""Its lower edge, of two parts, lies on y = 0."""


def answered(pieces: list[dict[str, Any]]) -> Any:
    """What the module makes of pieces on cloth 500 mm wide that is folded below."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("it takes Node")
    band = {"y0": 0.0, "y1": 500.0, "low_edge": "fold", "high_edge": "free"}
    asked = json.dumps({"layout": {"bands": [band]}, "pieces": pieces})
    done = subprocess.run(
        [node, "--input-type=module", "-e", SCRIPT, str(MODULE), asked], capture_output=True, text=True, check=True
    )
    return json.loads(done.stdout)


def test_lines_round() -> None:
    """The fold of a piece on the fold, in one line wherever the outline begins; all of another piece is cut."""
    turned = BACK[4:] + BACK[:4]
    pieces = [{"outline": outline, "on_fold": True} for outline in (BACK, turned)]
    found = answered([*pieces, {"outline": BACK, "on_fold": False}])
    assert found["folds"] == [0]
    for lines in found["lines"][:2]:
        assert {line["isFold"]: line["points"] for line in lines} == {
            False: BACK[:4],
            True: [BACK[3], BACK[4], BACK[0]],
        }
    assert found["lines"][2] == [{"points": [*BACK, BACK[0]], "isFold": False}]
