"""Options that change nothing: each is named."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces.garments import JacketStyle
from pieces.garments.jacket.idle import idle_options
from pieces.length import mm

if TYPE_CHECKING:
    from pieces import Body


def test_each_idle_option_is_named_once(body: Body) -> None:
    """What is at its default is not told; what is set and idle is, once, with the reason."""
    assert list(idle_options(body, JacketStyle())) == []
    asked = JacketStyle(
        neckline="hood", collar_height=mm(60), neck_less=mm(30), cuff_share=0.7, facing="none", facing_width=mm(50)
    )
    named = [line.partition(":")[0] for line in idle_options(body, asked)]
    assert named == ["collar_height", "facing_width", "cuff_share", "neck_less"]
    used = replace(
        asked, neckline="collar", facing="separate", band_rule="share", neck_less=mm(JacketStyle().neck_less)
    )
    assert list(idle_options(body, used)) == []
