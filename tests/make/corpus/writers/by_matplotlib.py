"""Sheets as SVG by matplotlib: paths on axes at full size, with and without ticks, titles and clip paths."""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path
from typing import Any

from tests.make.corpus.flat import many_points, numbers
from tests.make.corpus.known import PAGE, SHEETS, Drawn
from tests.make.corpus.row import Row, say

matplotlib: Any = import_module("matplotlib")
matplotlib.use("svg")
figures: Any = import_module("matplotlib.figure")
patches: Any = import_module("matplotlib.patches")
paths: Any = import_module("matplotlib.path")

TOOL = f"matplotlib {matplotlib.__version__}"

INCH = 25.4


def path_of(line: Drawn, scale: float) -> Any:
    """A line as a path: Béziers as they are, arcs and ellipses by many points."""
    vertices: list[tuple[float, float]] = []
    codes: list[int] = []
    here: tuple[float, float] = (0.0, 0.0)
    for step in line.steps:
        values = numbers(step)
        if step[0] == "C":
            points, code = [values[0:2], values[2:4], values[4:6]], paths.Path.CURVE4
        elif step[0] in ("A", "E"):
            many = many_points([("M", *here), step] if step[0] == "A" else [step])
            points, code = many.tolist()[step[0] == "A" :], paths.Path.LINETO
        else:
            points, code = [values], paths.Path.LINETO
        vertices += [(x * scale, y * scale) for x, y in points]
        codes += [code] * len(points)
        here = (points[-1][0], points[-1][1])
    codes[0] = paths.Path.MOVETO
    if line.is_closed:
        vertices.append(vertices[0])
        codes.append(paths.Path.CLOSEPOLY)
    return paths.Path(vertices, codes)


def draw(sheet: str, *, unit: float = 1.0, has_axes: bool = False, fill: str = "none", **more: Any) -> Any:
    """A figure with all of a sheet, at full size."""
    margin = 20.0 if has_axes else 0.0
    figure = figures.Figure(figsize=((PAGE[0] + 2 * margin) / INCH, (PAGE[1] + 2 * margin) / INCH))
    share = (margin / (PAGE[0] + 2 * margin), margin / (PAGE[1] + 2 * margin))
    axes = figure.add_axes((*share, 1 - 2 * share[0], 1 - 2 * share[1]))
    if not has_axes:
        axes.set_axis_off()
    axes.set_xlim(0, PAGE[0] / unit)
    axes.set_ylim(0, PAGE[1] / unit)
    for line in SHEETS[sheet].lines():
        if line.part == "words":
            x, y = numbers(line.steps[0])
            axes.text(x / unit, y / unit, line.words, fontsize=24)
        else:
            named = {"gid": line.of} if more.get("names") and line.part == "cut" else {}
            axes.add_patch(patches.PathPatch(path_of(line, 1 / unit), facecolor=fill, linewidth=0.5, **named))
    return figure


def main(out: Path, tag: str) -> None:
    """Write all files for one version of the library."""
    made: dict[str, list[tuple[str, str, dict[str, Any], dict[str, Any]]]] = {
        "old": [
            ("plain", "plain", {}, {}),
            ("axes", "lines", {"has_axes": True}, {"told": ["frame"]}),
            ("inches", "curves", {"unit": 25.4}, {"hole": "sew", "told": ["taken as sew line"]}),
        ],
        "mid": [
            ("plain names", "plain", {"names": True}, {"names": True}),
            ("turned", "turned", {}, {}),
            ("drafted", "drafted", {}, {"marks": "lines"}),
            ("words as lines", "words", {}, {"words": "path"}),
        ],
        "new": [
            ("words", "words", {}, {"words": "none", "cuts": {"band": 2, "bodice": 2}}),
            ("axes names", "plain", {"has_axes": True, "names": True}, {"names": True}),
            ("filled", "lines", {"fill": "tab:blue"}, {}),
            ("sizes", "sizes", {}, {"first": "choose one with --size", "asked": {"size": "2"}, "only": ["M"]}),
        ],
    }
    rows = []
    for name, sheet, how, known in made[tag]:
        file = f"matplotlib {tag} {name}.svg"
        with matplotlib.rc_context({"svg.fonttype": known.pop("words", "path"), "svg.hashsalt": "corpus"}):
            draw(sheet, **how).savefig(out / file)
        rows.append(Row(file, TOOL, sheet, **known))
    say(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
