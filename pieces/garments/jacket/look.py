"""What a rib jacket is called, and how it looks in front."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pieces.garments.jacket.style import JacketStyle

TITLE = "jacket with rib cuffs, hem and neck"
SKETCH = (
    "M40 10Q50 14 60 10L63 18Q50 26 37 18ZM43.5 11.2L41.5 19.8M47 11.8L46 21.5M53 11.8L54 21.5M56.5 11.2L58.5 19.8"
    "M37 18L24 24Q17 28 15 42L8 86M28 50L19 89M24 24Q31 37 28 50M28 50L29 94M8 86L19 89L17 99L6 96Z"
    "M10.8 86.8L8.8 96.8M13.5 87.5L11.5 97.5M16.2 88.2L14.2 98.2M63 18L76 24Q83 28 85 42L92 86M72 50L81 89"
    "M76 24Q69 37 72 50M72 50L71 94M92 86L81 89L83 99L94 96ZM89.2 86.8L91.2 96.8M86.5 87.5L88.5 97.5"
    "M83.8 88.2L85.8 98.2M29 94H71V106H29ZM50 12V106M32.5 94V106M36 94V106M39.5 94V106M43 94V106M46.5 94V106"
    "M53.5 94V106M57 94V106M60.5 94V106M64 94V106M67.5 94V106"
)
"""The front: neckband, sleeves with cuffs, zip, hem band."""


def jacket_title(style: JacketStyle) -> str:
    """What the jacket is called: rib is only named where there is some."""
    on_neck = {"band": "a rib neck", "collar": "a stand collar", "hood": "a hood"}[style.neckline]
    if style.ends == "rib" and style.neckline == "band":
        return TITLE
    return f"jacket with {style.ends} cuffs and hem, and {on_neck}"
