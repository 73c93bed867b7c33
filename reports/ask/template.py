"""The files that a person starts from: a job or an order, commented, for any garment."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

from pieces.body.measures import MEASURES
from pieces.body.ranges import usual_range
from pieces.body.rules import RULES, lacking, measured_or_usual, to_measure
from pieces.body.sizes import find_table
from pieces.length import Length
from pieces.units import INCH, Units, format_exact, format_size

if TYPE_CHECKING:
    from collections.abc import Iterator
    from dataclasses import Field

    from pieces import Body
    from pieces.garments import Garment
    from pieces.piece.piece import Material

COMMENT, LINE = 36, 120
"""Where comments begin, and where a line ends, in signs."""

TABLE, SIZE = "women-letters", "M"
"""The size whose measurements a job starts with."""

OPENING = re.compile(r"^(?=(?:# )?\[)", re.MULTILINE)
"""Here a table of the file begins, in a comment or not."""

ASKED = re.compile(r"^garment = .*?(?=^units = )", re.MULTILINE | re.DOTALL)
"""The lines that say what is made."""

ORDERED = re.compile(r"\{ XS = .*\}")
"""How many of each size."""

BESIDE: dict[Material, tuple[str, str]] = {"lining": ("45 in", "6.80 / yd"), "interfacing": ("36 in", "4.50 / yd")}
"""Width and price of cloths for a garment that is lined or interfaced by default: examples."""

WORK = """\
[[operation]]                       # minutes for each garment, at the rate of [pricing]
name = "sewing"
minutes = 45

