"""The usual cautions for a cutting room, by tool; for what the law asks, they defer to local codes."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.order import Tool

POWERED = (
    "Powered knife: blade guard down to just above the stack; steel-mesh glove on the hand that holds the cloth; unplug"
    " it before you change, sharpen or clean the blade, and whenever you leave it; trained people only, by its maker's"
    " instructions."
)

BY_TOOL: dict[Tool, tuple[str, ...]] = {
    "shears": ("Shears: cut away from the hand that holds the cloth; carry them closed, points down.",),
    "rotary cutter": (
        "Rotary cutter: cut away from the hand that holds the cloth or the ruler; close the blade each time you put it"
        " down; on a mat, never in the air.",
    ),
    "round knife": (POWERED,),
    "straight knife": (POWERED,),
}

ALWAYS = (
    "Heavy rolls are lifted by two, or with a trolley; keep the floor round the table clear of cloth and cords.",
    "Hot iron: on its stand, cord out of the way, off when you leave.",
)

LAW = (
    "Check your local law before you sell: drawstrings and small parts on children's clothes, flammability, fibre and"
    " care labels. This program does not know it: ask those who are licensed to advise."
)


def cautions(tool: Tool) -> tuple[str, ...]:
    """Cautions for cutting with a tool. Usual practice of the trade; no source."""
    return (*BY_TOOL[tool], *ALWAYS)
