"""A page of the help as HTML: its links lead to other pages, and what it says can do no harm."""

from __future__ import annotations

import re
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markdown_it.token import Token

HELP_ADDRESS = "/help"
"""Where the page in the browser shows the help."""

GROUP = ' class="scroll" role="group" tabindex="0" aria-label='
"""A wide table is scrolled by itself, by keys as well."""


def to_html(text: str) -> str:
    """Markdown as HTML.

    Markup within the text is shown, not obeyed. Links to other topics lead to their pages, and pictures beside them
    are found. Headings can be linked to, and tables are scrolled by themselves.
    """
    from markdown_it import MarkdownIt

    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = reader.parse(text)
    _mend(tokens)
    made = str(reader.renderer.render(tokens, reader.options, {}))
    made = made.replace("<table>", f'<div{GROUP}"Table">\n<table>').replace("</table>", "</table>\n</div>")
    return made.replace("<pre>", f'<pre{GROUP}"Commands or text">')


def _mend(tokens: Sequence[Token]) -> None:
    """Headings get a name, links and pictures an address of the page."""
    for token, following in zip(tokens, [*tokens[1:], None], strict=True):
        if token.type == "heading_open" and following is not None:
            token.attrSet("id", anchor(following.content))
        for inner in token.children or ():
            if inner.type == "link_open":
                inner.attrSet("href", _address(str(inner.attrGet("href"))))
            elif inner.type == "image":
                inner.attrSet("src", f"{HELP_ADDRESS}/{inner.attrGet('src')}")


def anchor(heading: str) -> str:
    """What a heading is linked to by."""
    return re.sub(r"[^a-z0-9]+", "-", heading.lower()).strip("-")


def _address(link: str) -> str:
    found = re.fullmatch(r"([\w-]+)\.md(#.*)?", link)
    return f"{HELP_ADDRESS}/{found[1]}{found[2] or ''}" if found else escape(link)
