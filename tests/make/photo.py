"""Photos for tests: drawn here, nobody's."""

from __future__ import annotations

import io

from PIL import Image


def picture(colour: str = "peru", size: tuple[int, int] = (60, 40), form: str = "PNG") -> bytes:
    """A picture of one colour."""
    written = io.BytesIO()
    Image.new("RGB", size, colour).save(written, form)
    return written.getvalue()
