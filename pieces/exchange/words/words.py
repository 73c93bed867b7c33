"""Words on patterns: how many to cut, in pairs, on the fold, of what; what is left is a name."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple, get_args

from pieces.exchange.words.counted import (
    EDGE,
    END,
    GONE,
    CutCount,
    any_of,
    counts_in,
    holds_a_number,
    merged,
    without,
    words_table,
)
from pieces.piece.piece import Material

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

LONGEST = 500
"""Signs of a text that are read."""

_SIZE = re.compile(
    r"(?:(?:size|sz|gr\.?|grösse|größe|groesse|taille|t)[\s_.:-]*)?(?:x{0,4}[sl]|m|[2-9]?x[sl]|\d{2,3}(?:\s*[/-]\s*\d{2,3})?)",
    re.IGNORECASE,
)


class CutNote(NamedTuple):
    """How many are cut of a material; None for what is not said."""

    many: int | None
    pair: bool
    material: Material | None


@dataclass
class Said:
    """What words say of a piece.

    Parameters
    ----------
    cuts
        How many of which material; empty if nothing is said of that.
    fold
        Whether it lies on a fold.
    rest
        The lines that say something else: its name, a hint.
    doubts
        What of the counts may be meant otherwise.
    unread
        What seems to say how it is cut, and was not understood.
    """

    cuts: list[CutNote] = field(default_factory=list)
    fold: bool = False
    rest: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)

    @property
    def says_how(self) -> bool:
        """Whether it says how to cut, and not only what the piece is."""
        return bool(self.cuts) or self.fold

    def words(self) -> str:
        """What was understood, in the trade's words."""
        parts = []
        for count, pair, material in self.cuts:
            many = [f"cut {count}"] if count else []
            if pair:
                many += ["(1 pair)" if count == 2 else f"({count // 2} pairs)" if count else "a pair"]
            parts.append(" ".join([*many, *([material] if material else [])]))
        return ", ".join(filter(None, [*parts, "on fold" if self.fold else ""]))


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    words = words_table()
    found = {key: _alone(words[key]) for key in ("mirrored", "fold", "cut", "denied", "details")}
    for material in get_args(Material):
        found[f"of {material}"] = _alone(words["material"][material])
        found[f"after {material}"] = _alone([*words["material"][material], *words["material_after"].get(material, [])])
    found["fold after"] = re.compile(rf"[\s_,(:-]*{any_of(words['fold_after'])}{END}", re.IGNORECASE)
    middle = rf"{EDGE}{any_of(words['middle'])}[\s_,:(-]*{any_of(words['fold_after'])}{END}"
    found["middle"] = re.compile(middle, re.IGNORECASE)
    return found


def _alone(phrases: Iterable[str]) -> re.Pattern[str]:
    return re.compile(rf"{EDGE}{any_of(phrases)}{END}", re.IGNORECASE)


def is_called(text: str, what: str) -> bool:
    """Whether a name means a ``"frame"``, a ``"test_square"`` or the ``"grain"``, whatever stands beside it."""
    plain = " ".join(re.split(r"[\s_-]+", text.lower())).strip()
    return bool(_called(what).fullmatch(plain))


@cache
def _called(what: str) -> re.Pattern[str]:
    pattern = any_of(words_table()["names"][what])
    return re.compile(rf"{pattern}(?:[\s\d]|$).*" if what == "test_square" else rf"{pattern}\s*\d*")


def is_size(text: str) -> bool:
    """Whether a name is one of a size, such as ``M``, ``38`` or ``size 12``."""
    return bool(_SIZE.fullmatch(text.strip()))


def may_be_size(text: str) -> bool:
    """The same where outlines lie over one another like sizes: there ``8`` is one, and no number of a piece."""
    return is_size(text) or bool(re.fullmatch(r"(?:size\s*)?[2-9]", text.strip(), re.IGNORECASE))


def in_size_order(names: Iterable[str]) -> list[str]:
    """Names of sizes, smallest first, where all are letters such as ``XS`` or all are numbers; or else as they are."""
    given = list(names)
    ranks = {name: _rank(name) for name in given}
    kinds = {rank and rank[0] for rank in ranks.values()}
    return sorted(given, key=lambda name: ranks[name] or ("", 0)) if len(kinds) == 1 else given


def _rank(name: str) -> tuple[str, int] | None:
    """Where a size stands among others of its kind; None if it is neither letters nor a number."""
    last = re.split(r"[\s_.:-]+", name.strip().lower())[-1]
    if last.isdecimal() and len(last) < 9:
        return "number", int(last)
    letters = re.fullmatch(r"(?:(\d)(?=x))?(x*)([sml])", last)
    if letters is None or (letters[3] == "m" and letters[2]):
        return None
    many = int(letters[1] or len(letters[2]))
    return "letters", {"s": -1 - many, "m": 0, "l": 1 + many}[letters[3]]


@lru_cache(maxsize=4096)
def read_words(text: str) -> Said:
    """What a text says of the piece that it belongs to."""
    said = Said()
    for whole in text[:LONGEST].splitlines():
        clauses = re.split(r"(?<=[.,;:!])\s+", whole)
        denied = [clause for clause in clauses if _patterns()["denied"].search(clause)]
        rest = _read(" ".join(clause for clause in clauses if clause not in denied), said)
        said.rest += [*([rest] if rest else []), *denied]
    _merge(said)
    return said


