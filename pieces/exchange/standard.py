"""The conventions of ASTM D6673 for flat patterns in DXF: what each layer holds, and the records of text.

The standard was withdrawn in 2019 and is still readable as a convention. That one block is one piece, that internal
lines are drawn and cutouts cut, stands in its definitions; the numbers of the layers, the keys of the records and the
meaning of UNITS are given here from memory.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, get_args

from pieces.piece.piece import Material

if TYPE_CHECKING:
    from pieces.exchange.imported import Unit
    from pieces.piece.notched import NotchKind

StandardRole = Literal[
    "outline", "notch", "fold", "grain", "line", "cutout", "drill", "sew", "sew point", "note", "known", "unknown"
]
"""The part a line, point or text plays; ``"known"`` says nothing of a piece that is not said elsewhere."""

LAYERS: dict[str, StandardRole] = {
    "1": "outline",
    "2": "known",  # turn points, on the outline's corners
    "3": "known",  # curve points, on the outline
    "4": "notch",  # V and slit
    "5": "unknown",  # grade reference
    "6": "fold",  # mirror line
    "7": "grain",
    "8": "line",  # internal lines, not cut
    "9": "unknown",  # stripe reference
    "10": "unknown",  # plaid reference
    "11": "cutout",
    "13": "drill",
    "14": "sew",
    "15": "note",  # annotation
    **dict.fromkeys(("80", "81", "82", "83"), "notch"),  # T, castle, check and U
    **dict.fromkeys(("84", "85", "86", "87"), "known"),  # the same lines again, for checking their quality
}

UNITS: dict[str, Unit] = {"ENGLISH": "in", "METRIC": "mm"}

STYLE_RECORDS = ("STYLE NAME", "CREATION DATE", "CREATION TIME", "AUTHOR", "SAMPLE SIZE", "GRADING RULE TABLE", "UNITS")

PIECE_RECORDS = ("PIECE NAME", "SIZE", "QUANTITY", "CATEGORY", "MATERIAL", "ANNOTATION")

OWN_RECORDS = ("NOTCHES", "LIES", "TILT")
"""Not of the standard, whose layer 4 has slits and Vs alike: how the notches of a piece are cut; and how a piece may
lie on the cloth (``cross`` or ``free``), and how many degrees off its grain do no harm."""

_ROLE_WORDS: dict[str, StandardRole] = {
    "cut": "outline",
    "notch": "notch",
    "notches": "notch",
    "fold": "fold",
    "mirror": "fold",
    "grain": "grain",
    "grainline": "grain",
    "drill": "drill",
    "drills": "drill",
    "sew": "sew",
    "sewing": "sew",
    "stitch": "sew",
    "cutout": "cutout",
    "cutouts": "cutout",
    **dict.fromkeys(("fadenlauf", "fadenrichtung"), "grain"),
    **dict.fromkeys(("naht", "nahtlinie", "steppnaht", "couture", "piqûre"), "sew"),
    **dict.fromkeys(("knips", "knipse", "cran", "crans"), "notch"),
    **dict.fromkeys(("stoffbruch", "bruch", "pliure"), "fold"),
    **dict.fromkeys(("bohrung", "bohrungen", "bohrloch"), "drill"),
    **dict.fromkeys(("details", "detail", "marking", "markings", "construction", "guides", "hilfslinien"), "line"),
    **dict.fromkeys(("markierung", "markierungen", "innenlinie", "innenlinien", "konstruktion", "repères"), "line"),
    "internal": "line",
    "inner": "line",
    "centre": "known",
    "cloth": "known",
    "fault": "known",
    "label": "known",
}

_FILLING = {"line", "lines", "mark", "marks", "point", "points", "hole", "holes", "layer", "edge"}

_MATERIAL_WORDS: tuple[tuple[str, Material], ...] = (
    ("interfacing", "interfacing"),
    ("fusible", "interfacing"),
    ("lining", "lining"),
    ("rib", "rib"),
    ("shell", "shell"),
    ("self", "shell"),
    ("main", "shell"),
)


def role_of(name: str) -> StandardRole:
    """What a layer or a group is for, if its name is made of the trade's words for that; ``"outline"`` for others."""
    words = re.findall(r"[^\W\d_]+", name.lower())
    if words in (["sew", "point"], ["sew", "points"]):
        return "sew point"
    if words == ["line"]:  # alone it is a line within; with another word it only fills
        return "line"
    roles = {_ROLE_WORDS[word] for word in words if word in _ROLE_WORDS}
    return roles.pop() if len(roles) == 1 and all(w in _ROLE_WORDS or w in _FILLING for w in words) else "outline"


def notch_layer(kind: NotchKind) -> str:
    """The layer of a kind of notch: slits and Vs share one."""
    return "80" if kind == "t" else layer_of("notch")


def layer_of(role: StandardRole) -> str:
    """The first layer that a role has by the standard."""
    return next(name for name, part in LAYERS.items() if part == role)


def record(text: str) -> tuple[str, str] | None:
    """Key and value of a record such as ``PIECE NAME: front``; None for any other text.

    ``# 12`` at a graded point says which rule it has: a record as well, with a key of its own.
    """
    if rule := re.fullmatch(r"# (\d{1,9})", text.strip()):
        return f"RULE {rule[1]}", rule[1]
    key, colon, value = text.partition(":")
    key = " ".join(key.upper().split())
    return (key, value.strip()) if colon and key in (*STYLE_RECORDS, *PIECE_RECORDS, *OWN_RECORDS) else None


def material_of(text: str) -> Material | None:
    """The material a record means; None if it is no word of ours."""
    words = text.strip().lower()
    if words in get_args(Material):
        return next(each for each in get_args(Material) if each == words)
    return next((material for word, material in _MATERIAL_WORDS if re.search(rf"\b{word}", words)), None)


def label_of(text: str) -> str:
    """An annotation without how many to cut, which stands beside every label anyway."""
    words = re.sub(r"^cut \d+( on fold| \(\d+ pairs?\))?\s*(,\s*|$)", "", text.strip(), flags=re.IGNORECASE)
    return "".join(sign for sign in words if sign.isprintable())[:200]


def quantity_of(text: str) -> tuple[int, bool] | None:
    """How many to cut, and whether half of them are mirrored: ``2``, or ``1,1`` for one left and one right."""
    found = re.fullmatch(r"\s*(\d{1,4})\s*(?:[,;/+]\s*(\d{1,4})\s*)?", text)
    if not found:
        return None
    left, right = int(found[1]), int(found[2] or 0)
    if left + right < 1:
        return None
    return left + right, left == right
