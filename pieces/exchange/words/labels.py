"""Names that drawing programs give by themselves, which say nothing of a piece."""

from __future__ import annotations

import re

_AUTOMATIC = (
    *("svg", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "g", "group", "use", "text", "tspan"),
    *("shape", "object", "layer", "ebene", "calque", "surface", "glyph", "clip", "mask", "patch", "figure", "axes"),
    *("line2d", "collection", "pathcollection", "id", "xmlid", "svgid", "page", "slide", "image", "symbol", "model"),
    *("block", "gruppe", "groupe", "pfad", "rechteck", "kreis", "chemin", "bg-id", "container-id"),
    *("slidegroup", "bounding", "boundingbox", "drawing", "document", "root", "background-id", "entities", "copy"),
    "dummyslide",
)  # fmt: skip

_BARE = ("layer", "ebene", "calque", "group", "gruppe", "groupe", "path", "figure", "slidegroup", "entities", "svg")
"""Of these, those that say nothing without a number as well."""

_PATTERN = re.compile(
    rf"_?(?:(?:{'|'.join(map(re.escape, _AUTOMATIC))})[\s_.-]*[\d#][\w.-]*(?:\s*\(\d+\))?|{'|'.join(_BARE)}"
    r"|[a-z]?[0-9a-f]{8,}|[a-z]\d+|\w*(?:sans|serif|mono)\w*-[0-9a-f]{1,5})",
    re.IGNORECASE,
)


def is_automatic(name: str) -> bool:
    """Whether a name is one that a program gives, such as ``path12`` or ``Layer 1``."""
    return bool(_PATTERN.fullmatch(name.strip()))
