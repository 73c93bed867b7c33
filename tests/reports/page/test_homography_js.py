"""The projector's arithmetic against a solution of our own by numpy; Node runs the page's module."""

from __future__ import annotations

import json
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

if TYPE_CHECKING:
    from numpy.typing import NDArray

MODULE = Path(str(files("reports.page"))) / "static" / "js" / "cutting" / "homography.js"

SCRIPT = """
const { homography, inverse, mapped, coarsest, scaled } = await import(process.argv[1]);
const { fields, wrong, points } = JSON.parse(process.argv[2]);
const refused = ([from, to]) => { try { homography(from, to); return false; } catch { return true; } };
console.log(JSON.stringify({
  there: fields.map(([from, to]) => points.map((point) => mapped(homography(from, to), point))),
  back: fields.map(([from, to]) => {
    const map = homography(from, to);
    return points.map((point) => mapped(inverse(map), mapped(map, point)));
  }),
  dots: fields.map(([from, to]) => coarsest(inverse(homography(from, to)), to[0])),
  refused: wrong.map(refused),
  plain: mapped(scaled(2, 3, [10, 700]), [5, 100]),
  dot: coarsest(inverse(scaled(2, 3, [10, 700])), [0, 0]),
  beyond: mapped([1, 0, 0, 0, 1, 0, -1, 0, 1], [2, 0]),
}));
"""

FIELD = [[0.0, 0.0], [609.6, 0.0], [609.6, 457.2], [0.0, 457.2]]
"""24 by 18 in, mm, round from the lower left."""

WRONG = [
    [[0, 0], [100, 0], [200, 0], [0, 100]],  # three on a line
    [[0, 0], [100, 100], [100, 0], [0, 100]],  # crossed
    [[0, 0], [100, 0], [20, 20], [0, 100]],  # a corner turned inwards
    [[5, 5], [5, 5], [5, 5], [5, 5]],
]


def own(from_: list[list[float]], to: list[list[float]]) -> NDArray[np.float64]:
    """The homography as the null space of the direct linear transformation, by numpy's singular values."""
    rows = []
    for (x, y), (u, v) in zip(from_, to, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    scale = np.abs(np.array(rows)).max(axis=0)
    null = np.linalg.svd(np.array(rows) / scale)[2][-1] / scale
    found: NDArray[np.float64] = null.reshape(3, 3)
    return found


def by(matrix: NDArray[np.float64], point: list[float]) -> list[float]:
    """Where a point is mapped to."""
    x, y, w = matrix @ [*point, 1.0]
    return [x / w, y / w]


@pytest.mark.skipif(shutil.which("node") is None, reason="Node is not here; the page's tests in CI have it")
def test_homography() -> None:
    """Twenty skewed pictures map all of the field as numpy's do, to 1e-6 dots, and back to 1e-6 mm.

    Corners that are no field are refused; a dot's size on the table is that of the finer or coarser way.
    """
    rng = np.random.default_rng(0)
    corners = np.array([[220.0, 900.0], [1650.0, 880.0], [1500.0, 130.0], [300.0, 90.0]])
    fields: list[Any] = [[FIELD, (corners + rng.uniform(-80, 80, (4, 2))).tolist()] for _ in range(20)]
    points = [[0.0, 0.0], [304.8, 228.6], [609.6, 457.2], [100.0, 20.0], [580.0, 300.0]]
    sent = json.dumps({"fields": fields, "wrong": [[FIELD, one] for one in WRONG], "points": points})
    command = ["node", "--input-type=module", "--eval", SCRIPT, "--", MODULE.as_uri(), sent]
    told = json.loads(subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout)
    for (from_, to), there, back in zip(fields, told["there"], told["back"], strict=True):
        matrix = own(from_, to)
        assert np.allclose(there, [by(matrix, point) for point in points], rtol=0, atol=1e-6)
        assert np.allclose([by(matrix, point) for point in from_], to, rtol=0, atol=1e-6)
        assert np.allclose(back, points, rtol=0, atol=1e-6)
    assert all(told["refused"])
    assert told["plain"] == pytest.approx([20, 400])  # 10 + 2 * 5 across; 700 - 3 * 100 down
    assert told["dot"] == pytest.approx(1 / 2)  # the coarser way: half a millimetre a dot
    assert all(0.2 < dot < 2 for dot in told["dots"])
    assert told["beyond"] is None
