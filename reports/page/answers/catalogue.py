"""What there is to choose from: garments with their options, measurements, tables of sizes, ways to lay cloth."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

from pieces.body.body import measurement_names
from pieces.body.corrections import CORRECTIONS
from pieces.body.figure import BOX, HALF, HEAD, MIRROR
from pieces.body.measures import MEASURES
from pieces.body.ranges import Wearer, usual_range
from pieces.body.sizes import TABLES, find_table
from pieces.garments import GARMENTS
from reports.ask.job import loads
from reports.ask.offer import ALL_SPREADS
from reports.cautions import TOOLS, cautions
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from pieces.garments import Garment


@cache
def catalogue() -> dict[str, Any]:
    """Everything to choose from, for machines; lengths in mm."""
    return {
        "garments": [_garment(garment) for garment in GARMENTS.values()],
        "measurements": [
            {
                "name": name,
                "help": MEASURES[name].how,
                "standard": MEASURES[name].standard,
                "tape": MEASURES[name].tape,
                "usual": {wearer: list(usual_range(wearer, name)[1:3]) for wearer in get_args(Wearer)},
            }
            for name in measurement_names()
        ],
        "corrections": [{"name": name, "words": each.words} for name, each in CORRECTIONS.items()],
        "figure": {"head": HEAD, "half": HALF, "mirror": MIRROR, "box": BOX},
        "tables": [_table(name) for name in TABLES],
        "spreads": [{"name": "best", "words": "the one that takes least"}]
        + [{"name": name, "words": SPREAD_WORDS[name]} for name in (*ALL_SPREADS, "tube", "face-to-face", "face-up")],
        "template_job": _template("job"),
        "template_order": _template("order"),
        "usual_table": "women-letters",
        "units": ["in", "cm"],
        "cautions": list(cautions()),
        "tool_cautions": {tool: list(cautions(tool)) for tool in TOOLS},
    }


def _garment(garment: Garment) -> dict[str, Any]:
    hints = get_type_hints(garment.style)
    return {
        "name": garment.name,
        "title": garment.title,
        "measurements": list(garment.measurements),
        "options": [
            {
                "name": option.name,
                "kind": option.metadata["kind"],
                "default": option.default,
                "choices": list(get_args(hints[option.name])) if option.metadata["kind"] == "choice" else [],
                "help": option.metadata["help"],
                "example": option.metadata["example"],
            }
            for option in garment.options()
        ],
    }


def _table(name: str) -> dict[str, Any]:
    table = find_table(name)
    sizes = [{"name": size, "measures": table.measures(size)} for size in table.sizes]
    return {"name": name, "title": table.title, "source": table.source, "wearer": table.wearer, "sizes": sizes}


def _template(name: str) -> dict[str, Any]:
    return loads((files("reports") / "templates" / f"{name}.toml").read_text(encoding="utf-8"), name)
