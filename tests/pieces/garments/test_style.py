"""Options of any garment's style, read and refused."""

from __future__ import annotations

from typing import Any, Literal

import pytest

from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.garments.style import GarmentStyle
from pieces.length import mm


class Plain(GarmentStyle):
    """A style with an option of each kind."""

    length: Mm = option(600.0, "finished length", least=ABOVE_NOTHING)
    hem: MmOrNone = option(None, "hem allowance", least=0)
    ease: Mm = option(0.0, "room, or less than none")
    closure: Literal["zip", "none"] = option("zip", "how it closes", "choice")


def test_what_makes_sense_is_kept() -> None:
    """Lengths in mm, also negative ones where an option allows them."""
    style = Plain(length="60 cm", ease=mm(-20))
    assert (style.length, style.hem, style.ease, style.closure) == (600.0, None, -20.0, "zip")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"length": "0 cm"}, "^length must be more than 0$"),
        ({"hem": mm(-1)}, "^hem must be 0 or more$"),
        ({"length": "30 m"}, "^length of 1181 1/8 in \\(30000 mm\\) is not a plausible size"),
        ({"closure": "hook"}, "^closure must be one of zip, none, not the text 'hook'$"),
    ],
)
def test_what_makes_none_is_refused(given: dict[str, Any], said: str) -> None:
    """Each in one line that names the option."""
    with pytest.raises(DraftError, match=said) as raised:
        Plain(**given)
    assert raised.value.about in given
