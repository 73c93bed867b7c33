"""How far things may be off."""

TOLERANCE = 0.01
"""What may be off, mm, as a depth: how far an outline may differ from its piece's, reach into another or beyond the
cloth, or lie off a fold or a line of the pattern. Ten times the rounding of a layout (a micrometre or so), and a tenth
of what the finest pen draws."""
