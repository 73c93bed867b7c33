"""A tube's two widths: as it lies flat, and once it is cut open, which is twice as much."""

from __future__ import annotations

from typing import Any, get_args

from pieces.units import parse_length, spoken
from reports.ask.choices import TubeAsked

WAYS: tuple[TubeAsked, ...] = get_args(TubeAsked)


def by_full_width(data: Any, *, is_tube: bool) -> Any:
    """An entry with its full width, once opened, under `width`: a tube must say which of its two widths it gives.

    Raises
    ------
    ValueError
        If a tube gives neither, both, or a bare `width`; or if what is no tube gives one of them.
    """
    if not isinstance(data, dict):
        return data
    given = [way for way in WAYS if way in data]
    if not is_tube:
        if given:
            raise ValueError(f"{given[0]} is only for a tube: write width, the full width of the cloth")
        return data
    if "width" in data or len(given) != 1:
        text = next((data[key] for key in ("width", *given) if isinstance(data.get(key), str)), None)
        text = text or spoken("18 in", "45 cm")
        raise ValueError(
            f'a tube has two widths: write lay_flat = "{text}" if it was measured lying flat, or opened = "{text}" if'
            " it was measured cut open, which is twice as wide; leave width out"
        )
    rest, text = {key: value for key, value in data.items() if key not in WAYS}, data[given[0]]
    return rest | {"width": text if given == ["opened"] else _doubled(text)}


def _doubled(text: Any) -> Any:
    """Twice a length, as text in mm; what is none is left to be refused as a width."""
    return f"{2 * parse_length(text)!r} mm" if isinstance(text, str) else text
