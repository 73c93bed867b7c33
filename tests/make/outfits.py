"""Random outfits: one to three garments of random bodies and styles on one cloth, laid and judged."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

from nesting.errors import NestingError
from nesting.verify import verify_asked
from pieces.body.sizes import TABLES, find_table
from pieces.errors import PieceError
from pieces.garments import GARMENTS
from reports.ask.job import parse_job
from reports.errors import ReportError
from reports.plan.effort import Effort
from reports.plan.plan import plan_job

if TYPE_CHECKING:
    from pieces.garments import Garment

SPREADS = ("open", "folded", "best", "part-folded", "fold-then-open")


def outfit(seed: int) -> str:
    """The job of an outfit: its garments, and a cloth of each material that they might need."""
    draw = random.Random(f"outfit {seed}")
    entries = [_entry(draw, number) for number in range(1, draw.choice((1, 1, 2, 3)) + 1)]
    cloths = [_cloth(draw, material) for material in ("shell", "lining", "interfacing")]
    rib = '[[rib]]\nname = "rib"\nform = "flat"\nwidth = "40 in"\n'
    return "\n".join((*entries, *cloths, rib))


def _entry(draw: random.Random, number: int) -> str:
    garment = GARMENTS[draw.choice(sorted(GARMENTS))]
    table = find_table(draw.choice(sorted(TABLES)))
    size = draw.choice(table.sizes)
    body = {**table.body(size).measurements()} if garment.measurements else {}
    style = _style(draw, garment)
    told = ", ".join(f'{name} = "{mm:.2f} mm"' for name, mm in body.items())
    if told and table.wearer:
        told += f', wearer = "{table.wearer}"'
    chosen = ", ".join(f'{name} = "{value}"' for name, value in style.items())
    return (
        f'[[garment]]\ngarment = "{garment.name}"\nname = "p{number}"\nquantity = {draw.choice((1, 1, 2))}\n'
        f"body = {{ {told} }}\nstyle = {{ {chosen} }}"
    )


def _style(draw: random.Random, garment: Garment) -> dict[str, Any]:
    """Some of its choices, by chance; lengths as by default."""
    hints = get_type_hints(garment.style)
    choices = [option.name for option in garment.options() if option.metadata["kind"] == "choice"]
    return {name: draw.choice(get_args(hints[name])) for name in choices if draw.random() < 0.4}


def _cloth(draw: random.Random, material: str) -> str:
    nap = "true" if draw.random() < 0.3 else "false"
    if material == "shell" and draw.random() < 0.15:
        border = f'border = "{draw.choice((3, 4, 6))} in"\nborder_edges = ["hem"]'
        return f'[[fabric]]\nname = "shell"\nwidth = "60 in"\nspread = "open"\nselvedge = "1/2 in"\n{border}'
    return (
        f'[[fabric]]\nname = "{material}"\nmaterial = "{material}"\nwidth = "{draw.choice((45, 54, 60))} in"\n'
        f'spread = "{draw.choice(SPREADS)}"\nnap = {nap}\nselvedge = "1/2 in"'
    )


def try_outfit(seed: int) -> str:
    """How an outfit went: laid and verified from what was asked, or refused in one line.

    Raises
    ------
    AssertionError, Exception
        If a marker does not hold, or an error is none of ours.
    """
    text = outfit(seed)
    while True:
        try:
            job = parse_job(text)
            plan = plan_job(job, Effort(0, proof=0))
            break
        except (PieceError, ReportError, NestingError) as error:
            said = str(error)
            assert "\n" not in said, said
            bare = next((m for m in ("lining", "interfacing") if f"no piece is cut from {m}" in said), None)
            if bare is None:
                return "refused"
            text = _without(text, bare)
    for _, fabric in plan.markers:
        verify_asked(fabric.result.marker, fabric.asked)
    return "verified"


def _without(text: str, material: str) -> str:
    """The job without a cloth that nothing is cut from."""
    start = text.index(f'[[fabric]]\nname = "{material}"')
    end = text.index("[[", start + 2)
    return text[:start] + text[end:]
