"""SVG that could harm is refused before anything is built of it."""

from __future__ import annotations

import pytest

from pieces.errors import FormatError
from pieces.exchange.read.svg_safe import DEEPEST, safe_root

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">'


def test_what_is_counted() -> None:
    """Lines, shapes, words and copies are accounted for; groups and definitions are not."""
    root, counted = safe_root(f'{HEAD}<g><rect/><text>a</text></g><defs/><use href="#b"/></svg>', "a.svg")
    assert root.tag.endswith("svg")
    assert counted == 3


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("<html/>", "html"),
        (f"{HEAD}<rect>", "cut short"),
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + HEAD + "</svg>", "defines an entity"),
        (HEAD + "<g>" * (DEEPEST + 1) + "</g>" * (DEEPEST + 1) + "</svg>", "elements deep"),
        (f'{HEAD}<g id="a"><use href="#a"/></g><use xlink:href="#a"/></svg>', "holds itself"),
    ],
)
def test_refused(text: str, why: str) -> None:
    """Each with the file's name, and what to do."""
    with pytest.raises(FormatError, match=f"^a.svg .*{why}"):
        safe_root(text, "a.svg")


def test_a_doctype_is_harmless() -> None:
    """What it refers to is never fetched."""
    safe_root(f'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://127.0.0.1:9/x.dtd">{HEAD}</svg>', "a.svg")
