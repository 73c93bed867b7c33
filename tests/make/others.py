"""Packages by others, put on the path as pip would install them, without a network: their code and their metadata."""

from __future__ import annotations

import tomllib
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from pieces.garments import known

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pytest import MonkeyPatch

OTHERS = Path(__file__).parents[1] / "others"
"""The folder of a real package: the sewing room, with a kerchief and a sarong."""


def write_metadata(project: str, site: Path) -> None:
    """What pip writes of a package into a site folder, out of the text of its pyproject.toml."""
    said = tomllib.loads(project)["project"]
    folder = site / f"{said['name'].replace('-', '_')}-{said['version']}.dist-info"
    folder.mkdir(parents=True)
    named = f"Metadata-Version: 2.1\nName: {said['name']}\nVersion: {said['version']}\n"
    (folder / "METADATA").write_text(named, encoding="utf-8")
    groups = (
        f"[{group}]\n" + "".join(f"{name} = {value}\n" for name, value in entries.items())
        for group, entries in said["entry-points"].items()
    )
    (folder / "entry_points.txt").write_text("\n".join(groups), encoding="utf-8")


@contextmanager
def installed(monkeypatch: MonkeyPatch, *paths: Path) -> Iterator[None]:
    """With these folders on the path, and what was known of garments by others forgotten, before and after."""
    with monkeypatch.context() as patched:
        for path in paths:
            patched.syspath_prepend(str(path))
        forget()
        yield
    forget()


def forget() -> None:
    """Forget which packages register garments, as at the start of the program."""
    known._registered.cache_clear()
    known._loaded.cache_clear()
