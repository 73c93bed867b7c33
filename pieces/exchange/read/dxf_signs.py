r"""Signs that DXF writes by their number: ``\U+00FC``, ``\M+18389``, ``%%220``."""

from __future__ import annotations

import re
from typing import Any

_SPLIT = re.compile(r"(\n *3\n[^\n]*?)(\\(?:[UM](?:\+[0-9A-Fa-f]{0,4})?)?)\n( *[13]\n)")
"""A long text goes on in the next group, and a sign may be cut in two there."""

_SIGN = re.compile(r"(?<!\\)\\(?:U\+([0-9A-Fa-f]{4})|M\+([1-5])([0-9A-Fa-f]{4}))")

_BY_NUMBER = re.compile(r"%%(\d{3})")

_SPECIAL = re.compile(r"[%^\r\n]")
"""Signs that begin something in a text of one line, or do not belong there."""

_PAGES = {"1": "cp932", "2": "cp950", "3": "cp949", "4": "johab", "5": "cp936"}
"""The code pages of East Asia, by the number after ``\\M+`` (documents of the open design library, by ezdxf)."""

_COMMANDS = "\\{}^%;"
"""Signs that begin something of their own in a text, and so stay as they are."""


def decoded(text: str) -> str:
    r"""The text of a file with ``\U+`` and ``\M+`` replaced by their signs, in names and words alike."""
    if "\\U+" not in text and "\\M+" not in text and not _SPLIT.search(text):
        return text
    text = _SIGN.sub(_sign, _SPLIT.sub(r"\1\n\3\2", text))
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")  # two halves of a sign are one


def _sign(found: re.Match[str]) -> str:
    if found[1]:
        sign = chr(int(found[1], 16))
    else:
        try:
            sign = bytes.fromhex(found[3]).decode(_PAGES[found[2]]).strip("\0")
        except UnicodeDecodeError:
            return found[0]
    is_half = "\ud800" <= sign <= "\udfff"
    return sign if is_half or (sign.isprintable() and sign not in _COMMANDS) or sign == "\xa0" else found[0]


def words_written(entity: Any) -> str:
    """The words of a text, an attribute or a text of several lines, without signs that format it."""
    words = entity.dxf.get("text", "") if entity.dxftype() in ("TEXT", "ATTRIB") else "%"
    if not _SPECIAL.search(words):  # the library goes through each sign, to find none
        return str(words)
    return _BY_NUMBER.sub(_numbered, str(entity.plain_text()))


def _numbered(found: re.Match[str]) -> str:
    number = int(found[1])
    return bytes([number]).decode("cp1252", "ignore") if 32 <= number < 256 else found[0]
