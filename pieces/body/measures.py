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
    """

    how: str
    term: str
    clause: str
    tape: str

    @property
    def standard(self) -> str:
        """The standard's name for it, for people."""
        return f"ISO 8559-1 {self.clause}, {self.term}" if self.clause else "not in ISO 8559-1 as used here"


MEASURES: Mapping[str, Measure] = {
    "bust": Measure("round the fullest part of the chest", "bust girth", "5.3.4", "M72 119Q110 133 148 119"),
    "hip": Measure("round the fullest part of the seat", "hip girth", "5.3.13", "M69 207Q110 222 151 207"),
    "across_shoulder": Measure(
        "from shoulder point to shoulder point, across the back",
        "across-back shoulder",
        "5.4.3",
        "M74 81Q110 71 146 81",
    ),
    "neck": Measure(
        "round the base of the neck, where a collar seam lies: not round its middle, where a shirt collar is read",
        "neck base girth",
        "5.3.3",
        "M99 72Q110 86 121 72",
    ),
    "upper_arm": Measure(
        "round the fullest part of the upper arm", "upper arm girth", "5.3.16", "M55 122Q62 128 70 125"
    ),
    "wrist": Measure(
        "round the hand or the wrist, comfortably loose: the length the cuff should close to",
        "",
        "",
        "M38 210Q42 216 47 213",
    ),
    "arm_length": Measure(
        "from the shoulder point to the wrist, with the arm slightly bent",
        "outer arm length",
        "5.7.8",
        "M150 79C163 84 168 100 171 121L181 177L188 210",
    ),
    "armhole_depth": Measure(
        "from the shoulder point straight down to under the arm; if left out, worked out from the bust",
        "",
        "",
        "M146 82V118",
    ),
}
"""All that a `pieces.body.body.Body` is measured by."""
