"""No option of a top is swallowed: each changes pieces, trims or steps, or a note says that it does not."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

import pytest

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from pieces.garments.idle import idle_by
from pieces.length import length_in_mm, mm
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from collections.abc import Iterator
    from dataclasses import Field

    from pieces.garments import Garment

BODY = replace(find_table("women").body("92"), head=mm(570.0), waist=mm(760.0))
SWATCH = {"swatch_relaxed": 100.0, "swatch_stretched": 160.0}

STYLES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("shirt", {}),
    ("shirt", {"sleeves": "short", "facing": "separate"}),
    ("robe", {}),
    ("robe", {"front": "open", "neckline": "band", "belt": "belt"}),
    ("robe", {"neckline": "band", "shoulder": "fold", "pockets": "patch"}),
    ("t-shirt", {}),
    ("sweatshirt", {"band_rule": "stretch", **SWATCH}),
    ("hoodie", {"pockets": "kangaroo"}),
    ("rib-jacket", {}),
    ("rib-jacket", {"closure": "none", "facing": "none", "pockets": "patch", "neckline": "collar"}),
    ("rib-jacket", {"closure": "zip", "facing": "grown-on", "ends": "elastic", "neckline": "hood"}),
    ("rib-jacket", {"closure": "zip", "pockets": "side-seam", "band_rule": "stretch", **SWATCH}),
)


def others(option: Field[Any], style: Any) -> Iterator[dict[str, Any]]:
    """Other values of an option, nearest first; both halves of a swatch."""
    kind, now, example = option.metadata["kind"], getattr(style, option.name), option.metadata["example"]
    if kind == "choice":
        yield from ({option.name: value} for value in get_args(get_type_hints(type(style))[option.name]))
    elif kind == "share":
        yield {option.name: float(example) * 0.97}
    elif option.name.endswith(("_relaxed", "_stretched")):
        key = option.name.partition("_")[0]
        yield in_mm({f"{key}_relaxed": 100.0, f"{key}_stretched": 165.0})
    else:
        usual = length_in_mm(example, option.name) or 30.0
        yield from (in_mm({option.name: usual * share}) for share in (1.06, 0.94, 1.25, 0.7) if usual * share != now)


def made(garment: Garment, style: Any) -> tuple[Any, ...]:
    """All that a person sees of a draft: pieces, notes, trims and steps."""
    pieces = garment.draft(BODY, style)
    assert garment.trims and garment.steps
    drawn = [
        (piece.name, piece.cut, piece.material, piece.cut_line.tobytes(), piece.notches, piece.inner)
        for piece in pieces
    ]
    return drawn, pieces.notes, garment.trims(pieces, style), garment.steps(pieces, style)


@pytest.mark.parametrize(("name", "asked"), STYLES)
def test_no_option_is_swallowed(name: str, asked: dict[str, Any]) -> None:
    """One option at a time is changed; what cannot be drafted with it is refused, which says something too."""
    garment = GARMENTS[name]
    style = garment.style(**{key: mm(value) if key in SWATCH else value for key, value in asked.items()})
    plain, tried = made(garment, style), 0
    for option in garment.options():
        for other in others(option, style) if option.name not in asked else ():
            try:
                found = made(garment, replace(style, **other))
            except DraftError:
                continue
            if other[option.name] != getattr(style, option.name):
                assert found != plain, f"{name} {asked}: {other} changes nothing, and nothing is said"
                tried += 1
                break
    assert tried > len(garment.options()) - len(asked) - 4


def test_each_is_named_once() -> None:
    """An option with two reasons to be idle is named with the first; one that is at its default is not."""
    style = GARMENTS["robe"].style(belt_width=mm(30.0))
    table = ((("belt_width",), lambda _: True, "first"), (("slit", "belt_width"), lambda _: True, "second"))
    assert list(idle_by(style, table)) == ["belt_width: first, so it changes nothing"]
