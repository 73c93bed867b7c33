"""The check sheet as a page: a test square, what each file holds, and what each piece measures in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import INCH, Units
from reports.draw.kit.sheet import GREY, LEADING, short_signs, shorten, text_width, wrap
from reports.paper.drawing import POINT, KeptDrawing
from reports.paper.size import parse_paper

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import date

    from reports.checksheet.counted import CountedFile, CountedPiece
    from reports.paper.size import Paper

RIM, SPACE = 14.0, 5.0
"""Around the page, and between its blocks, mm."""

SQUARE = 100.0
"""The side of the test square, mm: 10 cm."""

HEAD = (15.0, 13.0, 11.0, 9.0)
"""Sizes of type of its title, points: the largest that holds all of it."""

SMALL = 8.0
"""Size of type of what is read, points."""

ROW, LEAST_ROW = 4.6, 3.2
"""Height of a row of the table, and the least of one on a full page, mm."""

STEPS = (
    "Print this sheet at 100 %, with fit to page off. Each side of the square is 100 mm: measure it with a ruler.",
    "Open the file in your program. Measure one piece along its grainline and across: compare with the table below.",
    "If all is off by the same share, your program reads another unit: {share}.",
)

PRINTED = (
    STEPS[0],
    "Measure one piece on the print along its grainline and across: compare with the table below.",
    "If all is off by the same share, the printer scaled the print: print it again at 100 %.",
)
"""The steps where the file is a print."""

SHARES = {Units.INCHES: "25.4 for inches, 10 for centimetres", Units.METRIC: "10 for centimetres, 1000 for metres"}
"""What is said of units; a job in centimetres speaks of no inch."""

NARROW = ("piece, mm", "many", "length", "width", "cm²")
"""Heads where two tables stand side by side."""

FOOT = (
    "Counted from the files named above, read back by other code than wrote them. Length runs along the grainline, "
    "width across it. Area is what the cut line of one piece goes round, seam allowances and cutouts included. A half "
    "is drawn to its fold"
)

TWICE = ", and counts twice in the sum of areas"

ON_MARKER = (
    "Counted from the files named above, read back by other code than wrote them. Area is what the cut line of one "
    "piece goes round, cutouts included. A half lies on the fold."
)


def check_pages(title: str, made: date, files: Sequence[CountedFile], units: Units) -> tuple[Paper, list[KeptDrawing]]:
    """The pages of a check sheet, and their paper; one page, unless there are more pieces than it holds.

    Parameters
    ----------
    title
        What was exported.
    files
        As they were counted; the table is that of the first.
    """
    paper = parse_paper("letter" if units is Units.INCHES else "a4")
    wide, high = paper.width - 2 * RIM, paper.height
    page = KeptDrawing()
    y = high - RIM - 5
    head = f"Check sheet: {title}"
    size = next((size for size in HEAD if text_width(head, size, True) * POINT <= wide), HEAD[-1])
    page.text(RIM, y, shorten(head, size, wide / POINT, True), size, bold=True)
    y -= 6
    day = f"{made.day} {made:%B %Y}"
    page.text(RIM, y, shorten(f"{day}  ·  {', '.join(file.name for file in files)}", 9, wide / POINT), 9)
    top = y - SPACE
    steps = PRINTED if files[0].form.startswith("PDF") else STEPS
    bottom = min(_square(page, top, units, steps), _told(page, files, RIM + SQUARE + SPACE, top, wide - SQUARE - SPACE))
    rows, notes = list(_rows(files[0], units)), [_foot(files)]
    return paper, _table(page, title, rows, _notes_of_sizes(files[0]) + notes, (bottom - SPACE, paper))


def _square(page: KeptDrawing, top: float, units: Units, steps: Sequence[str]) -> float:
    """The test square, with how to check; how far down it goes."""
    x, low = RIM, top - SQUARE
    page.line([(x, low), (x + SQUARE, low), (x + SQUARE, top), (x, top)], 0.6, closed=True)
    page.text(x + SQUARE / 2, top - 8, "100 mm  =  10 cm", 12, bold=True, side="center")
    if units is Units.INCHES:
        page.text(x + SQUARE / 2, low + 4, f"{100 / INCH:.3f} in", 8, side="center")
    y = top - 16
    for number, words in enumerate(steps, 1):
        y = _paragraph(page, f"{number}. {words.format(share=SHARES[units])}", 9.0, x + 6, y, SQUARE - 12) - 2
    return low


def _told(page: KeptDrawing, files: Sequence[CountedFile], x: float, top: float, wide: float) -> float:
    """What each file holds; how far down it goes."""
    y = top - 3.5
    for file in files:
        page.text(x, y, shorten(file.name, 10, wide / POINT, True), 10, bold=True)
        y -= 4.6
        lines = [f"{file.form}; a unit is {file.unit}" if file.unit else f"{file.form}, at full scale", *file.holds]
        if file is not files[0]:
            lines.append(_apart(files[0], file))
        for words in filter(None, lines):
            y = _paragraph(page, words, SMALL, x, y, wide)
        y -= 2
    return y


def _apart(first: CountedFile, other: CountedFile) -> str:
    """How far the figures of two files of the same pieces are apart."""
    names = [short_signs(piece.name) for piece in first.pieces]
    if names != [short_signs(piece.name) for piece in other.pieces]:
        return f"other pieces than in {first.name}: {', '.join(piece.name for piece in other.pieces)}"
    pairs = list(zip(first.pieces, other.pieces, strict=True))
    off = max((max(abs(a.length - b.length), abs(a.width - b.width)) for a, b in pairs), default=0.0)
    counts = "" if all(a.many == b.many for a, b in pairs) else "; OTHER COUNTS"
    return f"the same pieces as in {first.name}: no side differs by more than {max(off, 0.01):.2f} mm{counts}"


def _paragraph(page: KeptDrawing, words: str, size: float, x: float, y: float, wide: float) -> float:
    for line in wrap(words, size, wide / POINT):
        page.text(x, y, line, size)
        y -= LEADING * size * POINT
    return y


def _rows(file: CountedFile, units: Units) -> Iterator[tuple[str, ...]]:
    """The table, line by line, with a line of sums."""
    inches = ("length in", "width in") if units is Units.INCHES else ()
    yield "piece", "how many", "length mm", "width mm", *inches, "area cm²"
    for piece in file.pieces:
        yield _row(piece, is_in_inches=bool(inches))
    if file.is_nest:
        return
    is_marker = _is_marker(file)
    is_told = all(piece.many for piece in file.pieces)
    many = sum(piece.many for piece in file.pieces)
    area = sum(piece.many * piece.area if is_marker else piece.whole for piece in file.pieces)
    pieces = f"{len(file.pieces)} piece{'s' * (len(file.pieces) != 1)}"
    yield (
        f"{pieces}, all that {'lies' if is_marker else 'is cut'}",
        str(many) if is_told else "?",
        "",
        "",
        *[""] * len(inches),
        f"{area / 100:.1f}" if is_told else "?",
    )


def _row(piece: CountedPiece, *, is_in_inches: bool) -> tuple[str, ...]:
    name = f"{piece.name} (half)" if piece.half else piece.name
    sides = (piece.length, piece.width)
    return (
        name,
        str(piece.many or "?"),
        *(f"{side:.1f}" for side in sides),
        *(f"{side / INCH:.2f}" for side in sides if is_in_inches),
        f"{piece.area / 100:.1f}",
    )


def _foot(files: Sequence[CountedFile]) -> str:
    if _is_marker(files[0]):
        return ON_MARKER
    return f"{FOOT}{'' if files[0].is_nest else TWICE}."


def _is_marker(file: CountedFile) -> bool:
    return any(words.startswith("a marker") for words in file.holds)


def _notes_of_sizes(file: CountedFile) -> list[str]:
    """What pieces measure in the smallest and the largest size, by the rules."""
    names = dict.fromkeys(one.name for one in file.sizes)
    told = [
        f"{name}: "
        + "; ".join(f"{one.size} {one.length:.1f} by {one.width:.1f} mm" for one in file.sizes if one.name == name)
        for name in names
    ]
    return [f"By the rules, length by width.  {'.  '.join(told)}."] if told else []


def _table(
    page: KeptDrawing, title: str, rows: Sequence[tuple[str, ...]], notes: Sequence[str], room: tuple[float, Paper]
) -> list[KeptDrawing]:
    """Write the table, in smaller type and beside itself where it would not end on the page; the pages it takes."""
    y, paper = room
    wide = paper.width - 2 * RIM
    foot = sum(len(wrap(words, 7.0, wide / POINT)) * LEADING * 7 * POINT + 1.5 for words in notes) + 3
    free = y - RIM - foot
    beside = 1 if free / len(rows) >= LEAST_ROW else 2
    step = max(LEAST_ROW, min(ROW, beside * free / (len(rows) + beside)))
    kept = rows if beside == 1 else [NARROW, *((*row[:4], row[-1]) for row in rows[1:])]
    pages, left = [page], list(kept[1:])
    while True:
        many = max(1, int((y - RIM - foot) / step) - 1)
        for number in range(beside):
            part, left = left[:many], left[many:]
            x = RIM + number * (wide + 2 * SPACE) / 2
            if part:
                _column(pages[-1], (kept[0], *part), (x, y), step, (wide - (beside - 1) * 2 * SPACE) / beside)
        if not left:
            break
        pages.append(KeptDrawing())
        y = paper.height - RIM - 5
        pages[-1].text(RIM, y, shorten(f"{title}, sheet {len(pages)}", 10, wide / POINT, True), 10, bold=True)
        y -= SPACE
    y = RIM + foot - 6
    for words in notes:
        y = _paragraph(pages[-1], words, 7.0, RIM, y, wide) - 1.5
    return pages


def _column(
    page: KeptDrawing, rows: Sequence[tuple[str, ...]], at: tuple[float, float], step: float, wide: float
) -> None:
    """Write rows below one another, the first and a line of sums in bold."""
    x, y = at
    size = min(SMALL, 0.62 * step / POINT)
    share = min(19.5, wide / (len(rows[0]) + 1.5))
    left = x + wide - share * (len(rows[0]) - 1)
    for number, (first, *figures) in enumerate(rows):
        bold = number == 0 or not any(figures[1:3])
        page.text(x, y - 0.72 * step, shorten(first, size, (left - x) / POINT, bold), size, bold=bold)
        for place, figure in enumerate(figures, 1):
            page.text(left + share * place, y - 0.72 * step, figure, size, bold=bold, side="right")
        y -= step
        page.line([(x, y), (x + wide, y)], 0.6 if bold else 0.3, colour="black" if bold else GREY)
