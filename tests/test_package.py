"""What is built holds what it must, and what is tested is what is installed."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tarfile
import zipfile
from importlib.metadata import distribution
from pathlib import Path
from urllib.parse import urlparse
from urllib.request import url2pathname

import pytest

ROOT = Path(__file__).parents[1]
PACKAGES = ("nesting", "pieces", "reports")

PASSING = [line.strip("/") for line in (ROOT / ".gitignore").read_text(encoding="utf-8").split()] + [".git"]
"""What comes and goes in a checkout: what versions leave out."""

MADE = {"PKG-INFO", "setup.cfg"}
"""Files at the top of a source distribution that its maker adds."""


def files_under(folder: Path) -> set[str]:
    """Names of all files in a folder, from it down."""
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the checkout without what comes and goes: building writes beside what it reads."""
    copy = tmp_path_factory.mktemp("checkout") / "ellwand"
    shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(*PASSING))
    return copy


@pytest.fixture(scope="module")
def built(tree: Path) -> tuple[set[str], zipfile.ZipFile, set[str]]:
    """Files of the tree before; the wheel, built from the source distribution; files of the source distribution."""
    before = files_under(tree)
    command = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(tree.parent / "dist"), str(tree)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,) = (tree.parent / "dist").glob("*.whl")
    (source,) = (tree.parent / "dist").glob("*.tar.gz")
    with tarfile.open(source) as archive:
        members = {member.name.split("/", 1)[1] for member in archive.getmembers() if member.isfile()}
    return before, zipfile.ZipFile(wheel), members


def test_a_wheel_holds_the_packages_and_nothing_else(built: tuple[set[str], zipfile.ZipFile, set[str]]) -> None:
    """Every file of the three packages is in the wheel (code, tables, templates, page), and no test or benchmark."""
    before, wheel, _ = built
    packed = {name for name in wheel.namelist() if not name.split("/")[0].endswith(".dist-info")}
    assert packed == {name for name in before if name.startswith(tuple(f"{package}/" for package in PACKAGES))}
    assert {f"{package}/py.typed" for package in PACKAGES} <= packed


def test_a_wheel_has_licence_and_command(built: tuple[set[str], zipfile.ZipFile, set[str]]) -> None:
    """The wheel bears the licence word for word, and says what `ellwand` runs."""
    _, wheel, _ = built
    about = {name.split("/", 1)[1]: name for name in wheel.namelist() if name.split("/")[0].endswith(".dist-info")}
    assert wheel.read(about["licenses/LICENSE"]) == (ROOT / "LICENSE").read_bytes()
    commands = wheel.read(about["entry_points.txt"]).decode().splitlines()
    assert commands[:2] == ["[console_scripts]", "ellwand = reports.__main__:main"]


def test_a_source_distribution_holds_the_whole_tree(built: tuple[set[str], zipfile.ZipFile, set[str]]) -> None:
    """All that is kept under versions is in it, so that its tests find what they read; and nothing more."""
    before, _, members = built
    assert {name for name in members if not name.startswith("ellwand.egg-info/")} == before | MADE


def home() -> Path:
    """The folder in which the installed packages must lie: a checkout if they are installed from it, to be edited."""
    installed = distribution("ellwand")
    origin = json.loads(installed.read_text("direct_url.json") or "{}")
    is_editable = origin.get("dir_info", {}).get("editable", False)
    return Path(url2pathname(urlparse(origin["url"]).path) if is_editable else str(installed.locate_file("")))


@pytest.mark.parametrize("package", PACKAGES)
def test_what_is_tested_is_what_is_installed(package: str, tmp_path: Path) -> None:
    """Tests, and processes that they begin, import the packages that were installed, not others beside the tests."""
    code = f"import {package}; print({package}.__file__)"
    begun = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path)
    module = __import__(package)
    assert module.__file__ is not None
    expected = (home() / package / "__init__.py").resolve()
    assert [Path(file.strip()).resolve() for file in (module.__file__, begun.stdout)] == [expected] * 2
