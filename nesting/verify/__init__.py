"""Whether a marker gives what was asked for: begun from the pieces as drafted and the cloth, by shapely alone.

`nesting.marker.opinion.check` takes the layout problem as it was put. Here nothing is taken: how often each hand is
wanted, in
which layers the cloth lies and what each of them gives are worked out anew, and only the outlines in place are judged.
It shares no line with what makes problems and markers.
"""

from __future__ import annotations

from nesting.tolerance import TOLERANCE
from nesting.verify.asked import Asked, Flaw
from nesting.verify.laid import Claims, Laid, LaidMarker, Strip, Told
from nesting.verify.verdict import Holds, holding, verify, verify_asked

__all__ = [
    "TOLERANCE",
    "Asked",
    "Claims",
    "Flaw",
    "Holds",
    "Laid",
    "LaidMarker",
    "Strip",
    "Told",
    "holding",
    "verify",
    "verify_asked",
]
