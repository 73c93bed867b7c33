"""How the packages are built, measured: no ring, no arrow up, few floors."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from types import ModuleType

ROOT = Path(__file__).parents[1]
MOST_FLOORS = 12


@pytest.fixture(scope="module")
def house() -> ModuleType:
    """The benchmark that measures."""
    spec = importlib.util.spec_from_file_location("house", ROOT / "benchmarks" / "house.py")
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_house(house: ModuleType) -> None:
    """No ring of modules, no import against the way between two folders, and at most twelve floors."""
    files = house.modules(ROOT)
    arrows = house.imports(files)
    assert [ring for ring in house.rings(arrows) if len(ring) > 1] == []
    assert house.upward(arrows, files) == 0
    assert house.highest(arrows)[0] <= MOST_FLOORS


def test_measures_find(house: ModuleType, tmp_path: Path) -> None:
    """A lazy ring, an arrow up and a floor too many are found in a small house made for it."""
    texts = {
        "pieces/__init__.py": "",
        "pieces/a.py": "from pieces.inner import b\nfrom pieces.inner.b import one\nfrom pieces.other.d import two",
        "pieces/inner/__init__.py": "",
        "pieces/inner/b.py": "def one():\n    from pieces.a import two\n\n    return two\n",
        "pieces/other/__init__.py": "",
        "pieces/other/d.py": "from pieces.inner import b, c\n",
        "pieces/inner/c.py": "from ..other import d\n",
    }
    for name, text in texts.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    files = house.modules(tmp_path)
    arrows = house.imports(files)
    rings = [ring for ring in house.rings(arrows) if len(ring) > 1]
    assert rings == [{"pieces.a", "pieces.inner.b", "pieces.inner.c", "pieces.other.d"}]
    assert house.upward(arrows, files) == 1
    assert house.floors({"top": {"middle"}, "middle": {"low"}, "low": set()}) == 3
