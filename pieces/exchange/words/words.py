"""Words on patterns: how many to cut, in pairs, on the fold, of what; what is left is a name."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple, get_args

from pieces.piece.piece import Material

if TYPE_CHECKING:
    from collections.abc import Iterable

LONGEST = 500
"""Signs of a text that are read."""

MOST_CUT = 500
"""No pattern says more than this."""

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
    """

    cuts: list[CutNote] = field(default_factory=list)
    fold: bool = False
    rest: list[str] = field(default_factory=list)

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
def _words() -> dict[str, Any]:
    text = (files("pieces") / "tables" / "words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _any(phrases: Iterable[str]) -> str:
    """A pattern for any of several phrases, the longest first."""
    ordered = sorted(phrases, key=len, reverse=True)
    return "(?:" + "|".join(re.escape(phrase).replace(r"\ ", r"[\s_-]+") for phrase in ordered) + ")"


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    words = _words()
    number = rf"(?P<n>\d{{1,3}}|{_any(w for all_ in words['numbers'].values() for w in all_)})"
    cut, pair, times = _any(words["cut"]), _any(words["pair"]), _any(words["times"])
    edge, end = r"(?<![^\W_])", r"(?![^\W_])"
    units, where = _any(words["length"]), _any(words["where"])
    materials = _any(w for all_ in words["material"].values() for w in all_)
    # A number that a fraction or a unit follows is a length; "in" is one only where a place follows, and "M" a size.
    number += rf"(?![.,/]\d|\s*(?:\d+/\d|[½¼¾⅛⅜⅝⅞%°\"″”']|(?:{units}|(?-i:m)){end}|in\.?\s+{where}{end}))"
    counts = [
        rf"{edge}(?:{cut}[\s_:-]*)?{number}[\s_-]*(?P<pair>{pair}){end}",
        rf"{edge}{cut}[\s_:-]*(?:{times}[\s_]*)?{number}[\s_]*(?:{times}(?![^\W_]|[\s_]*\d))?{end}",
        rf"{edge}{number}[\s_]*{times}[\s_:-]*{cut}{end}",
        rf"{edge}{number}[\s_]*{cut}{end}",
        rf"{edge}(?<![\d.,]){number}[\s_]*{times}{end}(?![\s_]*[\d½¼¾])",
        rf"(?<![\d.,½¼¾])(?<![\d.,½¼¾]\s){edge}[x×][\s_]*{number.replace('{1,3}', '{1,2}')}{end}(?![.,]\d)",
        rf"{edge}(?<![\d.,]){number}[\s_]+(?:{_any(words['in'])}[\s_]+)?(?={materials}{end})",
        rf"{edge}{cut}[\s_:-]*(?:a[\s_]+)?(?P<pair>{pair}){end}",
        rf"{edge}(?P<pair>{pair}){end}",
    ]
    found = {f"count {i}": re.compile(pattern, re.IGNORECASE) for i, pattern in enumerate(counts)}
    for key in ("mirrored", "fold", "cut", "denied"):
        found[key] = re.compile(rf"{edge}{_any(words[key])}{end}", re.IGNORECASE)
    for material, phrases in words["material"].items():
        found[f"of {material}"] = re.compile(rf"{edge}{_any(phrases)}{end}", re.IGNORECASE)
    return found


@cache
def _number_words() -> dict[str, int]:
    return {word: int(value) for value, words in _words()["numbers"].items() for word in words}


def is_called(text: str, what: str) -> bool:
    """Whether a name means a ``"frame"``, a ``"test_square"`` or the ``"grain"``, whatever stands beside it."""
    plain = " ".join(re.split(r"[\s_-]+", text.lower())).strip()
    return bool(_called(what).fullmatch(plain))


@cache
def _called(what: str) -> re.Pattern[str]:
    pattern = _any(_words()["names"][what])
    return re.compile(rf"{pattern}(?:[\s\d]|$).*" if what == "test_square" else rf"{pattern}\s*\d*")


def is_size(text: str) -> bool:
    """Whether a name is one of a size, such as ``M``, ``38`` or ``size 12``."""
    return bool(_SIZE.fullmatch(text.strip()))


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
        rest = line = " ".join(clause for clause in clauses if clause not in denied)
        for part in _parts(line):
            rest = _read(part, rest, said)
        rest = _left(rest)
        said.rest += [*([rest] if rest else []), *denied]
    _merge(said)
    return said


def _parts(line: str) -> list[str]:
    """The parts of a line that each may name a count and a material: ``cut 2 shell, cut 1 lining``."""
    counted = [m.start() for m in re.finditer(rf"(?<![^\W_]){_any(_words()['cut'])}(?![^\W_])", line, re.IGNORECASE)]
    if len(counted) < 2:
        parts = [part for part in re.split(r"[,;/+&]|\bund\b|\band\b|\bet\b", line) if part.strip()]
        several = [part for part in parts if _count(part)[0] is not None]
        return parts if len(several) > 1 else [line]
    return [line[a:b] for a, b in zip([0, *counted[1:]], [*counted[1:], len(line)], strict=True)]


def _count(part: str) -> tuple[int | None, bool, list[str]]:
    """How many, whether in pairs, and the words that say so."""
    patterns = _patterns()
    count, pair, used = None, False, []
    for key in [key for key in patterns if key.startswith("count")]:
        for found in patterns[key].finditer(part):
            groups = found.groupdict()
            if groups.get("n"):
                number = int(groups["n"]) if groups["n"].isdigit() else _number_words()[groups["n"].lower()]
                if not 1 <= number <= MOST_CUT:
                    continue
                count = count or number * (2 if groups.get("pair") else 1)
            pair = pair or bool(groups.get("pair"))
            used.append(found[0])
        for word in used:
            part = part.replace(word, " | ", 1)
    if mirrored := patterns["mirrored"].search(part):
        pair = True
        used.append(mirrored[0])
    if pair and count is None:
        count = 2
    return count, pair, used


def _read(part: str, rest: str, said: Said) -> str:
    """Read one part; what is left of the line without it."""
    patterns = _patterns()
    for found in patterns["fold"].finditer(part):
        said.fold = True
        rest = rest.replace(found[0], " | ", 1)
    part = patterns["fold"].sub(" | ", part)
    count, pair, used = _count(part)
    for word in used:
        rest = rest.replace(word, " | ", 1)
        part = part.replace(word, " | ", 1)
    materials: list[Material] = []
    for material in get_args(Material):
        for found in patterns[f"of {material}"].finditer(part):
            materials.append(material)
            alone = _left(part.replace(found[0], " | ", 1)) == ""
            if alone or count is not None:
                rest = rest.replace(found[0], " | ", 1)
    if said.fold or pair:
        rest = patterns["cut"].sub(" | ", rest)
    if count is not None or materials:
        for material in dict.fromkeys(materials) or [None]:
            said.cuts.append(CutNote(count, pair and (count or 0) % 2 == 0, material))
    return rest


def _left(text: str) -> str:
    """What is left of a line, without signs at its ends and filling words where it was cut; empty if nothing is."""
    parts, filling = [], set(_words()["filling"])
    cut = text.split("|")
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
    merged: dict[Material | None, CutNote] = {}
    for cut in said.cuts:
        known = merged.get(cut.material)
        if known is None:
            merged[cut.material] = cut
        elif known.many is None or (cut.pair and cut.many == known.many):
            merged[cut.material] = CutNote(cut.many, cut.pair or known.pair, cut.material)
    said.cuts = list(merged.values())
