"""How SVG is drawn, as far as it says whether a thing is seen: attributes, styles and the simple rules of CSS."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from xml.etree import ElementTree

SEEN = (
    *("display", "visibility", "opacity", "fill", "stroke", "stroke-width", "fill-opacity", "stroke-opacity"),
    "transform",
)
"""The properties that decide it (SVG 1.1, chapters 11 and 14)."""

_INHERITED = ("visibility", "fill", "stroke", "stroke-width", "fill-opacity", "stroke-opacity")

_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_SIMPLE = re.compile(r"(?:\*|([a-z]*))((?:[.#][\w-]+)?)", re.IGNORECASE)


@dataclass(frozen=True)
class Look:
    """How a thing is drawn, by itself and by what it lies in.

    Parameters
    ----------
    values
        The properties that are inherited.
    hidden
        Why neither it nor anything in it is seen; empty if it is.
    moved
        Whether its style moves it elsewhere, which is not followed.
    """

    values: Mapping[str, str] = field(default_factory=dict)
    hidden: str = ""
    moved: bool = False

    @property
    def unseen(self) -> str:
        """Why this thing itself is not seen; empty if it is."""
        if self.hidden:
            return self.hidden
        if self.values.get("visibility") in ("hidden", "collapse"):
            return f"its visibility is {self.values['visibility']}"
        if _is_none(self.values, "fill", "black") and _is_none(self.values, "stroke", "none"):
            return "it has neither fill nor stroke"
        return ""

    @property
    def is_filled(self) -> bool:
        """Whether it says that it is filled."""
        return "fill" in self.values and not _is_none(self.values, "fill", "black")

    @property
    def is_ground(self) -> bool:
        """Whether it is filled and has no line round it."""
        return self.is_filled and _is_none(self.values, "stroke", "none")


def _is_none(values: Mapping[str, str], paint: str, otherwise: str) -> bool:
    said = values.get(paint, otherwise).lower()
    width = values.get("stroke-width", "1") if paint == "stroke" else "1"
    return said in ("none", "transparent") or _is_nought(values.get(f"{paint}-opacity", "1")) or _is_nought(width)


def _is_nought(text: str) -> bool:
    found = re.match(r"\s*([\d.]+(?:e[+-]?\d+)?)", text, re.IGNORECASE)
    try:
        return bool(found) and float(found[1]) == 0 if found else False
    except ValueError:
        return False


class Styles:
    """The rules of the style sheets in a file.

    Only rules for a kind of element, a class or an id are followed; whether there are others is in `has_more`.
    """

    def __init__(self, root: ElementTree.Element) -> None:
        self._rules: dict[tuple[str, str], dict[str, str]] = {}
        self.has_more = False
        for element in root.iter():
            if isinstance(element.tag, str) and element.tag.rpartition("}")[2] == "style":
                self._read("".join(element.itertext()))

    def _read(self, text: str) -> None:
        text = re.sub(r"/\*.*?\*/", "", text[:200_000], flags=re.DOTALL)
        self.has_more |= "@media" in text
        for selectors, declared in _RULE.findall(re.sub(r"@[\w-]+[^;{]*;", "", text)):
            properties = dict(_declared(declared))
            for selector in selectors.split(","):
                found = _SIMPLE.fullmatch(selector.strip())
                if found is None or not found[0]:
                    self.has_more |= bool(properties)
                else:
                    self._rules.setdefault((found[1] or "", found[2]), {}).update(properties)

    def look(self, element: ElementTree.Element, above: Look) -> Look:
        """How an element is drawn."""
        tag = element.tag.rpartition("}")[2]
        own = {key: value.strip() for key in SEEN[:-1] if (value := element.get(key)) is not None}
        marks = ["", *(f".{word}" for word in element.get("class", "").split()), f"#{element.get('id', '')}"]
        for mark in marks:
            for kind in ("", tag):
                own |= self._rules.get((kind, mark), {})
        own |= dict(_declared(element.get("style", "")))
        hidden = above.hidden
        if own.get("display") == "none":
            hidden = hidden or "its display is none"
        elif _is_nought(own.get("opacity", "1")):
            hidden = hidden or "its opacity is 0"
        values = dict(above.values) | {key: own[key] for key in _INHERITED if own.get(key, "inherit") != "inherit"}
        if self.has_more:
            values.setdefault("stroke", "unknown")
        return Look(values, hidden, above.moved or own.get("transform", "none") != "none")


def _declared(text: str) -> Iterator[tuple[str, str]]:
    """The properties of interest in declarations such as ``fill:none;stroke:#000``."""
    for part in text.split(";"):
        key, colon, value = part.partition(":")
        if colon and key.strip().lower() in SEEN:
            yield key.strip().lower(), value.replace("!important", "").strip()
