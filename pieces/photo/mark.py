"""A mark on paper: what it is taken for, how sure that is, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MarkKind = Literal["grain", "fold", "sew line", "dart", "inner line", "notch", "drill point", "writing", "crease"]

MarkSure = Literal["sure", "likely", "unsure"]


@dataclass(frozen=True, eq=False)
class PaperMark:
    """A mark on paper.

    Parameters
    ----------
    points
        A line's points, the tip of a dart between its legs; a grainline's two ends; one point of a notch, on the edge;
        of writing the corners of its box.
    why
        By what it is taken for that.
    """

    kind: MarkKind
    points: Floats
    sure: MarkSure
    why: str
    is_ring: bool = False

    def to_plain(self) -> dict[str, Any]:
        """The mark for machines: where it lies on the table, mm, in the frame of the sheet."""
        return {
            "kind": self.kind,
            "sure": self.sure,
            "why": self.why,
            "is_closed": self.is_ring,
            "points": [[round(x, 3), round(y, 3)] for x, y in self.points.tolist()],
        }
