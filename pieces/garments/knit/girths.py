"""Girths of a body that a pulled-on top must pass, and those of the top that pass them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.body.girths import covered_girth, to_hip

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pieces.body.body import Body
    from pieces.body.ranges import Wearer
    from pieces.garments.knit.style import KnitStyle

SHOULDERS: Mapping[Wearer, float] = {"women": 2.521, "men": 2.545, "children": 2.521}
"""Round the shoulders and arms, over the width across the shoulder.

Means of ANSUR II (NATICK/TR-15/007, Gordon and others 2014), all soldiers: shoulder circumference 1028.2 and 1178.6 mm,
over the width that is kept of them, 407.8 and 463.05 mm. Children, of whom it has none, are given the women's.
"""

BELOW_HIP = 1.08
"""Length by default, over that from the neck point to the hip: common practice, no source."""

HIP_EASE = 1.03
"""Girth at waist or hip, as a share of it, where that is more than at the chest, at the most: common practice."""


def body_length(body: Body, style: KnitStyle) -> float:
    """Finished length from the neck point, mm: as asked, or a little below the hip; as a try-on has shown."""
    return (BELOW_HIP * to_hip(body) if style.length is None else style.length) + body.tried_on.length


def chest_girth(body: Body, style: KnitStyle) -> float:
    """Finished girth at the chest, mm."""
    share = style.shape.girth if style.girth_share is None else style.girth_share
    girth = body.bust * share if style.ease is None else body.bust + style.ease
    return girth + body.tried_on.ease


def hem_girth(body: Body, style: KnitStyle) -> float:
    """Finished girth of the shell at the hem, mm: wider than the chest where waist or hip ask for it."""
    chest = chest_girth(body, style)
    return max(chest, covered_girth(body, body_length(body, style)) * min(chest / body.bust, HIP_EASE))


def widest(body: Body) -> float:
    """The widest place that a top passes on its way down, mm: shoulders and arms, or the bust."""
    return max(body.bust, SHOULDERS[body.wearer] * body.across_shoulder)
