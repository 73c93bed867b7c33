"""Options of a jacket that change nothing, as they say how something is made that is not asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.jacket.style import JacketStyle

Idle = tuple[tuple[str, ...], Callable[["JacketStyle"], bool], str]

IDLE: tuple[Idle, ...] = (
    (("pocket_mouth", "pocket_cloth"), lambda style: style.pockets == "none", "no pockets are asked for"),
    (("pocket_cloth",), lambda style: style.pockets == "patch", "a patch has no bag"),
    (("hood_height",), lambda style: style.neckline != "hood", "no hood is asked for"),
    (("collar_height",), lambda style: style.neckline != "collar", "no collar is asked for"),
    (("neck_rib_depth",), lambda style: style.neckline != "band", "there is no neckband"),
    (("facing_width",), lambda style: style.facing == "none", "there is no facing"),
    (("back_facing",), lambda style: style.facing != "separate", "it is sewn to a separate front facing"),
    (
        ("cuff_add", "hem_less", "neck_less"),
        lambda style: style.band_rule != "subtract",
        "bands are cut by another band_rule",
    ),
    (
        ("cuff_share", "hem_share", "neck_share"),
        lambda style: style.band_rule != "share",
        "bands are cut by another band_rule",
    ),
    (("neck_less", "neck_share"), lambda style: style.neckline != "band", "there is no neckband"),
)
"""Options by what makes them idle, and the words for it."""


def idle_options(body: Body, style: JacketStyle) -> Iterator[str]:
    """A line for each option that was set and changes nothing, once."""
    plain, told = type(style)(), set()
    for names, is_idle, why in IDLE:
        for name in names:
            if name not in told and is_idle(style) and getattr(style, name) != getattr(plain, name):
                told.add(name)
                yield f"{name}: {why}, so it changes nothing"
    if style.bust_shape == "dart" and body.tried_on.fullness <= 0:
        yield "bust_shape: bust_fuller is not given, so there is no dart"
