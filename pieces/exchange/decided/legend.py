"""The legend of a program: what its layers, colours and line styles stand for, learned from what a person decided.

::

    form = "svg"                  # the files that it is for
    program = "Drawing Board"     # by their own words; or
    layers = ["cut", "seam"]      # by the layers that they have

    [[line]]
    layer = "seam"                # all that are given must be those of the line
    colour = "#ff0000"
    dash = "4 2"
    role = "sew line"
    material = "lining"           # of pieces whose cut line is marked so
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, get_args

from pieces.errors import FormatError, unknown_key
from pieces.exchange.decided.decisions import ROLE_WORDS, LineRole
from pieces.exchange.decided.mark import FileMarks, LineMark
from pieces.piece.piece import Material

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

MOST_RULES = 500

KEYS = ("layer", "colour", "dash", "role", "material")

HEAD = ("form", "program", "layers", "line")

WAYS = ((0,), (1,), (0, 1), (1, 2), (0, 1, 2))
"""Which parts of a mark a rule may go by, the simplest first: layer, colour, line style."""


@dataclass(frozen=True)
class LegendRule:
    """What lines with a mark are; parts of the mark that are empty do not count."""

    mark: LineMark
    role: LineRole | None = None
    material: Material | None = None

    def is_of(self, mark: LineMark) -> bool:
        """Whether a line's mark is the one it is for."""
        return any(self.mark) and all(own in ("", theirs) for own, theirs in zip(self.mark, mark, strict=True))

    def to_plain(self) -> dict[str, Any]:
        """As plain data: what it says."""
        said = (*self.mark._asdict().items(), ("role", self.role), ("material", self.material))
        return {key: value for key, value in said if value}

    def text(self) -> str:
        """As an entry of TOML."""
        return "\n".join(["[[line]]", *(f"{key} = {_written(value)}" for key, value in self.to_plain().items())])

    def words(self) -> str:
        """For people: ``layer 'seam': sew line``."""
        role = ROLE_WORDS.get(self.role, self.role) if self.role else ""
        return f"{self.mark.words()}: {' of '.join(filter(None, (role, self.material)))}"


@dataclass(frozen=True)
class LineLegend:
    """All rules for files of one program."""

    marks: FileMarks
    rules: tuple[LegendRule, ...] = ()
    name: str = ""

    def rule_of(self, mark: LineMark) -> LegendRule | None:
        """The rule for a mark: the one that says most of it, of several the last; None if there is none."""
        found = [rule for rule in self.rules if rule.is_of(mark)]
        return max(reversed(found), key=lambda rule: sum(map(bool, rule.mark))) if found else None

    def with_rules(self, learned: Iterable[LegendRule], marks: FileMarks) -> LineLegend:
        """The legend with rules put in place of those for the same mark, and the layers of one more file."""
        rules = {rule.mark: rule for rule in self.rules}
        for rule in learned:
            known = rules.pop(rule.mark, rule)
            rules[rule.mark] = replace(rule, role=rule.role or known.role, material=rule.material or known.material)
        layers = tuple(dict.fromkeys((*self.marks.layers, *marks.layers)))[:MOST_RULES]
        return replace(self, marks=replace(self.marks, layers=layers), rules=tuple(rules.values())[-MOST_RULES:])

    def news(self, learned: Iterable[LegendRule]) -> tuple[list[LegendRule], list[tuple[LegendRule, LegendRule]]]:
        """Of rules that were learned, those for marks that it has no rule for, and what it would say otherwise.

        The second are pairs: a rule as it is, and as it would be. Rules that it has already are in neither.
        """
        known = {rule.mark: rule for rule in self.rules}
        after = {rule.mark: rule for rule in self.with_rules(learned, self.marks).rules}
        new = [rule for mark, rule in after.items() if mark not in known]
        return new, [(known[mark], rule) for mark, rule in after.items() if known.get(mark, rule) != rule]

    def to_plain(self) -> dict[str, Any]:
        """As plain data, which `legend_of` reads."""
        rules = [rule.to_plain() for rule in self.rules]
        return {
            "form": self.marks.form, "program": self.marks.program, "layers": list(self.marks.layers), "line": rules
        }  # fmt: skip

    def text(self) -> str:
        """As TOML."""
        data = self.to_plain()
        head = ["# What lines are, by their layer, colour and style, in files of one program. Ours to change."]
        head += [f"{key} = {_written(data[key])}" for key in HEAD[:3] if data[key]]
        return "\n\n".join(["\n".join(head), *(rule.text() for rule in self.rules)]) + "\n"