"""
"""The labour of an order that is not the model case: an example."""


def template(name: str = "job") -> str:
    """The text of the commented job of the model case, the rib jacket, or of its order (``"order"``)."""
    return (files("reports") / "templates" / f"{name}.toml").read_text(encoding="utf-8")


def starting_job(garment: Garment) -> str:
    """The text of a commented job of a garment; it needs no change to be answered."""
    text = template()
    if _is_of(text, garment):
        return text
    head, *tables = OPENING.split(text)
    return _joined(garment, head, tables).replace("rust canvas", "cloth")


def starting_order(garment: Garment) -> str:
    """The text of a commented order of a garment; it needs no change to be answered."""
    text = template("order")
    if _is_of(text, garment):
        return text
    head, *tables = OPENING.split(text)
    at = next(number for number, table in enumerate(tables) if table.startswith("[[operation]]"))
    tables.insert(at, WORK)
    own = [number for number, table in enumerate(tables) if table.startswith("[[operation]]") and number != at]
    kept = [table for number, table in enumerate(tables) if number not in own and 'name = "zip"' not in table]
    if not garment.measurements:  # it is the same in every size
        kept = [ORDERED.sub("{ M = 12 }", table) if table.startswith("[quantity]") else table for table in kept]
    return _joined(garment, head, kept)


def example_body(garment: Garment) -> Body:
    """A body of a middle size with what the garment needs: as the table has it, by a rule, or usual."""
    body = find_table(TABLE).body(SIZE)
    lengths: dict[str, Any] = {name: Length(_example(name, body)) for name in garment.asked}
    return type(body)(**lengths, wearer=body.wearer)


def _example(name: str, body: Body) -> float:
    """A measurement of a body, mm, to the eighth of an inch."""
    if name in body.measurements() or not lacking((name,), body.measurements()):
        mm = measured_or_usual(body, name)
    else:
        limits = usual_range(body.wearer, name)
        mm = (limits.low + limits.high) / 2
    return round(mm / INCH * 8) * INCH / 8


def _is_of(text: str, garment: Garment) -> bool:
    return f'\ngarment = "{garment.name}"' in text


def _joined(garment: Garment, head: str, tables: list[str]) -> str:
    """A file's head and tables, with those of the garment in place of the model case's."""
    drafted = garment.draft(example_body(garment), garment.style())
    named = _line(f'garment = "{garment.name}"', f"{garment.title}; 'ellwand garments {garment.name}' tells of it")
    own = {"[body]": _body_lines, "[style]": _style_lines}
    last = max(number for number, table in enumerate(tables) if table.startswith("[[fabric]]"))
    tables[last + 1 : last + 1] = [_cloth(material) for material in BESIDE if drafted.of(material)]
    if not drafted.of("rib"):
        tables = [table for table in tables if not table.startswith("[[rib]]")]
        head = head.replace('"rib", ', "").replace("cloth and rib", "cloth")
    texts = [ASKED.sub(lambda _: named, head)]
    for table in tables:
        lines = own.get(table.split("]")[0] + "]")
        texts.append("".join(lines(garment)) + "\n" if lines else table)
    return "".join(texts).replace('["sleeve"]', f'["{next(iter(drafted)).name}"]')


def _body_lines(garment: Garment) -> Iterator[str]:
    """The table of measurements: those that must be taken, those for which a rule stands in, the wearer."""
    if not garment.asked:
        yield "# [body]                            # nothing is measured for it\n"
        return
    yield _line("[body]", "close to the body, no ease; 'ellwand measures' says where the tape runs")
    body, must = example_body(garment), to_measure(garment.asked)
    for name in sorted(garment.asked, key=lambda name: name not in must):  # a sort keeps the order of each
        written = f'{name} = "{format_size(getattr(body, name), Units.INCHES)}"'
        if name in must:
            yield _line(written, MEASURES[name].how)
        else:
            yield _line(f"# {written}", f"for example; left out, a rule stands in: {RULES[name].words}")
    yield _line(f'# wearer = "{body.wearer}"', 'or "men", "children": compared with their usual sizes')


def _style_lines(garment: Garment) -> Iterator[str]:
    """The table of options, each in a comment: at its default, or by an example where it has none."""
    yield _line("[style]", "a key in a comment shows its default")
    hints = get_type_hints(garment.style)
    for option in garment.options():
        yield _line(f"# {option.name} = {_value(option)}", _said(option, get_args(hints[option.name])))


def _value(option: Field[Any]) -> str:
    """A default as a file has it, exactly; or an example."""
    kind: str = option.metadata["kind"]
    default: Any = option.default
    if kind == "share":
        return str(option.metadata["example"]) if default is None else f"{default:g}"
    if default is None:
        return f'"{option.metadata["example"]}"'
    return f'"{length_written(default) if kind == "length" else default}"'


def length_written(mm: float) -> str:
    """A length as a file has it, exactly: in fractions of an inch where that can be, else in mm."""
    inches = format_exact(mm, Units.INCHES)
    return inches if "." not in inches else f"{mm:.10g} mm"


def _said(option: Field[Any], choices: tuple[str, ...]) -> str:
    """What a file says of an option."""
    said = option.metadata["help"].rstrip(".")
    said = said[0].lower() + said[1:] if said[1:2].islower() else said
    if option.default is None:
        return f"for example; {said}"
    others = [f'"{choice}"' for choice in choices if choice != option.default]
    return f"or {', '.join(others)}: {said}" if option.metadata["kind"] == "choice" and others else said


def _cloth(material: Material) -> str:
    width, price = BESIDE[material]
    text = f'[[fabric]]\nname = "{material}"\nmaterial = "{material}"\nwidth = "{width}"\nselvedge = "1/2 in"\n'
    return f'{text}sold_by = "1/8 yd"\nprice = "{price}"\n\n'


def _line(key: str, comment: str) -> str:
    """A line with its comment; what has no room goes on below."""
    text, lines = f"{f'{key}  '.ljust(COMMENT)}#", []
    for word in comment.split():
        if len(text) + 1 + len(word) > LINE:
            lines.append(text)
            text = " " * COMMENT + "#  "
        text += f" {word}"
    return "\n".join([*lines, text]) + "\n"
