"""Options of a jacket that change nothing, as they say how something is made that is not asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.garments.idle import idle_by

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.idle import Idle
    from pieces.garments.jacket.style import JacketStyle

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
    (("centre_seam",), lambda style: style.back == "fold", "the back has no seam"),
    (("front_seam",), lambda style: style.facing == "grown-on", "the front edge is a fold"),
    (("front_seam",), lambda style: _is_in_extension(style), "the zip takes all of front_extension"),
    (("front_extension",), lambda style: style.closure == "none", "nothing closes the front"),
    (
        ("front_extension",),
        lambda style: style.closure == "zip" and style.facing == "grown-on",
        "the zip is sewn under the fold",
    ),
    (
        ("swatch_relaxed", "swatch_stretched"),
        lambda style: style.ends == "elastic" and style.neckline != "band",
        "no band is of rib",
    ),
    (("interfacing",), lambda style: not _is_faced(style), "no piece is interfaced"),
)
"""Options by what makes them idle, and the words for it."""


def _is_in_extension(style: JacketStyle) -> bool:
    return style.closure == "zip" and (style.front_seam or 0.0) <= style.front_extension


def _is_faced(style: JacketStyle) -> bool:
    """Whether there is a facing, a welt, a tab, a collar, or a front edge with buttons, all of which are interfaced."""
    return (
        style.facing == "separate"
        or style.pockets == "welt"
        or style.tab_width > 0
        or style.neckline == "collar"
        or style.closure == "buttons"
    )


def idle_options(body: Body, style: JacketStyle) -> Iterator[str]:
    """A line for each option that was set and changes nothing, once."""
    yield from idle_by(style, IDLE)
    if style.bust_shape == "dart" and body.tried_on.fullness <= 0:
        yield "bust_shape: bust_fuller is not given, so there is no dart"
