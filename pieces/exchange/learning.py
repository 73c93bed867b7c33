"""What a legend can learn of a file: from what a person decided of its lines, as far as it holds for all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.exchange.decided.legend import LegendRule, LineLegend, learned_rules
from pieces.exchange.listing import FIXED

if TYPE_CHECKING:
    from pieces.exchange.decided.decisions import LineRole
    from pieces.exchange.decided.mark import LineMark
    from pieces.exchange.imported import Imported
    from pieces.exchange.own.sidecar import Sidecar


def learned(found: Imported, told: Sidecar) -> tuple[list[LegendRule], list[LineMark]]:
    """Rules out of what was decided, and the marks of lines for which no rule holds.

    A rule goes by the layer if all lines on it are the same, or else by the colour, by both, by the line style.
    """
    entries = found.report.account.entries
    every = [(e.mark, str(e.place)) for e in entries if e.points is not None and e.place not in FIXED and any(e.mark)]
    decided: list[tuple[LineMark, LineRole]] = []
    for line in told.lines:
        marks = [entries[n - 1].mark for n in line.found(entries)]
        decided += [(mark, line.role) for mark in marks if line.role and any(mark)]
    rules, without = learned_rules(decided, every)
    materials = {n: p.material for p in found.pieces if p.name in found.drawn for n in found.drawn[p.name].numbers}
    of_pieces = [(entries[n - 1].mark, material) for n, material in materials.items() if any(entries[n - 1].mark)]
    for line, facts in told.by_line:
        for number in line.found(entries) if "material" in facts else ():
            if number in materials and any(entries[number - 1].mark):
                of_mark, none = learned_rules([(entries[number - 1].mark, materials[number])], of_pieces)
                rules += [LegendRule(rule.mark, None, materials[number]) for rule in of_mark]
                without += none
    return rules, without


def legend_after(
    legend: LineLegend | None, found: Imported, told: Sidecar
) -> tuple[LineLegend, list[LegendRule], list[LineMark]]:
    """A legend with what is learned of a file, or a new one for its program; the rules, and marks without one."""
    rules, without = learned(found, told)
    base = legend or LineLegend(found.report.marks)
    return base.with_rules(rules, found.report.marks), rules, without
