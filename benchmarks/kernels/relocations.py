"""Full relocations a second and a core: one outline against all others, over the whole strip, in all its ways.

python benchmarks/kernels/relocations.py INSTANCE [CELLS]
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from benchmarks.density import load
from nesting.search.fill import fill, orders
from nesting.search.separate import Separation
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes


def main() -> None:
    """Separate a squeezed first layout over and over for five seconds, and print moves over processor time."""
    problem = load(Path(sys.argv[1]))
    cells = int(sys.argv[2]) if len(sys.argv) > 2 else 80
    shapes = Shapes(problem)
    nofit = NoFit(shapes)
    start = fill(shapes, nofit, next(orders(shapes, 0)))
    separation = Separation(shapes, nofit, cells, 0)

    def once() -> None:
        layout = start.copy()
        layout.length *= 0.94
        layout.x *= 0.94
        for _ in separation.run(layout):
            pass

    once()
    before, began = separation.relocations, time.process_time()
    while time.process_time() - began < 5:
        once()
    rate = (separation.relocations - before) / (time.process_time() - began)
    print(f"{problem.name}: {rate:,.0f} full relocations a second, {cells} cells across")


if __name__ == "__main__":
    main()
