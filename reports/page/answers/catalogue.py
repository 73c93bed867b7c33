"""What there is to choose from: garments with their options, measurements, tables of sizes, ways to lay cloth."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, get_args

from pieces.body.body import measurement_names
from pieces.body.corrections import CORRECTIONS
from pieces.body.figure import BOX, HALF, HEAD, MIRROR
from pieces.body.measures import MEASURES
from pieces.body.ranges import Wearer, usual_range
from pieces.body.rules import RULES
from pieces.body.sizes import TABLES, find_table
from pieces.garments.groups import option_groups
from pieces.garments.known import known_garments
from reports.ask.offer import ALL_SPREADS
from reports.ask.template import template
from reports.ask.written import loads
from reports.cautions import TOOLS, cautions
from reports.garments.garments import GarmentShown, garment_to_plain, not_loaded_lines
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from pieces.garments import Garment
    from pieces.piece.piece import Material


@cache
def catalogue() -> dict[str, Any]:
    """Everything to choose from, for machines; lengths in mm."""
    known, not_loaded = known_garments()
    return {
        "garments": [garment_to_plain(garment) | {"materials": _materials(garment)} for garment in known],
        "not_loaded": not_loaded_lines(not_loaded),
        "option_groups": [group._asdict() for group in option_groups()],
        "measurements": [
            {
                "name": name,
                "help": MEASURES[name].how,
                "standard": MEASURES[name].standard,
                "tape": MEASURES[name].tape,
                "rule": RULES[name].words if name in RULES else None,
                "follows_from": list(RULES[name].needs) if name in RULES else None,
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


def _materials(garment: Garment) -> list[Material]:
    """What a garment is cut of by its defaults; of one that cannot be drafted so, the shell."""
    pieces = GarmentShown.called(garment.name).pieces
    return sorted({piece.material for piece in pieces}) if pieces else ["shell"]


def _table(name: str) -> dict[str, Any]:
    table = find_table(name)
    sizes = [{"name": size, "measures": table.measures(size)} for size in table.sizes]
    return {"name": name, "title": table.title, "source": table.source, "wearer": table.wearer, "sizes": sizes}


def _template(name: str) -> dict[str, Any]:
    return loads(template(name), name)
