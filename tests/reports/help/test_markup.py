"""Pages of the help as HTML."""

from __future__ import annotations

import html5lib
import pytest

from reports.help.markup import anchor, to_html
from reports.help.topics import INDEX, topic_called, topic_names


def test_links() -> None:
    """Links lead to pages of the server, pictures are found beside them, and headings can be linked to."""
    made = to_html("# A b, c\n\n[x](sizes.md) [y](sizes.md#a-b) [z](#two)\n\n![p](marker.svg)\n\n## Two\n")
    assert '<h1 id="a-b-c">' in made and '<h2 id="two">' in made
    assert all(f'href="{link}"' in made for link in ("/help/sizes", "/help/sizes#a-b", "#two"))
    assert '<img src="/help/marker.svg" alt="p" />' in made


@pytest.mark.parametrize(
    "text",
    ["<script>alert(1)</script>", "a <img src=x onerror=alert(1)> b", "[a](javascript:alert(1))", "`<b>`", "    <b>\n"],
)
def test_markup_is_shown_not_obeyed(text: str) -> None:
    """Markup in a page does nothing: it is shown as it is written."""
    tree = html5lib.parseFragment(to_html(text), namespaceHTMLElements=False)
    assert {element.tag for element in tree.iter()} <= {"DOCUMENT_FRAGMENT", "p", "code", "pre"}
    assert "<" in "".join(tree.itertext()) or "javascript" in "".join(tree.itertext())


def test_anchor() -> None:
    """A heading is linked to by its letters and figures."""
    assert anchor("Where each figure comes from: 1/8 yd?") == "where-each-figure-comes-from-1-8-yd"


@pytest.mark.parametrize("name", [INDEX, *topic_names()])
def test_pages_are_whole(name: str) -> None:
    """Each page is strict HTML; wide parts can be reached and scrolled by keys; no mark of Markdown is left over."""
    made = to_html(topic_called(name).text)
    html5lib.HTMLParser(strict=True).parseFragment(made)
    tree = html5lib.parseFragment(made, namespaceHTMLElements=False)
    assert len(tree.findall("h1")) == 1
    assert all(block.get("tabindex") == "0" and block.get("aria-label") for block in tree.findall("pre"))
    assert not tree.findall("table")
    words = "".join(text for part in tree if part.tag in ("p", "ul") for text in part.itertext())
    assert "](" not in words and "**" not in words and "`" not in words
