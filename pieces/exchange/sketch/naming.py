"""What is written on pieces and in the names of their lines, layers and blocks: name, count, fold, material."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.mend.symmetry import is_symmetric
from pieces.exchange.sketch.sketch import printable_name
from pieces.exchange.sketch.within import BESIDE
from pieces.exchange.words.words import CutNote, is_called, is_size, read_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.drawing import Word
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.sketch.outline import Outline
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.exchange.words.words import Said

LONGEST_LABEL = 200

MOST_BESIDE = 50
"""Pieces that words are compared with."""


def name_pieces(
    sketches: Sequence[Sketch], outlines: Sequence[Outline], words: Sequence[Sequence[Word]], report: ImportReport
) -> None:
    """Give each piece its name, and all that is written of it.

    Parameters
    ----------
    words
        What is written in or beside each piece.
    """
    shared = Counter(outline.ring.called for outline in outlines)
    alone = Counter(group for outline in outlines for group in outline.ring.groups)
    for number, (sketch, outline, written) in enumerate(zip(sketches, outlines, words, strict=True), 1):
        called = outline.ring.called
        group = next(iter(outline.ring.groups)) if len(outline.ring.groups) == 1 else ""
        texts = [word.text for word in written]
        rest = [line for text in texts for line in _names(read_words(text))]
        by_group = _names(read_words(group)) if alone[group] == 1 and group != "0" else []
        by_label = _names(read_words(called)) if called and outline.why != "size" else []
        order = [*rest, *by_label] if shared[called] > 1 else [*by_label, *rest]
        sketch.name = printable_name(next(iter([*order, *by_group]), ""), f"piece {number}")
        label = ", ".join(line for line in rest if printable_name(line, "") != sketch.name)
        sketch.label = sketch.label or "".join(sign for sign in label if sign.isprintable())[:LONGEST_LABEL]
        for word in written:
            sketch.take("words read", word.numbers)
            said = read_words(word.text)
            if said.fold and not said.cuts and not said.rest:
                sketch.fold_at = word.place
            for line in _names(said):
                report.words.append((sketch.name, line, "its name" if line == sketch.name else "its label"))
        take_words(sketch, [*texts, *dict.fromkeys((called, group))], report, layer="" if group == called else group)


def named_in_words(sketch: Sketch, report: ImportReport) -> Sketch:
    """A sketch whose name, all that is written of it, may also say how it is cut: ``"sleeve cut 2"``."""
    text = sketch.name
    sketch.name = printable_name(next(iter(_names(read_words(text))), ""), text)
    take_words(sketch, [text], report)
    return sketch


def _names(said: Said) -> list[str]:
    return [line for line in said.rest if not is_called(line, "grain") and not is_size(line)]


def take_words(
    sketch: Sketch, texts: Sequence[str], report: ImportReport, known: Sequence[str] = (), layer: str = ""
) -> None:
    """Take what texts say of how a piece is cut; the first that says it counts.

    Parameters
    ----------
    known
        What is known otherwise and stays: ``"cut"``, ``"material"``.
    layer
        Which of the texts is the name of a layer: it says less of the material than words on the piece.
    """
    cuts: list[CutNote] = []
    unread: list[str] = []
    for text in filter(None, texts):
        said = read_words(text)
        unread += said.unread
        for doubt in said.doubts if "cut" not in known else ():
            report.guess_once(f"'{sketch.name}': {doubt}")
        if said.says_how:
            report.words.append((sketch.name, " / ".join(text.split("\n"))[:80], said.words()))
        if text != layer and not sketch.material_by and any(cut.material for cut in said.cuts):
            sketch.material_by = " ".join(text.split())[:80]
        sketch.on_fold = sketch.on_fold or said.fold
        cuts = _agreed(cuts, said.cuts, sketch.name, report)
    if "cut" not in known and not any(cut.many for cut in cuts):
        for words in unread:
            report.guess_once(f"'{sketch.name}': '{words}' is not understood as how to cut it: {sketch.cut} is taken")
    if not cuts:
        return
    if "material" in known:
        cuts = [cuts[0]]
    first = cuts[0]
    if "cut" not in known:
        sketch.cut, sketch.pair = first.many or sketch.cut, first.pair or (sketch.pair and first.many is None)
        _ask_for_pair(sketch, first, report)
    if "material" not in known:
        sketch.material = first.material or sketch.material
        sketch.also = [cut for cut in cuts[1:] if cut.material]
    if sketch.on_fold and len({cut.many for cut in (first, *sketch.also)}) > 1:
        report.guess(
            f"'{sketch.name}': its words say several counts and a fold: of each material it is taken as cut on the"
            ' fold; where it is not, write fold = "none" in the small file'
        )


def _ask_for_pair(sketch: Sketch, cut: CutNote, report: ImportReport) -> None:
    """Tell of an even number without a word of pairs, where left and right would not be alike."""
    if cut.many and cut.many % 2 == 0 and not cut.pair and not is_symmetric(sketch.outline):
        report.guess(
            f"'{sketch.name}': cut {cut.many}, all the same way up, but its outline is not symmetric: if half of them "
            "are"
            " mirrored, write pair = true in the small file beside it"
        )


def _agreed(known: list[CutNote], new: Sequence[CutNote], name: str, report: ImportReport) -> list[CutNote]:
    """Counts and materials that two texts give together."""
    if not known or not new:
        return known or list(new)
    if len(known) == len(new) == 1:
        (one,), (other,) = known, new
        if one.many and other.many and one.many != other.many:
            report.guess(f"'{name}': its text says both cut {one.many} and cut {other.many}: the first is used")
        return [CutNote(one.many or other.many, one.pair or (other.pair and one.many in (None, other.many)),
                    one.material or other.material)]  # fmt: skip
    return known


def words_of_pieces(
    outlines: Sequence[Outline], found: Sequence[Outline], words: Sequence[Word], report: ImportReport
) -> list[list[Word]]:
    """What is written in or beside each piece; other words are left out."""
    import shapely

    given: list[list[Word]] = [[] for _ in outlines]
    at = {id(outline): index for index, outline in enumerate(outlines)}
    inside: dict[int, Outline] = {id(word): outline for outline in found for word in outline.words}
    areas = np.array([outline.area for outline in outlines])
    tree = shapely.STRtree(areas)
    for word in words:
        holder = inside.get(id(word))
        owner = holder if holder is None or holder.part == "piece" else holder.owner
        if owner is not None and id(owner) in at:
            given[at[id(owner)]].append(word)
            continue
        said = printable_name(word.text, "")
        place = shapely.Point(word.place)
        close = tree.query(place, predicate="dwithin", distance=3 * BESIDE).tolist()
        apart = sorted((float(areas[i].distance(place)), i) for i in close[:MOST_BESIDE])
        near = apart and apart[0][0] <= BESIDE and (len(apart) == 1 or apart[1][0] >= 2 * max(apart[0][0], 1.0))
        if near and (holder is None or holder.part == "frame"):
            given[apart[0][1]].append(word)
            report.guess(f"the text '{said}' is {apart[0][0]:.0f} mm from a piece, and is taken as its own")
        else:
            report.leave(f"the words '{said}'", "it is not inside a piece, nor beside just one", word.numbers)
    return given
