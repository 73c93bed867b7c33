"""What people wrote, such as names, made safe for each kind of file."""

from __future__ import annotations

import csv
import io
import re
from html import escape
from typing import TYPE_CHECKING
from unicodedata import combining, normalize

from reports.draw.kit.sheet import short_signs
from reports.sheets.csv import safe

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence


BARE = str.maketrans(
    {"ß": "ss", "æ": "ae", "Æ": "Ae", "œ": "oe", "Œ": "Oe", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D",
     "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th", "ı": "i"}
)  # fmt: skip
"""What is written for Latin letters that are not a bare letter with an accent."""


def one_line(text: str) -> str:
    """The text on one line, without control signs: spaces in their place."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def dxf_text(text: str) -> str:
    r"""The text for a TEXT entity: no sign in it stands for another.

    In DXF two percent signs or a caret begin a sign of their own, and ``\U+`` or ``\M+`` one by its number, of four
    digits.
    """
    plain = re.sub(r"\\(?=[UM]\+)", "/", short_signs(one_line(text)))
    return re.sub(r"%(?=%)", "% ", plain).replace("^", "^ ")


def dxf_name(text: str) -> str:
    """The text as the name of a block: letters and digits of the Latin alphabet, ``-`` and ``_``.

    Letters lose their accents, so that names stay readable.
    """
    plain = "".join(sign for sign in normalize("NFKD", text.translate(BARE)) if not combining(sign))
    return re.sub(r"[^A-Za-z0-9_-]+", "_", plain).strip("_-")[:100] or "piece"


def xml_text(text: str) -> str:
    """The text inside an element or between double quotes."""
    return escape(one_line(text), quote=False).replace('"', "&quot;")


def csv_text(rows: Iterable[Sequence[str | float]]) -> str:
    """A table as CSV, its text safe for spreadsheets."""
    stream = io.StringIO()
    cells = ([safe(one_line(cell)) if isinstance(cell, str) else cell for cell in row] for row in rows)
    csv.writer(stream, lineterminator="\n").writerows(cells)
    return stream.getvalue()


def unique(names: Iterable[str]) -> list[str]:
    """The names in order, numbered where one is there already; capital letters make no difference."""
    taken: set[str] = set()
    told: list[str] = []
    for name in names:
        number, own = 1, name
        while own.casefold() in taken:
            number += 1
            own = f"{name}-{number}"
        taken.add(own.casefold())
        told.append(own)
    return told
