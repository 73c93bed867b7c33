"""How a line is marked in its file, and how a file is marked by the program that wrote it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NamedTuple

LONGEST = 60
"""Of a layer, a colour or a program, signs."""

ALIKE = 0.5
"""Of the layers that two files have together, the share that both have, where they may come from one program."""


class LineMark(NamedTuple):
    """By what lines are told apart: layer or group, colour as ``#rrggbb`` or a word, style of the line; or nothing."""

    layer: str = ""
    colour: str = ""
    dash: str = ""

    def words(self) -> str:
        """For people: ``layer 'seam', colour #ff0000``."""
        parts = (("layer '{}'", self.layer), ("colour {}", self.colour), ("line style {}", self.dash))
        return ", ".join(said.format(value) for said, value in parts if value)


NO_MARK = LineMark()


@dataclass(frozen=True)
class FileMarks:
    """Which program wrote a file, as far as it says so; its form, and the layers that it has."""

    form: str = ""
    program: str = ""
    layers: tuple[str, ...] = ()

    def fits(self, other: FileMarks) -> bool:
        """Whether another file comes from the same program: by its name, or by layers that are much the same."""
        if self.form != other.form:
            return False
        if self.program and other.program:
            return self.program == other.program
        one, two = set(self.layers) - {"0"}, set(other.layers) - {"0"}
        return bool(one and two) and len(one & two) >= ALIKE * len(one | two)

    def words(self) -> str:
        """For people."""
        if self.program:
            return f"{self.form.upper()} from {self.program}"
        layers = ", ".join(self.layers[:4]) + (", …" if len(self.layers) > 4 else "")
        return f"{self.form.upper()} with the layers {layers}" if self.layers else f"{self.form.upper()}"


def program_named(text: str) -> str:
    """The name of a program without its version, which changes while its habits stay."""
    name = re.split(r"[\s,;(]+(?:v(?:ersion)?\.?\s*)?\d", f"{text} ", maxsplit=1, flags=re.IGNORECASE)[0]
    return " ".join("".join(sign if sign.isprintable() else " " for sign in name).split())[:LONGEST].strip(" ,;:.-")
