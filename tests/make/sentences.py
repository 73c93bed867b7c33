"""The words that a person can meet: strings of the packages, the page, templates and tables, helps of commands."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import TYPE_CHECKING

from reports.commands.table import all_commands

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]

_COMMENT = re.compile(r"/\*.*?\*/|<!--.*?-->|(?<![:\"'`])//[^\n]*", re.DOTALL)


def shown_words() -> Iterator[tuple[str, str]]:
    """Where each string or line stands, and its words."""
    for package in ("pieces", "nesting", "reports"):
        for path in sorted((ROOT / package).rglob("*")):
            if path.suffix in {".py", ".js", ".html", ".toml"}:
                for line, words in sentences(path.read_text(encoding="utf-8"), path.suffix):
                    yield f"{path.relative_to(ROOT)}:{line}", words
    for row in all_commands():
        yield f"ellwand {row.name} --help", " ".join((row.run.__doc__ or "").split())


def sentences(source: str, ending: str) -> Iterator[tuple[int, str]]:
    """Lines and words of a file: strings of Python, all else line by line, without what is said to developers alone."""
    if ending == ".py":
        yield from _strings(source)
        return
    if ending != ".toml":  # comments of a template are shown: they explain its keys
        source = _COMMENT.sub(lambda found: "\n" * found[0].count("\n"), source)
    yield from ((number, line) for number, line in enumerate(source.splitlines(), 1) if line.strip())


def _strings(source: str) -> Iterator[tuple[int, str]]:
    """Strings, f-strings whole with X for what is filled in; none that stands alone, as docstrings do."""
    tree = ast.parse(source)
    silent = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            parts = [(v, v.value) if isinstance(v, ast.Constant) else (v, "X") for v in node.values]
            silent.update(id(v) for v, _ in parts)
            yield node.lineno, "".join(str(words) for _, words in parts)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent:
            yield node.lineno, node.value
