"""How long it takes to read files of many pieces, as `import` does; to write them, and to read that again.

Pictures are left out, check sheets are not.

python benchmarks/exchange.py [--pieces N] [--points N] [--repeats N]
"""

import argparse
import gc
import json
import logging
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import ezdxf
import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from pieces import Piece, PieceSet
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.read.reader import import_pieces
from pieces.units import Units
from reports.apart import OBJECTS
from reports.checksheet.files import write_check_sheets
from reports.export.files import write_pieces


def outline(number: int, points: int) -> list[tuple[float, float]]:
    """An egg that differs from piece to piece."""
    turns = np.linspace(0, 2 * np.pi, points, endpoint=False)
    return np.column_stack([300 * np.cos(turns), (150 + number % 90) * np.sin(turns)]).tolist()


def dxf(path: Path, version: str, outlines: list[list[tuple[float, float]]]) -> None:
    """Blocks by the conventions of ASTM D6673; R12 has an entity for every point."""
    document = ezdxf.new(version, units=4 if version != "R12" else 0)
    document.modelspace().add_text("UNITS: METRIC")
    for number, points in enumerate(outlines):
        block = document.blocks.new(f"P{number}")
        add = block.add_polyline2d if version == "R12" else block.add_lwpolyline
        add(points, close=True, dxfattribs={"layer": "1"})
        block.add_text(f"PIECE NAME: P{number}", dxfattribs={"layer": "1"})
        document.modelspace().add_blockref(f"P{number}", (0, 0))
    document.saveas(path)


def svg(path: Path, outlines: list[list[tuple[float, float]]]) -> None:
    """A path for each piece, side by side."""
    drawn = []
    for number, points in enumerate(outlines):
        across, down = 400 + 700 * (number % 30), 400 + 700 * (number // 30)
        drawn.append(
            f'<path id="P{number}" d="M' + " L".join(f"{x + across:.4f} {y + down:.4f}" for x, y in points) + ' Z"/>'
        )
    head = 'xmlns="http://www.w3.org/2000/svg" width="21000mm" height="24000mm" viewBox="0 0 21000 24000"'
    path.write_text(f"<svg {head}>{''.join(drawn)}</svg>", encoding="utf-8")


def curves(path: Path, outlines: list[list[tuple[float, float]]]) -> None:
    """A path of cubics for each piece, whose ends are every third point."""
    drawn = []
    for number, points in enumerate(outlines):
        move = f'transform="translate({400 + 700 * (number % 30)} {400 + 700 * (number // 30)})"'
        rest = " ".join(f"{x:.4f} {y:.4f}" for x, y in [*points[1:198], points[0]])
        drawn.append(f'<path id="P{number}" {move} d="M{points[0][0]:.4f} {points[0][1]:.4f} C{rest} Z"/>')
    head = 'xmlns="http://www.w3.org/2000/svg" width="21000mm" height="24000mm" viewBox="0 0 21000 24000"'
    path.write_text(f"<svg {head}>{''.join(drawn)}</svg>", encoding="utf-8")


def tables(folder: Path, outlines: list[list[tuple[float, float]]]) -> None:
    """CSV and JSON."""
    rows = (f"P{number},{x},{y}\n" for number, points in enumerate(outlines) for x, y in points)
    (folder / "pieces.csv").write_text("piece,x mm,y mm\n" + "".join(rows), encoding="utf-8")
    named = {f"P{number}": points for number, points in enumerate(outlines)}
    (folder / "pieces.json").write_text(json.dumps({"unit": "mm", "pieces": named}), encoding="utf-8")


def main() -> None:
    """Write each form, read it a few times, and print a table of the least times."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=1000)
    parser.add_argument("--points", type=int, default=200)
    parser.add_argument("--repeats", type=int, default=3)
    args = parser.parse_args()
    gc.set_threshold(OBJECTS)  # as the command does
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    outlines = [outline(number, args.points) for number in range(args.pieces)]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for version in ("R2000", "R12"):
            dxf(folder / f"{version}.dxf", version, outlines)
        svg(folder / "pieces.svg", outlines)
        curves(folder / "curves.svg", outlines)
        tables(folder, outlines)
        print("| file | MB | s | processor s |")
        print("|---|---|---|---|")
        for file in sorted(folder.iterdir()):
            timed(file, partial(read, file, args.pieces), args.repeats)
        drawn = [Piece.from_polygon(points, f"P{n}", unit="mm", seam="10 mm") for n, points in enumerate(outlines)]
        for form in ("dxf", "svg", "json", "csv"):
            file = folder / f"written.{form}"
            timed(file, partial(write_pieces, PieceSet("many", tuple(drawn)), [file]), args.repeats, "written")
            if form in ("dxf", "svg"):
                timed(file, partial(write_check_sheets, "many", [file], Units.METRIC), args.repeats, "its check sheet")
            timed(file, partial(read, file, args.pieces), args.repeats)


def read(file: Path, pieces: int) -> None:
    """Read a file as `import` does."""
    units = "mm" if file.suffix == ".geojson" else None
    assert len(import_pieces(file, ReadingChoices(units)).pieces) == pieces


def timed(file: Path, work: Callable[[], object], repeats: int, what: str = "read") -> None:
    """Print the least times of some work."""
    took, busy = [], []
    for _ in range(repeats):
        began, at_work = time.monotonic(), time.process_time()
        work()
        took.append(time.monotonic() - began)
        busy.append(time.process_time() - at_work)
    print(f"| {file.name}, {what} | {file.stat().st_size / 1e6:.1f} | {min(took):.2f} | {min(busy):.2f} |", flush=True)


if __name__ == "__main__":
    main()
