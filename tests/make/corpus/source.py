"""Sheets as SVG of our own, in several ways of writing: what editors and converters are given to open."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import TYPE_CHECKING, Literal

from tests.make.corpus.flat import UNMOVED, Matrix, at_end, numbers
from tests.make.corpus.known import PAGE, SHEETS, Drawn

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.make.corpus.flat import Step
    from tests.make.corpus.known import Known, Sheet

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    ' xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" version="1.1"'
)

NUMBER_OF = {"mm": 1.0, "cm": 0.1, "in": 1 / 25.4, "pt": 72 / 25.4, "px": 96 / 25.4}
"""How many of a unit a millimetre has; pixels are those of CSS."""


@dataclass(frozen=True)
class Style:
    """How a sheet is written.

    Parameters
    ----------
    unit
        What its numbers count.
    names
        Where a piece's name stands: an ``id``, a label of an editor, a group round all of it, or a ``<title>``.
    is_placed
        Whether pieces stand in their own frame and are brought to their place by nested transforms.
    copies
        Whether pieces stand in ``<defs>``, or in a ``<symbol>``, and are shown by ``<use>``.
    look
        Whether the look is told by attributes, by a style or by a class.
    drawn
        Whether an outline is one path; a path for each of its steps, every other one backwards; or is drawn twice, as
        an area without a line and as a line.
    is_clipped
        Whether a clip path as large as the page lies round everything.
    """

    unit: Literal["mm", "cm", "in", "pt", "px"] = "mm"
    names: Literal["id", "label", "group", "title", "layer", ""] = "id"
    is_placed: bool = False
    copies: Literal["", "defs", "symbol"] = ""
    look: Literal["attributes", "style", "class"] = "attributes"
    is_clipped: bool = False
    drawn: Literal["whole", "steps", "twice"] = "whole"
    paint: str = "none"
    dashes: str = ""


def shown(value: float) -> str:
    """A number as short as it can be without a loss that matters."""
    return f"{value:.5f}".rstrip("0").rstrip(".")


def path_data(steps: Sequence[Step], is_closed: bool, scale: float = 1.0, height: float = 0.0) -> str:
    """A line as the ``d`` of a path; with a height, y runs downwards from there."""
    way = -1.0 if height else 1.0

    def at(x: float, y: float) -> str:
        return f"{shown(x * scale)} {shown((height + way * y) * scale)}"

    found: list[str] = []
    for step in steps:
        values = numbers(step)
        if step[0] in ("M", "L"):
            found.append(f"{step[0]} {at(*values)}")
        elif step[0] == "C":
            found.append("C " + ", ".join(at(*values[i : i + 2]) for i in (0, 2, 4)))
        elif step[0] == "A":
            cx, cy, r, start, end = values
            x, y = cx + r * cos(radians(end)), cy + r * sin(radians(end))
            sweep = int((end > start) == (way > 0))
            found.append(f"A {shown(r * scale)} {shown(r * scale)} 0 {int(abs(end - start) > 180)} {sweep} {at(x, y)}")
        else:
            cx, cy, rx, ry, turn = values
            dx, dy = rx * cos(radians(turn)), rx * sin(radians(turn))
            arc = f"A {shown(rx * scale)} {shown(ry * scale)} {shown(way * turn)} 0 1"
            found.append(f"M {at(cx + dx, cy + dy)} {arc} {at(cx - dx, cy - dy)} {arc} {at(cx + dx, cy + dy)}")
    return " ".join(found) + (" Z" if is_closed else "")


def _look(style: Style) -> str:
    wide = shown(0.5 * NUMBER_OF[style.unit])
    dashes = f";stroke-dasharray:{style.dashes}" if style.dashes else ""
    if style.look == "class":
        return 'class="line"'
    if style.look == "style":
        return f'style="fill:{style.paint};stroke:#000000;stroke-width:{wide}{dashes}"'
    more = f' stroke-dasharray="{style.dashes}"' if style.dashes else ""
    return f'fill="{style.paint}" fill-rule="evenodd" stroke="black" stroke-width="{wide}"{more}'


def _shape(lines: Sequence[Drawn], style: Style, names: str, height: float) -> str:
    scale = NUMBER_OF[style.unit]
    if style.drawn == "steps":
        paths = [path_data(part, False, scale, height) for line in lines for part in _parts(line)]
        return "".join(f'<path d="{data}" {_look(style)}/>' for data in paths)
    steps = " ".join(path_data(line.steps, line.is_closed, scale, height) for line in lines)
    found = f'<path {names}d="{steps}" {_look(style)}/>'
    if style.drawn == "twice":
        return f'<path d="{steps}" fill="#ddeeff" fill-rule="evenodd" stroke="none"/>{found}'
    return found


def _parts(line: Drawn) -> list[tuple[Step, ...]]:
    """The steps of a line one by one, every other one of the straight ones and the curves backwards."""
    found: list[tuple[Step, ...]] = []
    here = (0.0, 0.0)
    for number, step in enumerate(line.steps):
        end, values = at_end(step), numbers(step)
        if step[0] == "E":
            found.append((step,))
        elif step[0] != "M" and number % 2 and step[0] in ("L", "C"):
            back: Step = ("L", *here) if step[0] == "L" else ("C", *values[2:4], *values[0:2], *here)
            found.append((("M", *end), back))
        elif step[0] != "M":
            found.append((("M", *here), step))
        here = end
    return found


def _named(name: str, style: Style) -> str:
    if not name or style.names in ("", "group", "layer"):
        return ""
    return f'id="{name}" ' if style.names == "id" else f'inkscape:label="{name}" ' if style.names == "label" else ""


def _words(line: Drawn, style: Style) -> str:
    scale = NUMBER_OF[style.unit]
    x, y = numbers(line.steps[0])
    size = shown(line.size * scale)
    where = f'x="{shown(x * scale)}" y="{shown((PAGE[1] - y) * scale)}"'
    return f'<text {where} font-size="{size}" font-family="sans-serif">{line.words}</text>'


def _of_piece(known: Known, matrix: Matrix, sheet: Sheet, style: Style) -> str:
    """All of a piece, in a group of its own if that bears its name."""
    place = UNMOVED if style.is_placed else matrix
    height = 0.0 if style.is_placed else PAGE[1]
    lines = known.drawn(place, sheet.parts)
    outline = [line for line in lines if line.part in ("cut", "hole")]
    inside = _shape(outline, style, _named(known.name, style), height)
    if style.names == "title":
        inside = inside.replace("/>", f"><title>{known.name}</title></path>")
    for line in lines:
        if line not in outline:
            layer = f'class="{line.part}" ' if style.look != "class" else ""
            inside += _shape([line], style, layer, height)
    name = f' id="{known.name}"' if style.names == "group" else ""
    return _transformed(inside, matrix, style, name) if style.is_placed else f"<g{name}>{inside}</g>"


def _transformed(inside: str, matrix: Matrix, style: Style, name: str) -> str:
    """A group in a group: the page turned over, then the matrix in the numbers of the file."""
    scale = NUMBER_OF[style.unit]
    a, b, c, d, e, f = matrix
    turned = f"matrix({' '.join(shown(value) for value in (a, b, c, d, e * scale, f * scale))})"
    upside = f"translate(0 {shown(PAGE[1] * scale)}) scale(1 -1)"
    return f'<g transform="{upside}"><g{name} transform="{turned}">{inside}</g></g>'


def _copied(sheet: Sheet, style: Style) -> str:
    """Pieces as templates, and a copy of each."""
    found, scale = [], NUMBER_OF[style.unit]
    for known, matrix in sheet.pieces:
        shape = _shape(known.drawn(UNMOVED), style, "", 0.0)
        tag = "symbol" if style.copies == "symbol" else "defs"
        look = ' overflow="visible"' if tag == "symbol" else ""
        inner = shape if tag == "symbol" else f'<g id="{known.name}">{shape}</g>'
        name = f' id="{known.name}"' if tag == "symbol" else ""
        found.append(f"<{tag}{name}{look}>{inner}</{tag}>")
        a, b, c, d, e, f = matrix
        # The page's y runs down: the copy is turned over with it.
        moved = [a, -b, c, -d, e * scale, (PAGE[1] - f) * scale]
        place = f"matrix({' '.join(map(shown, moved))})"
        found.append(f'<use xlink:href="#{known.name}" transform="{place}"/>')
    return "".join(found)


def _layers(sheet: Sheet, style: Style) -> str:
    """A layer of an editor for each part."""
    found = ""
    for part in sheet.parts:
        inside = ""
        for known, matrix in sheet.pieces:
            for line in known.drawn(matrix, (part,)):
                name = f'id="{known.name}" ' if part == "cut" else ""
                inside += _shape([line], style, name, PAGE[1])
        found += f'<g inkscape:groupmode="layer" id="layer-{part}" inkscape:label="{part}">{inside}</g>'
    return found


def svg_of(sheet_name: str, style: Style | None = None) -> str:
    """A sheet as SVG."""
    style, sheet = style or Style(), SHEETS[sheet_name]
    wide, high = (side * NUMBER_OF[style.unit] for side in PAGE)
    size = f'width="{shown(wide)}{style.unit}" height="{shown(high)}{style.unit}"'
    more = f"<style>.line {{ fill: {style.paint}; stroke: black }}</style>" if style.look == "class" else ""
    more += "".join(_shape([line], style, "", PAGE[1]) for line in sheet.more if line.part == "frame")
    if style.names == "layer":
        inside = _layers(sheet, style)
    elif style.copies:
        inside = _copied(sheet, style)
    else:
        inside = "".join(_of_piece(known, matrix, sheet, style) for known, matrix in sheet.pieces)
    more += "".join(_words(line, style) for line in sheet.more if line.part == "words")
    if style.is_clipped:
        box = f'<rect width="{shown(wide)}" height="{shown(high)}"/>'
        inside = f'<defs><clipPath id="c1">{box}</clipPath></defs><g clip-path="url(#c1)">{inside}</g>'
    return f'{HEAD} {size} viewBox="0 0 {shown(wide)} {shown(high)}">{more}{inside}</svg>\n'
