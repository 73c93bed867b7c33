"""How SVG is drawn, as far as it says whether a thing is seen: attributes, styles and the simple rules of CSS."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from xml.etree import ElementTree

OWN = "data-ell-is-"
"""What an element says of its look is written on it after this, so that each copy has what it lies in as well."""

HIDDEN, UNREAD, CLIPPED = (f"data-ell-{key}" for key in ("hidden", "unread", "clipped"))

INHERITED = (
    *(
        "visibility",
        "color",
        "fill",
        "fill-rule",
        "stroke",
        "stroke-width",
        "fill-opacity",
        "stroke-opacity",
        "stroke-dasharray",
        "marker",
        "marker-start",
        "marker-end",
    ),
)

SEEN = (*INHERITED, "display", "opacity", "clip-path", "mask", "overflow")
"""The properties that decide it (SVG 1.1, chapters 11 and 14)."""

MOVES = ("transform", "transform-origin", "transform-box", "translate", "rotate", "scale", "offset-path", "zoom")
"""Properties of CSS that move a thing elsewhere; none is followed."""

SIZES = ("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "d", "points")
"""Attributes that a style may say as well (SVG 2, 7.3); none is followed there."""

UNPAINTED = "it has neither fill nor stroke"

WHITE = 250
"""Of 255 in red, green and blue: more is white on paper."""

MOST_STYLE = 200_000
"""Signs of a style sheet that are read."""

_NO_HEAD = re.compile(r"dot|circle|square|diamond|stop|bar|tail")
"""In the name of a marker: it is no arrowhead."""

_RULE = re.compile(r"(?<![^{}])([^{}]++)\{([^{}]*+)\}")
_ELSEWHERE = re.compile(r"@media\b(?!\s*(?:all|screen)\s*\{)[^{}]*+\{(?:[^{}]*+\{[^{}]*+\})*+[^{}]*+\}")
"""Rules for other media than a screen: they are not followed."""

_SIMPLE = re.compile(r"(?:\*|([a-z]*))((?:[.#][\w-]+)?)", re.IGNORECASE)


@dataclass(frozen=True)
class Look:
    """How a thing is drawn, by itself, by what it lies in and by the copy that shows it.

    Parameters
    ----------
    values
        The properties that are inherited.
    """

    values: Mapping[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, written: Mapping[str, Any]) -> Look:
        """The look of a shape of which all is known that is written on it and on what it lies in."""
        return cls({key: str(value) for key in INHERITED if (value := written.get(OWN + key))})

    @property
    def unseen(self) -> str:
        """Why this thing itself is not seen; empty if it is."""
        if self.values.get("visibility", "").lower() in ("hidden", "collapse"):
            return f"its visibility is {self.values['visibility']}"
        return "" if self.is_filled_in or self._is_drawn("stroke", "none") else UNPAINTED

    @property
    def colour(self) -> str:
        """The colour of its line, or of what fills it where it has none, as ``#rrggbb`` or as it is written."""
        paint = "stroke" if self._is_drawn("stroke", "none") else "fill"
        return _hex(self._paint(paint, "black"))

    @property
    def dash(self) -> str:
        """The style of its line, as numbers with spaces between them; empty for a solid one."""
        said = " ".join(self.values.get("stroke-dasharray", "").replace(",", " ").split())
        return "" if said.lower() == "none" else said[:40]

    @property
    def heads(self) -> tuple[bool, bool]:
        """Whether a marker stands on its first end, and on its last, that is not called otherwise than an arrowhead."""
        both = self.values.get("marker", "none")
        first, last = (self.values.get(key, both).lower() for key in ("marker-start", "marker-end"))
        return "url(" in first and not _NO_HEAD.search(first), "url(" in last and not _NO_HEAD.search(last)

    @property
    def is_white(self) -> bool:
        """Whether it is drawn in white alone, so that nobody sees it on paper."""
        paints = [self._paint(paint, other) for paint, other in _PAINTS if self._is_drawn(paint, other)]
        return bool(paints) and all(_tone(paint)[0] >= WHITE for paint in paints)

    @property
    def is_filled_in(self) -> bool:
        """Whether it is filled; what says nothing is black."""
        return self._is_drawn("fill", "black")

    @property
    def is_filled(self) -> bool:
        """Whether it says that it is filled."""
        return "fill" in self.values and self.is_filled_in

    @property
    def fill_rule(self) -> str:
        """By which rule outlines within one another are filled: ``"nonzero"`` or ``"evenodd"``."""
        return self.values.get("fill-rule", "nonzero")

    @property
    def is_ground(self) -> bool:
        """Whether it is filled and has no line round it."""
        return self.is_filled and not self._is_drawn("stroke", "none")

    @property
    def is_unlined(self) -> bool:
        """Whether it is filled, said or not, and has no line round it."""
        return self.is_filled_in and not self._is_drawn("stroke", "none")

    def _paint(self, paint: str, otherwise: str) -> str:
        said = self.values.get(paint, otherwise).strip()
        return self.values.get("color", "black") if said.lower() == "currentcolor" else said

    def _is_drawn(self, paint: str, otherwise: str) -> bool:
        said = self._paint(paint, otherwise)
        width = self.values.get("stroke-width", "1") if paint == "stroke" else "1"
        nought = is_nought(self.values.get(f"{paint}-opacity", "1")) or is_nought(width)
        return not (said.lower() == "none" or nought or _tone(said)[1] == 0)


_PAINTS = (("fill", "black"), ("stroke", "none"))


