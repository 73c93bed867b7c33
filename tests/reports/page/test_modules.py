"""The page's modules import one another one way: no ring, no arrow up, few floors."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from graphlib import CycleError, TopologicalSorter
from importlib.resources import files
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

STATIC = Path(str(files("reports.page"))) / "static"
JS = STATIC / "js"
MODULES = sorted(path.relative_to(JS).as_posix() for path in JS.rglob("*.js"))

FOLDERS = ("", "notebook", "steps", "cutting", "ask", "table", "ledger", "patterns", "project", "lib")
"""From the top down: a module imports from its own folder and from those below it."""

MOST_FLOORS = 12
MOST_FILES = 14

STATIC_IMPORT = re.compile(r'^(?:import\s*|(?:import|export)\b[^;"\']*\bfrom\s*)"([^"]+)"', re.MULTILINE)
DYNAMIC_IMPORT = re.compile(r'\bimport\(\s*"([^"]+)"\s*\)')

PARSED = """
const vm = require("node:vm");
const fs = require("node:fs");
const asked = (path) => {
  const module = new vm.SourceTextModule(fs.readFileSync(path, "utf8"));
  return module.moduleRequests?.map(({ specifier }) => specifier) ?? module.dependencySpecifiers;
};
console.log(JSON.stringify(process.argv.slice(1).map(asked)));
"""

Graph = dict[str, set[str]]


def text_of(module: str) -> str:
    """What a module says."""
    return (JS / module).read_text(encoding="utf-8")


def imported(module: str, text: str) -> set[str]:
    """The modules that one imports, at once or when they are needed."""
    named = STATIC_IMPORT.findall(text) + DYNAMIC_IMPORT.findall(text)
    return {normpath(join(dirname(module), name)) for name in named}


def page() -> Graph:
    """The page's modules, each with those that it imports."""
    return {module: imported(module, text_of(module)) for module in MODULES}


def ring(graph: Graph) -> list[str]:
    """Modules that import one another in a ring; none if there is no ring."""
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def floors(graph: Graph) -> int:
    """How many modules the longest chain of imports has."""
    height: dict[str, int] = {}
    for module in TopologicalSorter(graph).static_order():
        height[module] = 1 + max((height[below] for below in graph[module]), default=0)
    return max(height.values())


def upward(graph: Graph) -> list[str]:
    """Imports that run up, from a folder to one above it."""
    floor = {module: FOLDERS.index(dirname(module)) for module in graph}
    return [f"{one} -> {other}" for one, others in graph.items() for other in others if floor[other] < floor[one]]


def test_graph_itself() -> None:
    """The checks see a ring by a dynamic import, an arrow up, and each floor."""
    views = imported("views.js", 'const load = () => import("./steps/who.js");')
    who = imported("steps/who.js", 'import { el } from "../lib/dom.js";\nexport { VIEWS } from "../views.js";')
    assert (views, who) == ({"steps/who.js"}, {"lib/dom.js", "views.js"})
    graph = {"views.js": views, "steps/who.js": who, "lib/dom.js": set[str]()}
    assert set(ring(graph)) == {"views.js", "steps/who.js"}
    assert upward(graph) == ["steps/who.js -> views.js"]
    graph["steps/who.js"] = {"lib/dom.js"}
    assert (ring(graph), upward(graph), floors(graph)) == ([], [], 3)


def test_imports_run_one_way() -> None:
    """No modules import one another in a ring, and none imports from a folder above its own."""
    assert ring(page()) == []
    assert upward(page()) == []


def test_floors() -> None:
    """The longest chain of imports has 12 modules at the most."""
    assert floors(page()) <= MOST_FLOORS


def test_folders() -> None:
    """Each folder has a place in the order, and no more files than can be looked over."""
    held = [dirname(module) for module in MODULES]
    assert set(held) == set(FOLDERS)
    assert max(map(held.count, FOLDERS)) <= MOST_FILES


def test_names() -> None:
    """No two modules have one name."""
    names = [Path(module).name for module in MODULES]
    assert sorted(set(names)) == sorted(names)


def test_all_are_used() -> None:
    """Each module is loaded by the page, by its markup or by another module."""
    graph = page()
    markup = (STATIC / "index.html").read_text(encoding="utf-8")
    reached: set[str] = set()
    waiting = set(re.findall(r'<script[^>]* src="js/([^"]+)"', markup))
    while waiting:
        module = waiting.pop()
        reached.add(module)
        waiting |= graph[module] - reached
    assert sorted(reached) == MODULES


@pytest.mark.parametrize("module", MODULES)
def test_names_are_exported(module: str) -> None:
    """A module exports each name that another imports of it, and no import is of a name made up as it runs."""
    text = text_of(module)
    assert len(re.findall(r"\bimport\s*\(", text)) == len(DYNAMIC_IMPORT.findall(text))
    for names, source in re.findall(r'^import\s*\{([^}]*)\}\s*from\s*"([^"]+)"', text, re.MULTILINE):
        wanted = {name.split(" as ")[0].strip() for name in names.split(",") if name.strip()}
        other = text_of(normpath(join(dirname(module), source)))
        assert wanted <= set(re.findall(r"export (?:async )?(?:function\*?|const|let|class) (\w+)", other)), source


@pytest.mark.skipif(shutil.which("node") is None, reason="Node reads the page's modules here")
def test_imports_as_node_reads_them() -> None:
    """Node's own parser finds the same static imports."""
    command = ["node", "--no-warnings", "--experimental-vm-modules", "--eval", PARSED]
    command += [str(JS / name) for name in MODULES]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    read = [set(STATIC_IMPORT.findall(text_of(module))) for module in MODULES]
    assert read == [set(names) for names in json.loads(done.stdout)]
