"""What each measurement of a body is: where the tape runs, and which measurement of ISO 8559-1 it is.

The one definition for everyone who asks, gives, holds or uses it: the page, job files, tables of sizes, plausible
ranges, drafts. Terms and clauses of ISO 8559-1:2017 were read second-hand, not in the standard itself. How the tape is
held is common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping


class Measure(NamedTuple):
    """A measurement of a body.

    Parameters
    ----------
    how
        Where the tape runs.
    term, clause
        What ISO 8559-1 calls it, and where; empty where it has none, or ours is another.
    tape
        Where the tape runs on the figure that `pieces.body.figure` draws: an SVG path.
    at
        Where its number stands beside that.
    is_behind
        Whether the tape runs down or across the back.
    """

    how: str
    term: str
    clause: str
    tape: str
    at: tuple[float, float]
    is_behind: bool = False

    @property
    def standard(self) -> str:
        """The standard's name for it, for people."""
        return f"ISO 8559-1 {self.clause}, {self.term}" if self.clause else "not in ISO 8559-1 as used here"


MEASURES: Mapping[str, Measure] = {
    "bust": Measure("round the fullest part of the chest", "bust girth", "5.3.4", "M72 119Q110 133 148 119", (63, 123)),
    "hip": Measure("round the fullest part of the seat", "hip girth", "5.3.13", "M69 207Q110 222 151 207", (62, 224)),
    "across_shoulder": Measure(
        "from shoulder point to shoulder point, across the back",
        "across-back shoulder",
        "5.4.3",
        "M74 81Q110 71 146 81",
        (67, 80),
        is_behind=True,
    ),
    "neck": Measure(
        "round the base of the neck, where a collar seam lies: not round its middle, where a shirt collar is read",
        "neck base girth",
        "5.3.3",
        "M99 72Q110 86 121 72",
        (107, 95),
    ),
    "upper_arm": Measure(
        "round the fullest part of the upper arm", "upper arm girth", "5.3.16", "M55 122Q62 128 70 125", (46, 124)
    ),
    "wrist": Measure(
        "round the hand or the wrist, comfortably loose: the length the cuff should close to",
        "",
        "",
        "M38 210Q42 216 47 213",
        (29, 213),
    ),
    "arm_length": Measure(
        "from the shoulder point to the wrist, with the arm slightly bent",
        "outer arm length",
        "5.7.8",
        "M150 79C163 84 168 100 171 121L181 177L188 210",
        (186, 220),
        is_behind=True,
    ),
    "armhole_depth": Measure(
        "how deep the armhole shall be, from the shoulder point straight down; if left out, by the fit and the bust",
        "",
        "",
        "M146 82V118",
        (152, 100),
    ),
    "nape_to_armhole": Measure(
        "from the nape straight down to the line under the arm: lay a ruler under the arm, level",
        "",
        "",
        "M106 71V119M72 119H148",
        (98, 108),
        is_behind=True,
    ),
    "waist": Measure(
        "round the middle, where a string tied round it settles",
        "waist girth",
        "5.3.10",
        "M80 161Q110 173 140 161",
        (67, 165),
    ),
    "nape_to_waist": Measure(
        "from the nape, the bone that stands out when the head bends forward, down the back to the string",
        "back neck to waist",
        "5.4.5",
        "M114 71V161",
        (116, 172),
        is_behind=True,
    ),
    "front_length": Measure(
        "from the neck point, where neck and shoulder meet, over the fullest part of the bust to the string",
        "",
        "",
        "M121 71Q132 118 128 163",
        (125, 180),
    ),
    "back_width": Measure(
        "across the back from arm to arm, halfway down the armhole, with the arms a little forward",
        "",
        "",
        "M79 98H141",
        (68, 101),
        is_behind=True,
    ),
    "chest_width": Measure(
        "across the front from arm to arm, halfway down the armhole", "", "", "M81 100H139", (70, 103)
    ),
    "shoulder_slope": Measure(
        "how far the shoulder point lies below the neck point: lay a ruler level on it, and measure down",
        "",
        "",
        "M99 71H74V81",
        (66, 76),
    ),
    "crotch_depth": Measure(
        "sitting, from the string straight down to the seat of the chair, at the side",
        "",
        "",
        "M141 161V224",
        (143, 235),
        is_behind=True,
    ),
    "hip_depth": Measure(
        "at the side, from the string down to the line of the hip", "", "", "M155 161V207", (157, 187)
    ),
    "inside_leg": Measure(
        "from the crotch down the inside of the leg to the floor, without shoes",
        "",
        "",
        "M110 234V298",
        (112, 270),
    ),
    "thigh": Measure(
        "round the fullest part of the thigh", "thigh girth", "5.3.20", "M71 246Q88 254 107 244", (60, 252)
    ),
    "head": Measure("round the head, above the brows", "", "", "M92 32Q110 41 128 32", (82, 36)),
}
"""All that a `pieces.body.body.Body` is measured by."""
