"""The usual cautions of a cutting room, one list for every face; for what the law asks, they defer to local codes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple, get_args

if TYPE_CHECKING:
    from collections.abc import Mapping

Tool = Literal["shears", "rotary cutter", "round knife", "straight knife"]
Subject = Literal[Tool, "iron and pins", "rolls", "codes"]


class Caution(NamedTuple):
    """What is said of a tool or a thing, and where it comes from."""

    words: str
    source: str


COMMON = "common practice, no source"
HSE = "UK Health and Safety Executive, cutting in textiles (seen 2023)"

CAUTIONS: Mapping[Subject, Caution] = {
    "shears": Caution(
        "Shears: cut away from yourself and from the hand that holds the cloth. Carry them closed, points down.", COMMON
    ),
    "rotary cutter": Caution(
        "Rotary cutter: cut on a mat, away from yourself and from the hand that holds cloth or ruler. Close the blade"
        " each time you put it down. Wear closed shoes.",
        COMMON,
    ),
    "round knife": Caution(
        "Round knife (powered, the blade turns): no chain-mail glove near the blade; the blade can catch it and pull"
        " the hand in. Set the guard just above the cloth. Wear safety glasses. Unplug it before you touch, clean or"
        " change the blade, and when you leave it. Trained people only.",
        f"no glove and the glasses: a factory owner's opinion; guard and blade: {HSE}",
    ),
    "straight knife": Caution(
        "Straight knife (powered, the blade goes up and down): wear a five-finger chain-mail glove that fits on the"
        " hand that holds the cloth, and to handle the blade. Set the guard just above the cloth. Unplug it before you"
        " touch, clean or change the blade, and when you leave it. Trained people only.",
        HSE,
    ),
    "iron and pins": Caution(
        "Iron: it burns, and so does its steam. Stand it on its heel, and switch it off when you leave it. Count the"
        " pins in and out.",
        COMMON,
    ),
    "rolls": Caution("Heavy rolls: lift with a helper or a trolley. Keep the floor clear of cloth and cords.", COMMON),
    "codes": Caution(
        "These are habits, not rules. The tool's maker, your local codes and licensed practice come first.", COMMON
    ),
}
"""By tool, then what holds whatever one cuts with. Each face takes its cautions from here, word by word."""

TOOLS: tuple[Tool, ...] = get_args(Tool)
BY_HAND: tuple[Tool, ...] = ("shears", "rotary cutter")

LAW = (
    "Check your local law before you sell: drawstrings and small parts on children's clothes, flammability, fibre and"
    " care labels. This program does not know it: ask those who are licensed to advise."
)


def cautions(*tools: Tool) -> tuple[str, ...]:
    """Cautions for cutting with some tools, or with any: what is said of each, and what holds with all."""
    always: tuple[Subject, ...] = ("iron and pins", "rolls", "codes")
    return tuple(CAUTIONS[subject].words for subject in (*(tools or TOOLS), *always))
