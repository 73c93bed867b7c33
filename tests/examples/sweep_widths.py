"""Two pairs of panels on cloth of several widths, open and folded: which takes least, as a table."""

from nesting import Fabric, MaxIterations, sweep
from pieces import Piece

panel = Piece.from_polygon([(0, 0), (60, 0), (60, 35), (0, 45)], "panel", unit="cm", pair=True, cut=4)
widths = ["40 cm", "90 cm", "110 cm", "150 cm"]
rows = sweep([panel], Fabric("twill", width="1 m"), ["open", "folded"], lambda: MaxIterations(20), widths=widths)
for row in rows:
    print(row["width_mm"], row["spread"], row["length_mm"] if not row["refused"] else row["refused"])
