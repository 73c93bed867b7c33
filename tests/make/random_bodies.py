"""Random bodies, styles and corrections for a jacket, to Hypothesis."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from pieces.body.corrections import CORRECTIONS, corrections_of
from pieces.body.ranges import usual_range
from pieces.body.rules import RULES
from pieces.garments import JacketStyle
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces.body.ranges import Wearer

INCH = 25.4

CHOICES: dict[str, tuple[Any, ...]] = {
    "closure": ("buttons", "zip", "none"),
    "facing": ("separate", "grown-on", "none"),
    "back": ("fold", "seam"),
    "side": ("shaped", "straight"),
    "band_rule": ("subtract", "share"),
    "tab_width": (0.0, 3 * INCH),
    "fit": ("close", "regular", "loose"),
    "allowances": ("one", "home", "trade"),
    "back_facing": ("none", "facing"),
    "lining": ("none", "full"),
    "interfacing": ("none", "cut"),
    "pockets": ("none", "patch", "side-seam", "welt"),
    "hanger_loop": ("none", "loop"),
    "bust_shape": ("ease", "dart"),
    "yoke": ("none", "back"),
    "sleeve_pieces": ("one", "two"),
    "ends": ("rib", "elastic"),
    "neckline": ("band", "collar", "hood"),
}


def bodies(wearer: Wearer) -> st.SearchStrategy[dict[str, Any]]:
    """Measurements, each anywhere in its usual range."""
    names = ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist", "arm_length")
    spans = {name: usual_range(wearer, name) for name in names}
    usual: dict[Any, Any] = {name: st.floats(span.low, span.high) for name, span in spans.items()}
    return st.fixed_dictionaries(
        usual,
        optional={name: st.floats(*usual_range(wearer, name)[1:3]) for name in ("armhole_depth", *RULES)},
    )


STYLES = st.builds(
    lambda **asked: JacketStyle(**in_mm(asked)),
    length=st.floats(15 * INCH, 40 * INCH),
    ease=st.floats(0, 10 * INCH),
    seam=st.floats(5, 20),
    drop_shoulder=st.floats(0, 3 * INCH),
    rib_depth=st.floats(INCH, 5 * INCH),
    closure=st.sampled_from(CHOICES["closure"]),
    facing=st.sampled_from(CHOICES["facing"]),
    back=st.sampled_from(CHOICES["back"]),
    side=st.sampled_from(CHOICES["side"]),
    band_rule=st.sampled_from(CHOICES["band_rule"]),
    fit=st.sampled_from(CHOICES["fit"]),
    allowances=st.sampled_from(CHOICES["allowances"]),
    back_facing=st.sampled_from(CHOICES["back_facing"]),
    lining=st.sampled_from(CHOICES["lining"]),
    interfacing=st.sampled_from(CHOICES["interfacing"]),
    pockets=st.sampled_from(CHOICES["pockets"]),
    hanger_loop=st.sampled_from(CHOICES["hanger_loop"]),
    bust_shape=st.sampled_from(CHOICES["bust_shape"]),
    yoke=st.sampled_from(CHOICES["yoke"]),
    sleeve_pieces=st.sampled_from(CHOICES["sleeve_pieces"]),
    ends=st.sampled_from(CHOICES["ends"]),
    neckline=st.sampled_from(CHOICES["neckline"]),
)
TRIED = st.dictionaries(st.sampled_from(sorted(CORRECTIONS)), st.floats(0, 40), max_size=4).map(corrections_of)
