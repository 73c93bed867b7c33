"""Functions fit a screen, files a sitting, and what is beyond a limit is named; ruff counts branches and parameters."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TREES = ("pieces", "nesting", "reports", "tests", "benchmarks")

MOST_LINES = 50
"""Of a function from its `def` to its end, blank lines and comments counted, its docstring not: that is to be long."""

LONGEST_FILE = 400
"""Lines."""

COMPLEX = {"nesting/kernels/raster.py": "relocate", "tests/make/readback.py": "lines"}
"""Functions of more branches than ruff's limit: the innermost loops of the search, and a branch for each operator."""


def lines_of(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines of a function without its docstring."""
    assert node.end_lineno is not None
    first = node.body[0]
    has_docstring = ast.get_docstring(node) is not None
    docstring = (first.end_lineno or first.lineno) - first.lineno + 1 if has_docstring else 0
    return node.end_lineno - node.lineno + 1 - docstring


def test_lines_of() -> None:
    """What is counted: the signature, blank lines, comments and code of a function, those within it, no docstring."""
    source = 'def a(\n    b,\n):\n    """One.\n\n    Two.\n    """\n\n    # three\n    def c():\n        pass\n'
    found = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef)]
    assert [lines_of(node) for node in found] == [7, 2]


@pytest.mark.parametrize("tree", TREES)
def test_functions_are_short(tree: str) -> None:
    """No function is longer than a screen."""
    found = [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}: {lines_of(node)} lines"
        for path in sorted((ROOT / tree).rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and lines_of(node) > MOST_LINES
    ]
    assert not found


def test_files_are_short() -> None:
    """No file of code is longer than it can be read at a sitting."""
    lengths = {path: path.read_text(encoding="utf-8").count("\n") for t in TREES for path in (ROOT / t).rglob("*.py")}
    assert not {str(path.relative_to(ROOT)): lines for path, lines in lengths.items() if lines > LONGEST_FILE}


def test_what_is_complex_is_named() -> None:
    """Ruff's limit on branches is waived for the functions named here, and for no other."""
    waived = "noqa: " + "C901"  # in two, so that this line is none
    found = [
        (str(path.relative_to(ROOT)), line.split("def ")[1].split("(")[0])
        for tree in TREES
        for path in (ROOT / tree).rglob("*.py")
        for line in path.read_text(encoding="utf-8").splitlines()
        if waived in line
    ]
    assert sorted(found) == sorted(COMPLEX.items())
