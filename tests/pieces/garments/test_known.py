"""Garments by others: registered under an entry point, loaded when they are asked for, refused with the reason."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from pytest import MonkeyPatch

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError, GarmentError
from pieces.garments.known import GROUP, NotLoaded, find_garment, garment_names, known_garments, maker_of
from tests.make.others import OTHERS, installed, write_metadata

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

SOUND = (OTHERS / "sewing_room" / "kerchief.py").read_text(encoding="utf-8")

SEAM = 'option(INCH / 2, "hem of every edge", example="1/2 in", least=0)'

BROKEN = {
    "no such module": ("", "ModuleNotFoundError: No module named 'odd'"),
    "raises": ('raise RuntimeError("no\\nluck")', "RuntimeError: no luck"),
    "ends the program": ("raise SystemExit(3)", "SystemExit: 3"),
    "no garment": ("KERCHIEF = 3", "it is the number 3, not a Garment"),
    "other name": (SOUND.replace('Garment("kerchief"', 'Garment("scarf"'), "calls itself 'scarf'"),
    "title": (SOUND.replace('"square kerchief"', '"two\\nlines"'), "its title must be one line"),
    "measurement": (SOUND.replace('kerchief", ()', 'kerchief", ("ankle",)'), "needs 'ankle'"),
    "sketch": (SOUND.replace("M10 20H90", "<script>"), "its sketch must be an SVG path"),
    "style": (SOUND.replace("(GarmentStyle)", ""), "its style must be a class derived from GarmentStyle"),
    "bare option": (SOUND.replace(SEAM, "mm(3)"), "its option 'seam' must be made by option"),
    "no seam": (SOUND.replace("    seam: Mm", "    hem: Mm").replace("style.seam", "style.hem"), "the option 'seam'"),
    "default": (SOUND.replace("option(22 * INCH", "option(0 * INCH"), "cannot be made of defaults"),
}
"""What a package may hold in place of a kerchief, and what is said of it."""


def project(value: str, name: str = "odd", garment: str = "kerchief") -> str:
    """The pyproject.toml of a package that registers one garment."""
    return f'[project]\nname = "{name}"\nversion = "1"\n[project.entry-points."{GROUP}"]\n{garment} = "{value}"\n'


@pytest.fixture
def sewing_room(monkeypatch: MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """The package of tests/others is installed."""
    write_metadata((OTHERS / "pyproject.toml").read_text(encoding="utf-8"), tmp_path)
    with installed(monkeypatch, OTHERS, tmp_path):
        yield


@pytest.mark.usefixtures("sewing_room")
def test_registered() -> None:
    """They stand after those built in, say whose they are, and draft like those."""
    assert garment_names() == (*GARMENTS, "kerchief", "sarong")
    known, not_loaded = known_garments()
    assert ([garment.name for garment in known], not_loaded) == ([*garment_names()], [])
    assert (maker_of("sarong"), maker_of("rib-jacket")) == ("sewing-room 0.3", None)
    sarong = find_garment("sarong")
    pieces = sarong.draft(Body(waist="30 in"), sarong.style(length="20 in"))
    assert [(piece.name, round(piece.width)) for piece in pieces] == [("panel", 1168), ("waistband", 1168)]
    with pytest.raises(DraftError, match="length leaves nothing"):
        sarong.draft(Body(waist="30 in"), sarong.style(length="1 in"))


def test_names_alone_load_nothing(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """Asking for a built-in garment, or for the names, runs no code of others; nor does starting the program."""
    write_metadata(project("odd:KERCHIEF"), tmp_path)
    (tmp_path / "odd.py").write_text("raise RuntimeError", encoding="utf-8")
    with installed(monkeypatch, tmp_path):
        assert "kerchief" in garment_names()
        assert find_garment("rib-jacket") is GARMENTS["rib-jacket"]
        assert "odd" not in sys.modules
    code = (
        "import sys, reports.commands.cli; print('importlib.metadata' in sys.modules,"
        " [name for name in sys.modules if name.startswith('pieces.')])"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert said.stdout == "False ['pieces.face']\n"


@pytest.mark.parametrize("case", BROKEN)
def test_broken(monkeypatch: MonkeyPatch, tmp_path: Path, case: str) -> None:
    """One that cannot be used is named with its package and the reason, in one line, and takes no other along."""
    text, reason = BROKEN[case]
    write_metadata(project("odd:KERCHIEF"), tmp_path)
    if text:
        (tmp_path / "odd.py").write_text(text, encoding="utf-8")
    monkeypatch.delitem(sys.modules, "odd", raising=False)
    with installed(monkeypatch, tmp_path):
        known, (refused,) = known_garments()
        assert [garment.name for garment in known] == [*GARMENTS]
        assert (refused.name, refused.package) == ("kerchief", "odd 1")
        assert reason in refused.reason
        assert "\n" not in refused.reason
        with pytest.raises(GarmentError, match="garment 'kerchief' of the package odd 1 is not loaded: "):
            find_garment("kerchief")
    sys.modules.pop("odd", None)


@pytest.mark.parametrize("name", ["rib-jacket", "imported"])
def test_name_that_is_taken(monkeypatch: MonkeyPatch, tmp_path: Path, name: str) -> None:
    """A garment by others never stands in for one of ours: it is refused, and ours is what a job gets."""
    write_metadata(project("odd:KERCHIEF", garment=name), tmp_path)
    with installed(monkeypatch, tmp_path):
        assert garment_names() == tuple(GARMENTS)
        assert known_garments()[1] == [NotLoaded(name, "odd 1", "ellwand has a garment of that name: choose another")]
        assert find_garment("rib-jacket") is GARMENTS["rib-jacket"]


def test_registered_twice(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """Of two packages with a garment of one name neither is taken."""
    for name in ("odd", "even"):
        write_metadata(project("odd:KERCHIEF", name), tmp_path)
    with installed(monkeypatch, tmp_path):
        (refused,) = known_garments()[1]
        assert set(refused.package.split(" and ")) == {"odd 1", "even 1"}
        assert refused.reason == "it is registered twice: keep one"


def test_fails_while_it_drafts(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """A mistake in the code of others is one line that names garment and package; so is a draft that is no pieces."""
    for number, (told, said) in enumerate((("return 1 / 0", "ZeroDivisionError"), ("return 3", "gives a int"))):
        name = f"odd{number}"
        write_metadata(project(f"{name}:KERCHIEF", name), tmp_path / name)
        text = SOUND.replace('    """One square with a hem all round."""', f"    {told}")
        (tmp_path / name / f"{name}.py").write_text(text, encoding="utf-8")
        with installed(monkeypatch, tmp_path / name):
            kerchief = find_garment("kerchief")
            with pytest.raises(GarmentError, match=f"'kerchief' of the package {name} 1 failed: .*{said}"):
                kerchief.draft(Body(), kerchief.style(side=inches(20)))


def test_unknown() -> None:
    """An unknown name is one line with those there are."""
    with pytest.raises(GarmentError, match="unknown garment 'cape': choose rib-jacket"):
        find_garment("cape")
