"""A drawing that holds nothing but groups and known paths, walked by ourselves: the library takes long for each."""

from __future__ import annotations

import io
import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

from pieces.exchange.read.svg_safe import NAMESPACE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.exchange.read.svg_paths import KnownPaths

    Placed = tuple[dict[str, str], Any]

_TRANSFORM = re.compile(r"(?:[\s,]*[a-zA-Z]+\s*\([-+.,\seE0-9]*\))*[\s,]*")
"""One without units, which depend on what it lies in."""

_OURS = "data-ell-"
"""What we have written on an element, and what it lies in hands down to it."""

_SHAPES = ("path", "polyline", "polygon")


def plain_shapes(root: ElementTree.Element, known: KnownPaths, per_inch: float) -> list[Placed] | None:
    """What is written on each shape, and its transform as the library has it; None if the library is needed.

    Parameters
    ----------
    per_inch
        Pixels to the inch.
    """
    try:
        start = _transform_within(root, per_inch)
        return None if start is None else list(_walked(root, known, start, _ours(root)))
    except (_NotPlainError, RecursionError):
        return None


class _NotPlainError(Exception):
    """Something that the library is needed for."""


def _transform_within(root: ElementTree.Element, per_inch: float) -> str | None:
    """The transform of what lies in the whole drawing, as the library writes it; None if it draws nothing there."""
    import svgelements  # type: ignore[import-untyped]

    alone = ElementTree.Element(root.tag, root.attrib)
    ElementTree.SubElement(alone, f"{NAMESPACE}path" if root.tag.startswith(NAMESPACE) else "path", {"d": "M0 0L0 0"})
    try:
        drawn = svgelements.SVG.parse(io.BytesIO(ElementTree.tostring(alone)), reify=False, ppi=per_inch)
        probe = next((each for each in drawn.elements() if isinstance(each, svgelements.Path)), None)
    except Exception:  # whatever odd sides make of the library: it says so once more
        return None
    return None if probe is None else str(probe.values.get("transform", ""))


def _walked(parent: ElementTree.Element, known: KnownPaths, above: str, handed: dict[str, str]) -> Iterator[Placed]:
    for child in parent:
        tag = str(child.tag).removeprefix(NAMESPACE)
        if tag == "defs" and all(str(inner.tag).removeprefix(NAMESPACE) != "use" for inner in child.iter()):
            continue
        transform = child.get("transform")
        if transform is not None and not _TRANSFORM.fullmatch(transform):
            raise _NotPlainError
        here = above if transform is None else f"{above} {transform}" if above else transform
        values = handed | _ours(child)
        if tag == "g":
            yield from _walked(child, known, here, values)
        elif tag in _SHAPES and known.has(child) and not len(child):
            yield values, _matrix(here)
        else:
            raise _NotPlainError


def _ours(element: ElementTree.Element) -> dict[str, str]:
    return {key: value for key, value in element.attrib.items() if key.startswith(_OURS)}


@lru_cache(1000)
def _matrix(transform: str) -> Any:
    import svgelements

    try:
        matrix = svgelements.Matrix(transform)
        if all(isinstance(getattr(matrix, name), float | int) for name in "abcdef"):
            return matrix
    except Exception as error:  # whatever an odd transform makes of the library: it says so once more
        raise _NotPlainError from error
    raise _NotPlainError
