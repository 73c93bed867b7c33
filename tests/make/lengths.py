"""Sizes of tests, bare numbers in mm, as the public functions take them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.length import mm

if TYPE_CHECKING:
    from collections.abc import Mapping


def in_mm(sizes: Mapping[str, Any]) -> dict[str, Any]:
    """The same, each number a length; all else as it is."""
    return {
        name: mm(size) if isinstance(size, int | float) and not isinstance(size, bool) else size
        for name, size in sizes.items()
    }
