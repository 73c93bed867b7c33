"""How it is known what each outline of a drawing is: noted in the account, for whoever looks at it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.exchange.standard import role_of
from pieces.exchange.words.words import read_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.account import Sureness
    from pieces.exchange.drawing import Drawing
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.outline import Outline


def name_roles(drawing: Drawing, report: ImportReport) -> None:
    """Note of lines and points that play a part by what says so: their layer, or a name of their own."""
    account = report.account
    for numbers in [s.numbers for s in drawing.strokes if s.role != "outline"] + [m.numbers for m in drawing.points]:
        for number in numbers:
            entry = account.entries[number - 1]
            layer = entry.mark.layer
            if layer and role_of(layer) != "outline":
                account.because([number], "named", f"by its layer '{layer}'")
            elif entry.kind == "point":
                account.because([number], "placed", "it is a point")
            else:
                account.because([number], "named", "by its name")


def explain(found: Sequence[Outline], report: ImportReport) -> None:
    """Note how it is known of each outline what it is."""
    for outline in found:
        sure, reason = _of_piece(outline) if outline.part == "piece" else _of_rest(outline)
        if outline.told and outline.part != "piece":  # a cut line within another: the legend did not decide that
            report.account.because(outline.ring.numbers, sure, reason, is_last=True)
        else:
            report.account.because(outline.ring.numbers, outline.told or sure, "" if outline.told == "told" else reason)


def _of_piece(outline: Outline) -> tuple[Sureness, str]:
    if outline.ring.called and outline.why != "size":
        return "named", f"it is called '{outline.ring.called[:40]}'"
    said = next((word.text for word in outline.words if read_words(word.text).says_how), "")
    if said:
        return "named", f"by its words: '{' '.join(said.split())[:40]}'"
    if outline.layer and role_of(outline.layer) == "outline" and outline.why.startswith("it is on its own layer"):
        return "named", outline.why
    if outline.parent is None or outline.parent.part in ("frame", "another size"):
        return "placed", "it lies in no other piece"
    return "guessed", outline.why


def _of_rest(outline: Outline) -> tuple[Sureness, str]:
    if outline.part == "cutout":
        return "placed", "a hole in a filled area"
    if outline.part == "drill point":
        is_triangle = len(outline.ring.points) == 3
        return ("guessed", "a small triangle") if is_triangle else ("placed", "as small and round as a mark")
    return ("placed" if outline.sure else "guessed"), outline.why
