"""The example programs: short, by the faces alone, and what they print."""

from __future__ import annotations

import ast
import importlib
import runpy
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

EXAMPLES = Path(__file__).parent / "examples"
MOST_LINES = 14


def program(name: str) -> ast.Module:
    """An example, parsed."""
    return ast.parse((EXAMPLES / f"{name}.py").read_text(encoding="utf-8"))


def tells_how_much(said: list[str]) -> None:
    """The summary: a length, the cloth it takes, and a bound no longer than it."""
    told = {line[:10].strip(): line[10:] for line in said}
    assert told["length"].endswith(" in") and " yd" in told["cloth"] and told["at least"]


def tells_each_width(said: list[str]) -> None:
    """On 40 cm nothing lies; on wider cloth no more length is needed in either spread."""
    rows = [line.split(maxsplit=2) for line in said]
    assert [row[0] for row in rows] == ["400.0"] * 2 + ["900.0"] * 2 + ["1100.0"] * 2 + ["1500.0"] * 2
    assert all("'panel' needs" in row[2] for row in rows[:2])
    for spread in ("open", "folded"):
        lengths = [float(row[2]) for row in rows[2:] if row[1] == spread]
        assert len(lengths) == 3 and lengths[0] > lengths[-1]


def tells_who_stopped(said: list[str]) -> None:
    """Several markers were heard of before the function said that it is enough."""
    assert int(said[0].split()[0]) > 1 and said[0].endswith("stopped by: criterion")


SAID: dict[str, Callable[[list[str]], None]] = {
    "own_polygons": tells_how_much,
    "own_stop": tells_who_stopped,
    "sweep_widths": tells_each_width,
}


def test_all_are_run() -> None:
    """None is left out."""
    assert sorted(SAID) == sorted(path.stem for path in EXAMPLES.glob("[a-z]*.py"))


@pytest.mark.parametrize("name", sorted(SAID))
def test_runs(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each runs by itself, and prints what it promises."""
    runpy.run_path(str(EXAMPLES / f"{name}.py"), run_name="__main__")
    SAID[name](capsys.readouterr().out.splitlines())


@pytest.mark.parametrize("name", sorted(SAID))
def test_by_the_faces_alone(name: str) -> None:
    """Each is short, and imports nothing but names of the three faces."""
    tree = program(name)
    lines = {node.lineno for node in ast.walk(tree) if isinstance(node, ast.stmt)}
    assert len(lines) <= MOST_LINES
    assert not [node for node in ast.walk(tree) if isinstance(node, ast.Import)]
    imported = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    for node in imported:
        assert node.module in ("pieces", "nesting", "reports")
        assert {alias.name for alias in node.names} <= set(importlib.import_module(node.module).__all__)
