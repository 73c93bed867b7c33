"""What may be asked of many markers, in the words of the options: light, for the command line reads it at its start."""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

SpreadAsked = Literal["best", "open", "folded", "double-folded"]

TubeAsked = Literal["lay_flat", "opened"]
"""Which of a tube's two widths is given."""

NapAsked = Literal["both", "with", "without"]

FileUnit = Literal["mm", "cm", "m", "in", "ft", "yd", "px"]
"""What a number in a file of patterns counts."""

UnitsAsked = Literal["in", "cm"]
"""How lengths are written."""


NotchShape = Literal["slit", "v", "t"]
"""How a notch is cut at the edge."""


CurveShape = Literal["polylines", "splines"]
"""How a curve is written in DXF: as many short chords, or as itself."""


class What(StrEnum):
    """What is exported; where several may be asked for, typer takes no Literal."""

    PIECES = "pieces"
    MARKERS = "markers"


class Printable(StrEnum):
    """What is printed: pieces, markers or a dossier of a job, or the reference sheet for photos, which needs none."""

    PIECES = "pieces"
    MARKERS = "markers"
    DOSSIER = "dossier"
    REFERENCE = "reference"


class FileForm(StrEnum):
    """The form of a file, which is also the ending of its name."""

    DXF = "dxf"
    SVG = "svg"
    JSON = "json"
    CSV = "csv"
