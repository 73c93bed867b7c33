"""Measure how the packages are built: files, lines, rings, floors, arrows up, longest function, tests of a name.

``python benchmarks/house.py [TREE ...]`` prints a column for each tree: this one, or other checkouts beside it.
Every import counts, lazy and type-only ones too. Floors are counted among what stands side by side in a folder
(modules, and folders as a whole): the longest way down, a ring taken as one; the highest folder is shown. An arrow goes
up where a module imports one of a folder that, on the whole, imports it.
"""

from __future__ import annotations

import ast
import sys
from collections import defaultdict
from functools import cache
from pathlib import Path

PACKAGES = ("pieces", "nesting", "reports")


def modules(tree: Path) -> dict[str, Path]:
    """Files by the dotted names of their modules."""
    found = {}
    for package in PACKAGES:
        for path in sorted((tree / package).rglob("*.py")):
            parts = path.relative_to(tree).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports(files: dict[str, Path]) -> dict[str, set[str]]:
    """The modules that each one imports, wherever in it the import stands."""
    arrows = {}
    for name, path in files.items():
        package = name if path.name == "__init__.py" else name.rpartition(".")[0]
        arrows[name] = {
            target for node in ast.walk(ast.parse(path.read_text())) for target in _named(node, package, files)
        }
        arrows[name].discard(name)
    return arrows


def _named(node: ast.AST, package: str, files: dict[str, Path]) -> set[str]:
    if isinstance(node, ast.Import):
        return {alias.name for alias in node.names} & files.keys()
    if not isinstance(node, ast.ImportFrom):
        return set()
    base = node.module or ""
    if node.level:
        base = ".".join([*package.split(".")[: len(package.split(".")) - node.level + 1], *([base] if base else [])])
    inner = {f"{base}.{alias.name}" for alias in node.names} & files.keys()
    return inner | ({base} & files.keys() if len(inner) < len(node.names) else set())


def rings(arrows: dict[str, set[str]]) -> list[set[str]]:
    """All sets of modules that reach each other, those of one module included (Tarjan 1972)."""
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found: list[set[str]] = []

    def visit(name: str) -> None:
        index[name] = low[name] = len(index)
        stack.append(name)
        for target in sorted(arrows[name]):
            if target not in index:
                visit(target)
                low[name] = min(low[name], low[target])
            elif target in stack:
                low[name] = min(low[name], index[target])
        if low[name] == index[name]:
            cut = stack.index(name)
            found.append(set(stack[cut:]))
            del stack[cut:]

    for name in sorted(arrows):
        if name not in index:
            visit(name)
    return found


def siblings(arrows: dict[str, set[str]], parent: str) -> dict[str, set[str]]:
    """What stands side by side in a package, and who imports whom of them."""
    beside: dict[str, set[str]] = defaultdict(set)
    for name, targets in arrows.items():
        if name.startswith(f"{parent}."):
            here = name.removeprefix(f"{parent}.").partition(".")[0]
            inside = {target for target in targets if target.startswith(f"{parent}.")}
            beside[here] |= {target.removeprefix(f"{parent}.").partition(".")[0] for target in inside} - {here}
    return {name: targets & beside.keys() for name, targets in beside.items()}


def floors(arrows: dict[str, set[str]]) -> int:
    """How many of those side by side the longest way down passes, a ring taken as one."""
    sets = rings(arrows)
    home = {name: number for number, ring in enumerate(sets) for name in ring}
    below: dict[int, set[int]] = defaultdict(set)
    for name, targets in arrows.items():
        below[home[name]] |= {home[target] for target in targets} - {home[name]}

    @cache
    def depth(number: int) -> int:
        return 1 + max((depth(other) for other in below[number]), default=0)

    return max(depth(number) for number in range(len(sets)))


def highest(arrows: dict[str, set[str]]) -> tuple[int, str]:
    """The package of the most floors, and how many it has."""
    parents = {name.rpartition(".")[0] for name in arrows} - {""}
    return max((floors(siblings(arrows, parent)), parent) for parent in parents)


def folder_arrows(arrows: dict[str, set[str]], files: dict[str, Path]) -> dict[tuple[str, str], int]:
    """How many imports lead from one folder to another, a folder and those in it aside."""
    counts: dict[tuple[str, str], int] = defaultdict(int)
    for name, targets in arrows.items():
        for target in targets:
            here, there = str(files[name].parent), str(files[target].parent)
            if here != there and not here.startswith(there + "/") and not there.startswith(here + "/"):
                counts[here, there] += 1
    return counts


def upward(arrows: dict[str, set[str]], files: dict[str, Path]) -> int:
    """Imports between two folders against the way that most imports between them go."""
    counts = folder_arrows(arrows, files)
    return sum(min(number, counts.get((there, here), 0)) for (here, there), number in counts.items() if here < there)


def longest(files: dict[str, Path]) -> tuple[int, str]:
    """The longest function, its docstring and decorators left out, with its module."""
    found = (0, "")
    for name, path in files.items():
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                said = node.body[0] if ast.get_docstring(node) else None
                lines = (node.end_lineno or 0) - node.lineno + 1
                if said is not None:
                    lines -= (said.end_lineno or 0) - said.lineno + 1
                found = max(found, (lines, f"{name}.{node.name}"))
    return found


def untested(tree: Path, files: dict[str, Path]) -> int:
    """Modules, the faces of folders aside, without a test file of their name anywhere."""
    tests = {path.name for path in (tree / "tests").rglob("test_*.py")}
    return sum(path.name != "__init__.py" and f"test_{path.name}" not in tests for path in files.values())


def figures(tree: Path) -> dict[str, str]:
    """What the table shows of one tree."""
    files = modules(tree)
    arrows = imports(files)
    sets = rings(arrows)
    lines = [path.read_text().count("\n") for path in files.values()]
    inside: dict[Path, int] = defaultdict(int)
    for path in files.values():
        inside[path.parent] += 1
    most = max(inside, key=lambda folder: inside[folder])
    number, where = longest(files)
    real = [len(ring) for ring in sets if len(ring) > 1]
    return {
        "files": str(len(files)),
        "lines": str(sum(lines)),
        "longest file": str(max(lines)),
        "most files in a folder": f"{inside[most]} ({most.relative_to(tree)})",
        "rings (largest)": f"{len(real)} ({max(real, default=0)})",
        "floors": "{} ({})".format(*highest(arrows)),
        "arrows up between folders": str(upward(arrows, files)),
        "longest function": f"{number} ({where.rpartition('.')[2]})",
        "no test of its name": f"{untested(tree, files)} of {sum(p.name != '__init__.py' for p in files.values())}",
    }


def main(trees: list[Path]) -> None:
    """Print the table."""
    columns = [figures(tree.resolve()) for tree in trees]
    print(f"{'':28}" + "".join(f"{tree.resolve().name:>34}" for tree in trees))
    for row in columns[0]:
        print(f"{row:28}" + "".join(f"{column[row]:>34}" for column in columns))


if __name__ == "__main__":
    sys.setrecursionlimit(10_000)
    main([Path(argument) for argument in sys.argv[1:]] or [Path(__file__).parent.parent])
