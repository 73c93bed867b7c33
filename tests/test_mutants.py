"""The table of mutants goes with the code it is about, and its runner tells a killed mutant from a survivor."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from types import ModuleType

ROOT = Path(__file__).parents[1]


def load() -> ModuleType:
    """The runner, which is a script and in no package."""
    spec = importlib.util.spec_from_file_location("mutants", ROOT / "benchmarks" / "mutants.py")
    assert spec is not None and spec.loader is not None
    module = sys.modules["mutants"] = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


mutants: Any = load()
TABLE = mutants.read_table()


@pytest.mark.parametrize("area", sorted(path.stem for path in mutants.TABLE.glob("*.toml")))
def test_table_is_not_stale(area: str) -> None:
    """What each mutant replaces stands exactly once in its file, what it puts there compiles, and its tests exist."""
    stale = []
    for mutant in mutants.read_table(areas=(area,)):
        text = mutant.mutated()
        if text is None:
            stale.append(f"{mutant.name}: not exactly once in {mutant.file}")
            continue
        compile(text, mutant.file, "exec")
        gone = [test for test in mutant.tests if not (ROOT / test.split("::")[0]).is_file()]
        stale += [f"{mutant.name}: there is no {test}" for test in gone]
        stale += [] if mutant.tests else [f"{mutant.name}: names no tests"]
    assert not stale


def test_names_are_their_own() -> None:
    """150 mutants or more, each with a name of its own, so that a survivor is found by it."""
    names = [mutant.name for mutant in TABLE]
    assert len(names) >= 150
    assert len(set(names)) == len(names)


def test_runner_tells_what_survives(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a tree made up here: one mutant is seen, one not, one is stale, one proved; a red test sees none."""
    monkeypatch.syspath_prepend(ROOT / "benchmarks")  # the children that run tests look for the runner themselves
    tree = tmp_path / "tree"
    (tree / "tests").mkdir(parents=True)
    (tree / "sums.py").write_text("def add(a, b):\n    return a + b\n\n\ndef twice(a):\n    return a + a\n")
    test = "from sums import add\n\n\ndef test_add():\n    assert add(2, 2) == 4\n"
    (tree / "tests" / "test_sums.py").write_text(test)
    (tree / "tests" / "test_red.py").write_text("def test_red():\n    raise AssertionError\n")
    before = {path: path.read_bytes() for path in tree.rglob("*.py")}

    def mutant(name: str, old: str, new: str, equivalent: str = "", test: str = "tests/test_sums.py") -> Any:
        return mutants.Mutant(name, "sums.py", old, new, "an example", (test,), equivalent)

    table = [
        mutant("seen", "return a + b", "return a - b"),
        mutant("not seen", "return a + a", "return a"),
        mutant("stale", "return a * b", "return a"),
        mutant("the same", "return a + b", "return b + a", "sums of numbers do not depend on their order"),
        mutant("red", "return a + b", "return a - b", test="tests/test_red.py"),
    ]
    bench = mutants.Bench(tmp_path / "copy", tree, limit=60.0)
    found = {one.name: bench.try_out(one, named_only=True) for one in table}
    fates = {name: one.fate for name, one in found.items()}
    assert fates == {
        "seen": "killed", "not seen": "survived", "stale": "stale", "the same": "equivalent", "red": "no baseline",
    }  # fmt: skip
    assert found["seen"].by == "tests/test_sums.py::test_add"
    assert {path: path.read_bytes() for path in tree.rglob("*.py")} == before
