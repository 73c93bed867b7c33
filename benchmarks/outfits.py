"""How many random outfits hold: ``python benchmarks/outfits.py --outfits 1000``.

An outfit is one to three garments of the wardrobe, of sizes of all tables and in random styles, laid together on random
cloth and judged by `nesting.verify` from what was asked. Failures are named by their seeds; the exit code is 1 if there
are any.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.judged import judge_all

if __name__ == "__main__":
    sys.exit(judge_all(__doc__, "outfits", 1000, "tests.make.outfits", "try_outfit"))