def _read(line: str, said: Said) -> str:
    """Read one line; what is left of it."""
    patterns, spans = _patterns(), list[tuple[int, int]]()
    line = line.replace(GONE, " ")
    for key in ("middle", "fold"):
        spans += [match.span() for match in patterns[key].finditer(without(line, spans))]
    fold = bool(spans)
    counts = counts_in(without(line, spans))
    for count in counts:
        if match := patterns["fold after"].match(without(line, spans), count.end):
            spans.append(match.span())
            fold = True
    counts = merged(counts, line)
    spans += [count[:2] for count in counts]
    turned = [match.span() for match in patterns["mirrored"].finditer(without(line, spans))]
    spans += turned
    counts = _mirrored(counts, turned)
    used, notes = _of_materials(counts, without(line, spans))
    left = _left(without(line, [*spans, *used]))
    if counts and not (fold or turned or used) and left and _left(patterns["details"].sub(GONE, left)) == "":
        return " ".join(line.split())  # such as "6 buttonholes": no count of the piece
    said.fold = said.fold or fold
    said.cuts += notes
    if len(notes) > len({note.material for note in notes}):
        said.doubts.append(f"'{' '.join(line.split())[:60]}' says several counts: the first of each material is taken")
    said.doubts += [f"'{' '.join(line.split())[:60]}' {count.doubt}" for count in counts if count.doubt]
    if fold or counts:
        spans += [match.span() for match in patterns["cut"].finditer(without(line, spans))]
    left = _left(without(line, [*spans, *used]))
    if left and not (counts or fold) and (holds_a_number(left) or patterns["fold after"].fullmatch(left)):
        said.unread.append(left[:60])
    return left


def _mirrored(counts: list[CutCount], turned: Sequence[tuple[int, int]]) -> list[CutCount]:
    """Counts with the words "mirrored" and the like, which belong to the count before them, or else to the first."""
    for start, end in turned:
        if not counts:
            return [CutCount(start, end, 2, pair=True)]
        at = max((n for n, count in enumerate(counts) if count.start < start), default=0)
        odd = f"says {counts[at].many}, mirrored: {counts[at].many} is taken" if counts[at].many % 2 else ""
        counts[at] = counts[at]._replace(pair=True, doubt=counts[at].doubt or odd)
    return counts


def _of_materials(counts: Sequence[CutCount], line: str) -> tuple[list[tuple[int, int]], list[CutNote]]:
    """Where the materials of a line stand that belong to what is cut, and the counts with their materials."""
    found: list[tuple[int, int, Material]] = []
    for material in get_args(Material):
        pattern = _patterns()[f"{'after' if counts else 'of'} {material}"]
        found += [(*match.span(), material) for match in pattern.finditer(without(line, [one[:2] for one in found]))]
    found.sort()
    if not counts:
        is_all = _left(without(line, [one[:2] for one in found])) == ""
        return [one[:2] for one in found if is_all], [CutNote(None, False, one[2]) for one in found]
    before = bool(found) and found[0][0] < counts[0].start and found[-1][0] < counts[-1].start
    notes = []
    for at, count in enumerate(counts):
        low = (counts[at - 1].start if at else -1) if before else count.start
        high = counts[at + 1].start if at + 1 < len(counts) else len(line) + 1
        high = count.start if before else high
        those = [material for start, _, material in found if low <= start < high]
        pair = count.pair and (count.many or 0) % 2 == 0
        notes += [CutNote(count.many, pair, material) for material in dict.fromkeys(those) or [None]]
    first = -1 if before else counts[0].start
    return [one[:2] for one in found if one[0] > first], notes


def _left(text: str) -> str:
    """What is left of a line, without signs at its ends and filling words where it was cut; empty if nothing is."""
    parts, filling = [], set(words_table()["filling"])
    cut = re.split(rf"[|{GONE}]+", text)
    for number, part in enumerate(cut):
        words = re.split(r"[\s_]+", _bare(part))
        while number > 0 and words and words[0].lower() in filling:
            words = words[1:]
        while number < len(cut) - 1 and words and words[-1].lower() in filling:
            words = words[:-1]
        if words and re.search(r"[^\W_]", "".join(words)):
            parts.append(" ".join(words))
    return ", ".join(parts)


def _bare(part: str) -> str:
    """Words without signs at their ends, but for a bracket whose other half is among them."""
    text = part.strip(" \t_-–—,;:.()[]/+&*")
    before, _, after = part.partition(text) if text else ("", "", "")
    for first, last in ("()", "[]"):
        if text.count(first) == text.count(last) + 1 and last in after:
            text += last
        elif text.count(last) == text.count(first) + 1 and first in before:
            text = first + text
    return text


def _merge(said: Said) -> None:
    """One count for each material; a count without one goes with a material without count."""
    if len(said.cuts) == 2:
        bare = [cut for cut in said.cuts if cut.material is None]
        uncounted = [cut for cut in said.cuts if cut.many is None]
        if len(bare) == 1 and len(uncounted) == 1 and bare[0] is not uncounted[0]:
            said.cuts = [CutNote(bare[0].many, bare[0].pair, uncounted[0].material)]
            return
    merged_cuts: dict[Material | None, CutNote] = {}
    for cut in said.cuts:
        known = merged_cuts.get(cut.material)
        if known is None:
            merged_cuts[cut.material] = cut
        elif known.many is None or (cut.pair and cut.many == known.many):
            merged_cuts[cut.material] = CutNote(cut.many, cut.pair or known.pair, cut.material)
        elif cut.many not in (None, known.many):
            of = f" of {cut.material}" if cut.material else ""
            said.doubts.append(f"says both cut {known.many} and cut {cut.many}{of}: {known.many} is taken")
    bare_cut = merged_cuts.get(None)
    if bare_cut is not None and next(iter(merged_cuts)) is not None:
        del merged_cuts[None]
        if bare_cut.many is not None:
            said.doubts.append(f"says cut {bare_cut.many} of a material that is not known here: that is left out")
    said.cuts = list(merged_cuts.values())
