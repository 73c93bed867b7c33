"""Which program wrote a file, as far as the file says so itself, and the layers that it has."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from pieces.exchange.decided.mark import LONGEST, FileMarks, program_named
from pieces.exchange.read.dxf_entities import layer_of

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

    from pieces.exchange.account import Account

MOST_LAYERS = 100

_MADE = r"(?:created|made|generated|written)\s+(?:with|by|in)"
_SAID = re.compile(rf"<!--\s*(?:generator|creator|{_MADE})\s*:?\s*([^-<>]{{2,80}})", re.IGNORECASE)
_NAMESPACE = re.compile(r"xmlns:[\w-]+\s*=\s*[\"']https?://(?:www\.)?([\w.-]+)")
_APPLICATION = re.compile(r"^ *0\n *APPID\n(?: *(?!2\n|0\n)\d+\n.*\n)* *2\n(.*)", re.MULTILINE)
_OF_THE_FORMAT = ("ACAD", "ACDB", "ACM", "HATCHBACKGROUND")
"""Applications of the format's own, which any program registers."""

_OF_ALL = ("w3.org", "purl.org", "creativecommons.org")


def marks_of_svg(text: str, account: Account) -> FileMarks:
    """The program by a comment at the head, or by the names of its own that the head declares."""
    head = text[:5000]
    if said := _SAID.search(head):
        return FileMarks("svg", program_named(said[1]), layers_of(account))
    own = sorted({host for host in _NAMESPACE.findall(head) if not host.endswith(_OF_ALL)})
    return FileMarks("svg", " ".join(own)[:LONGEST], layers_of(account))


def marks_of_dxf(text: str, document: Document) -> FileMarks:
    """The program by a comment at the head (999), or by the applications that it registers."""
    head = text[:2000].split("\n")
    said = next((after for code, after in pairwise(head) if code.strip() == "999" and after.strip()), "")
    own = sorted({name.strip() for name in _APPLICATION.findall(text[:200_000])} - {""})
    own = [name for name in own if not name.upper().startswith(_OF_THE_FORMAT)]
    layers = dict.fromkeys(layer_of(entity)[:40] for block in document.blocks for entity in block)
    return FileMarks("dxf", program_named(said) or " ".join(own)[:LONGEST], tuple(layers)[:MOST_LAYERS])


def layers_of(account: Account) -> tuple[str, ...]:
    """The layers of all lines, in order."""
    return tuple(dict.fromkeys(entry.mark.layer for entry in account.entries if entry.mark.layer))[:MOST_LAYERS]