def _written(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def best_legend(legends: Iterable[LineLegend], marks: FileMarks) -> LineLegend | None:
    """The legend for a file: by its program, or else by the layers that most of them have in common."""
    fit = [legend for legend in legends if legend.marks.fits(marks)]
    return max(fit, key=lambda legend: len(set(legend.marks.layers) & set(marks.layers)), default=None)


def legend_of(data: Any, where: str, name: str = "") -> LineLegend:
    """A legend out of plain data.

    Raises
    ------
    FormatError
        If a key is unknown, or a rule says nothing: the entry is named.
    """
    if not isinstance(data, dict):
        raise FormatError(f"{where}: a legend has form, program, layers and [[line]] entries")
    for key in data:
        if key not in HEAD:
            raise FormatError(f"{where}: {unknown_key(key, list(HEAD))}")
    layers, lines = data.get("layers", []), data.get("line", [])
    if not isinstance(lines, list) or len(lines) > MOST_RULES or not all(isinstance(one, dict) for one in lines):
        raise FormatError(f"{where}: write up to {MOST_RULES} entries [[line]], in double brackets")
    if not isinstance(layers, list) or not all(isinstance(one, str) for one in layers):
        raise FormatError(f'{where}: layers must be names, such as ["cut", "seam"]')
    marks = FileMarks(_word(data, "form", where).lower(), _word(data, "program", where), tuple(layers))
    rules = [_rule(one, f"{where}, [[line]] {n}") for n, one in enumerate(lines, 1)]
    return LineLegend(marks, _one_a_mark(rules, where), name)


def _one_a_mark(rules: Sequence[LegendRule], where: str) -> tuple[LegendRule, ...]:
    """Entries for the same mark as one; FormatError if they contradict: neither would be certain."""
    first: dict[LineMark, tuple[int, LegendRule]] = {}
    for number, rule in enumerate(rules, 1):
        known, other = first.setdefault(rule.mark, (number, rule))
        for key, one, two in (("role", other.role, rule.role), ("material", other.material, rule.material)):
            if one and two and one != two:
                raise FormatError(
                    f"{where}: [[line]] {known} and {number} both say the {key} of {rule.mark.words()}, each another: "
                    "keep one"
                )
        first[rule.mark] = known, replace(other, role=other.role or rule.role, material=other.material or rule.material)
    return tuple(rule for _, rule in first.values())


def _word(data: dict[str, Any], key: str, where: str) -> str:
    value = data.get(key, "")
    if not isinstance(value, str) or len(value) > 200:
        raise FormatError(f"{where}: {key} must be a text in quotes")
    return value


def _rule(data: dict[str, Any], where: str) -> LegendRule:
    for key in data:
        if key not in KEYS:
            raise FormatError(f"{where}: {unknown_key(key, list(KEYS))}")
    layer, colour, dash = (_word(data, key, where) for key in KEYS[:3])
    mark = LineMark(layer, _full_colour(colour), dash)
    role, material = data.get("role"), data.get("material")
    if role is not None and role not in get_args(LineRole):
        raise FormatError(f"{where}: role = {json.dumps(role)[:40]} is none of {', '.join(get_args(LineRole))}")
    if material is not None and material not in get_args(Material):
        raise FormatError(f"{where}: material must be one of {', '.join(get_args(Material))}")
    if not any(mark) or not (role or material):
        raise FormatError(f"{where}: name a layer, a colour or a dash, and the role or the material of its lines")
    return LegendRule(mark, role, material)


def _full_colour(said: str) -> str:
    """A colour as files are told of it: ``#F00`` is ``#ff0000``."""
    if found := re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])|#[0-9a-f]{6}", said.strip(), re.IGNORECASE):
        return (f"#{''.join(2 * sign for sign in found.groups())}" if found[1] else found[0]).lower()
    return said


def learned_rules(
    decided: Iterable[tuple[LineMark, str]], all_lines: Sequence[tuple[LineMark, str]]
) -> tuple[list[LegendRule], list[LineMark]]:
    """Rules that say of each mark what was decided, and are true of all lines of the file; and marks without one.

    Parameters
    ----------
    decided
        Marks of lines, and what a person said they are: their role, or for pieces their material.
    all_lines
        Marks of all lines of the file, and what they are now.
    """
    rules: dict[LineMark, LegendRule] = {}
    without: dict[LineMark, None] = {}
    for mark, role in decided:
        for parts in WAYS:
            known = next((one for one in get_args(LineRole) if one == role), None)
            rule = LegendRule(LineMark(*(part if at in parts else "" for at, part in enumerate(mark))), known)
            whole = all(mark[at] for at in parts)
            if whole and all(now == role for theirs, now in all_lines if rule.is_of(theirs)):
                rules.setdefault(rule.mark, rule)
                break
        else:
            without[mark] = None
    return list(rules.values()), list(without)
