"""Every garment in every size of three tables: drafted, laid on 45 and on 60 in cloth, verified.

python benchmarks/wardrobe.py [--only NAME]... [--effort E] [--every N]

Each line is a garment and a table: sizes drafted, sizes laid on both widths, yards of the middle size, and 60 in over
45 in on the mean of the sizes laid. A size that cannot be drafted or laid is named with the reason. `--every` lays each
N-th size only. The exit code is 1 if a marker does not hold.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

TABLES = ("women", "men", "children")
WIDTHS = (45, 60)


def row(name: str, table: str, effort: float, every: int) -> str:
    """How a garment does in the sizes of a table."""
    from pieces.body.sizes import find_table
    from pieces.errors import PieceError
    from pieces.garments import GARMENTS

    garment, sizes = GARMENTS[name], find_table(table).sizes if GARMENTS[name].measurements else ("",)
    drafted, refused, laid = 0, [], []
    for number, size in enumerate(sizes):
        body = find_table(table).body(size or find_table(table).sizes[0])
        try:
            pieces = garment.draft(body, garment.style())
        except PieceError as error:
            refused.append(f"{size}: {error}")
            continue
        pieces.check()
        drafted += 1
        if number % every == 0 or not size:
            found, reasons = lengths(name, body if size else None, effort)
            laid.append(found)
            refused += [f"{size or 'no size'}, {reason}" for reason in reasons]
    ratios = [found[60] / found[45] for found in laid if len(found) == 2]
    middle = laid[len(laid) // 2] if laid else {}
    yards = ", ".join(f"{width} in {mm / 914.4:.2f} yd" for width, mm in middle.items())
    mean = f"{statistics.mean(ratios):.3f}" if ratios else "none"
    told = (
        f"{name:17s} {table:9s} {drafted}/{len(sizes)} drafted, {len(ratios)}/{len(laid)} laid: {yards}; ratio {mean}"
    )
    return "\n".join([told, *(f"    {line}" for line in refused)])


def lengths(name: str, body: object, effort: float) -> tuple[dict[int, float], list[str]]:
    """The length of the shell's marker on each width, mm, every marker verified anew; and why a width will not do."""
    from nesting.verify import verify_asked
    from reports.ask.job import parse_job
    from reports.errors import ReportError
    from reports.plan.effort import Effort
    from reports.plan.plan import plan_job

    measures = body.measurements().items() if body else ()  # type: ignore[attr-defined]
    wearer = f'\nwearer = "{body.wearer}"' if body else ""  # type: ignore[attr-defined]
    text = f'garment = "{name}"\n' + (f"[body]{wearer}\n" if body else "")
    text += "".join(f'{key} = "{mm!r} mm"\n' for key, mm in measures)
    found, reasons = {}, []
    for width in WIDTHS:
        cloth = f'[[fabric]]\nwidth = "{width} in"\nselvedge = "1/2 in"\nspread = "best"\n'
        try:
            plan = plan_job(parse_job(text + cloth), Effort(effort), rib=False)
        except (ReportError, ValueError) as error:
            reasons.append(f"{width} in: {error}")
            continue
        for _, fabric in plan.markers:
            verify_asked(fabric.result.marker, fabric.asked)
            found[width] = fabric.result.marker.cloth_length
    return found, reasons


def main() -> int:
    """Print a line for each garment and table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", action="append")
    parser.add_argument("--effort", type=float, default=0.3)
    parser.add_argument("--every", type=int, default=3)
    given = parser.parse_args()
    from pieces.garments import GARMENTS

    failed = 0
    for name in given.only or GARMENTS:
        for table in TABLES if GARMENTS[name].measurements else TABLES[:1]:
            try:
                print(row(name, table, given.effort, given.every), flush=True)
            except Exception as error:
                failed += 1
                print(f"{name} {table} FAILED ({type(error).__name__}): {error}", flush=True)
    return bool(failed)


if __name__ == "__main__":
    sys.exit(main())