@cache
def _tone(colour: str) -> tuple[int, int]:
    """The darkest of red, green and blue, and how far the colour covers what lies under it, 0 to 255."""
    import svgelements  # type: ignore[import-untyped]

    try:
        found = svgelements.Color(colour)
        tones = (found.red, found.green, found.blue)
        return (min(map(int, tones)), int(found.alpha)) if None not in tones else (0, 255)
    except Exception:  # whatever an odd colour makes of the library: it is taken as seen
        return 0, 255


@cache
def _hex(colour: str) -> str:
    """A colour as ``#rrggbb``; as it is written if it is none."""
    import svgelements

    try:
        found = svgelements.Color(colour)
        return f"#{found.red:02x}{found.green:02x}{found.blue:02x}"
    except Exception:  # whatever an odd colour makes of the library
        return colour[:40]


@lru_cache(1000)
def is_nought(text: str) -> bool:
    """Whether a number, with or without a unit, is 0."""
    found = re.match(r"\s*(\d*\.?\d+(?:e[+-]?\d+)?)", text, re.IGNORECASE)
    return bool(found) and float(found[1]) == 0 if found else False


class Styles:
    """The rules of the style sheets in a file.

    Only rules for a kind of element, a class or an id are followed; whether there are others is in `has_more`.
    """

    def __init__(self, root: ElementTree.Element) -> None:
        self._rules: dict[tuple[str, str], list[tuple[int, dict[str, str]]]] = {}
        self._known: dict[tuple[str, str, str], dict[str, str]] = {}
        self._many = 0
        self.has_more = False
        for element in root.iter():
            if isinstance(element.tag, str) and element.tag.rpartition("}")[2] == "style":
                self._read("".join(element.itertext()))

    def _read(self, text: str) -> None:
        self.has_more |= len(text) > MOST_STYLE
        text = text[:MOST_STYLE]
        end = text.rfind("*/") + 2  # a comment that does not end is looked for no further
        text = re.sub(r"/\*.*?\*/", "", text[:end], flags=re.DOTALL) + text[end:] if end > 1 else text
        self.has_more |= any(word in text for word in ("@media", "@import", "!important"))
        text = re.sub(r"@[\w-]+[^;{]*;|<!--|-->", "", _ELSEWHERE.sub("", text))
        self.has_more |= bool(_RULE.sub("", text).strip())
        for selectors, declared in _RULE.findall(text):
            properties = dict(_declared(declared))
            for selector in selectors.split(",") if properties else ():
                found = _SIMPLE.fullmatch(selector.strip())
                if found is None or not found[0]:
                    self.has_more = True
                else:
                    self._many += 1
                    self._rules.setdefault((found[1] or "", found[2]), []).append((self._many, properties))

    def write(self, element: ElementTree.Element) -> dict[str, str]:
        """Write on an element how it is drawn; what it says of itself."""
        tag = element.tag.rpartition("}")[2]
        own = {key: value.strip() for key in SEEN if (value := element.get(key)) is not None}
        by_style = self._by_style(element, tag)
        own |= by_style
        for key in INHERITED:
            if own.get(key, "inherit") != "inherit":
                element.set(OWN + key, own[key])
        if own.get("display", "").lower() == "none":
            element.set(HIDDEN, "its display is none")
        elif is_nought(own.get("opacity", "1")):
            element.set(HIDDEN, "its opacity is 0")
        if any(own.get(key, "none") != "none" for key in ("clip-path", "mask")):
            element.set(CLIPPED, "1")
        sizes = SIZES if tag not in ("svg", "g", "text") else ()
        odd = next((key for key in (*MOVES, *sizes) if by_style.get(key, "none") not in ("none", "auto")), "")
        if odd:
            element.set(UNREAD, f"its style moves or resizes it ({odd}), which is ignored: write it as an attribute")
        elif any("var(" in value for key, value in own.items() if key != "stroke-dasharray"):
            element.set(UNREAD, "its style uses a variable, which is ignored: write the value itself")
        elif element.get("transform") and element.get("transform-origin"):
            element.set(UNREAD, "its transform-origin is ignored: write it into the transform")
        return own

    def _by_style(self, element: ElementTree.Element, tag: str) -> dict[str, str]:
        """What style sheets and its style say of an element."""
        own = dict(_declared(element.get("style", "")))
        return self._by_sheet(tag, element.get("class", ""), element.get("id", "")) | own if self._rules else own

    def _by_sheet(self, tag: str, classes: str, name: str) -> dict[str, str]:
        """What the rules say of all elements of a kind, with these classes and this id; of rules alike the last holds.

        There are many such elements, and few ids that a rule names.
        """
        name = name if any((kind, f"#{name}") in self._rules for kind in ("", tag)) else ""
        if (known := self._known.get((tag, classes, name))) is not None:
            return known
        marks = (f".{word}" for word in classes.split())
        found: dict[str, str] = {}
        for level in ([""], marks, [f"#{name}"]):
            rules = [(bool(kind), *rule) for mark in level for kind in {"", tag}
                     for rule in self._rules.get((kind, mark), ())]  # fmt: skip
            for _, _, properties in sorted(rules, key=lambda rule: rule[:2]):
                found |= properties
        self._known[tag, classes, name] = found
        return found


def _declared(text: str) -> Iterator[tuple[str, str]]:
    """The properties of interest in declarations such as ``fill:none;stroke:#000``."""
    for part in text.split(";"):
        key, colon, value = part.partition(":")
        key = key.strip().lower()
        if colon and (key in SEEN or key in MOVES or key in SIZES):
            yield key, value.replace("!important", "").strip()
