"""How many are cut, and whether in pairs: the counts in a line of words, by `tables/words.toml`."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

MOST_CUT = 500
"""No pattern says more than this."""

EDGE, END = r"(?<![^\W_])", r"(?![^\W_])"
"""Where a word begins, and where one ends; a low line parts words."""

GONE = "\0"
"""Stands in a line for each sign that was understood."""


class CutCount(NamedTuple):
    """A count in a line: where it stands, how many, whether in pairs, what is doubtful."""

    start: int
    end: int
    many: int
    pair: bool = False
    doubt: str = ""


@cache
def words_table() -> dict[str, Any]:
    """The words by meaning."""
    table: dict[str, Any] = tomllib.loads((files("pieces") / "tables" / "words.toml").read_text(encoding="utf-8"))
    return table


def any_of(phrases: Iterable[str]) -> str:
    """A pattern for any of several phrases, the longest first."""
    ordered = sorted(phrases, key=len, reverse=True)
    return "(?:" + "|".join(re.escape(phrase).replace(r"\ ", r"[\s_-]+") for phrase in ordered) + ")"


def without(line: str, spans: Iterable[tuple[int, int]]) -> str:
    """A line as long as before, in which what was understood is gone."""
    for start, end in spans:
        line = line[:start] + GONE * (end - start) + line[end:]
    return line


def counts_in(line: str) -> list[CutCount]:
    """The counts in a line, in its order."""
    found: list[CutCount] = []
    for read, needs in ((_both_sides, ("left", "right")), (_mirrored_too, ("turned",)), (_plain, ("any",))):
        for count in read(line) if all(_patterns()[need].search(line) for need in needs) else ():
            found.append(_with_what_follows(line, count))
            line = without(line, [found[-1][:2]])
    return sorted(found)


def holds_a_number(line: str) -> bool:
    """Whether a word of cutting or counting stands in a line beside a number that is no length."""
    return bool(_patterns()["count word"].search(line) and _patterns()["number"].search(line))


def _number(name: str) -> str:
    """A whole number, by signs or as a word, that is no length."""
    words = words_table()
    number = rf"(?P<{name}>\d{{1,3}}(?!\d)|{any_of(w for all_ in words['numbers'].values() for w in all_)})"
    units, where = any_of(words["length"]), any_of(words["where"])
    # A number that a fraction or a unit follows is a length; "in" is one only where a place follows, and "M" a size.
    return number + rf"(?![.,/]\d|\s*(?:\d+/\d|[½¼¾⅛⅜⅝⅞%°\"″”']|(?:{units}|(?-i:m)){END}|in\.?\s+{where}{END}))"


@cache
def _parts() -> dict[str, str]:
    """Parts of patterns: lists of words by their key, numbers, and what may stand round them."""
    words = words_table()
    said = {key: any_of(value) for key, value in words.items() if isinstance(value, list)}
    materials = any_of(w for kind in ("material", "material_after") for all_ in words[kind].values() for w in all_)
    mirrored = any_of([*words["mirrored"], *words["mirrored_after"]])
    cut, times, each = rf"(?:{said['cut']}|{said['make']}|{said['quantity']})", said["times"], said["each"]
    multiplied = rf"[\s_]*(?:{times}{END})?[\s_]*"
    of_material = rf"(?:{said['in']}[\s_]+)?{materials}"
    ends = rf"[\s_.-]*(?:$|[,;:/+&()\[\]|{GONE}]|(?:{times}|{of_material}|{mirrored}|{said['pair']}){END})"
    return said | {
        "n": _number("n"),
        "m": _number("m"),
        "materials": materials,
        "named": any_of(w for all_ in words["material"].values() for w in all_),
        "any_mirrored": mirrored,
        "any_cut": cut,
        "join": rf"[\s_]*(?:[,;/|(-]|{said['joining']})?[\s_]*",
        "amount": rf"{EDGE}(?:{cut}[\s_.:=-]*)?(?:{each}[\s_]*)?(?:[x×][\s_]*)?{_number('n')}{multiplied}",
        "too": rf"{_number('m')}{multiplied}{mirrored}{END}",
        "second": rf"{_number('m')}{multiplied}",
        "so often": rf"(?:{times}(?![^\W_]|[\s_]*\d))?",
        "stop or each": rf"(?=$|{ends}|[\s_]*(?:{said['per']}[\s_]+[^\W\d_]|{said['each_side']}{END}))",
        "per each": rf"[\s_]*(?P<word>(?:{said['per']}[\s_]+[^\W\d_]+|{said['each_side']}){END})",
        "ends": ends,
        "stop": f"(?={ends})",
        "twice": r"(?:(?P<before>\d{1,3})[\s_]*(?=[(]))?[(]?",
        "of_all": r"(?<!\bof )(?<!\bhas )(?<!\bhat )(?<!\ball )",
    }


@cache
def _patterns() -> dict[str, re.Pattern[str]]:
    every = _of_halves(_parts()) | _of_counts(_parts()) | _of_the_rest(_parts())
    return {key: re.compile(pattern, re.IGNORECASE) for key, pattern in every.items()}


def _of_halves(p: dict[str, str]) -> dict[str, str]:
    """Counts of left and right, and of what is mirrored."""
    return {
        **{
            f"both {one}": rf"{p['amount']}{one}{END}{p['join']}(?:{p['any_cut']}[\s_]*)?{p['second']}{other}{END}"
            for one, other in ((p["left"], p["right"]), (p["right"], p["left"]))
        },
        **{
            f"either {one}": rf"{p['amount']}(?P<each>{p['each']}[\s_]*)?{one}{END}{p['join']}{other}{END}"
            for one, other in ((p["left"], p["right"]), (p["right"], p["left"]))
        },
        **{
            f"cut {one}": rf"{EDGE}{p['cut']}[\s_:-]*{one}{END}{p['join']}{other}{END}"
            for one, other in ((p["left"], p["right"]), (p["right"], p["left"]))
        },
        "plus": rf"{p['amount']}{p['joining']}[\s_]*{p['too']}",
        "of": rf"{p['amount']}[,(]?[\s_]*(?:of these|davon|dont)?[\s_]*{p['too']}",
        "over": rf"{p['amount']}[,(]?[\s_]*{p['joining']}?[\s_]*{p['turn_over']}[\s_]*{p['m']}{END}",
        "and over": rf"{p['amount']}{p['joining']}[\s_]*{p['turn_over']}{END}",
    }  # fmt: skip


def _of_counts(p: dict[str, str]) -> dict[str, str]:
    """All other counts, in the order in which they are tried."""
    return {
        "count 1": rf"{EDGE}{p['twice']}(?:{p['any_cut']}[\s_.:=-]*)?{p['n']}[\s_-]*(?P<pair>{p['pair']}){END}",
        "count 2": rf"{EDGE}{p['cut']}[\s_:=-]*(?:{p['times']}[\s_]*)?{p['n']}[\s_]*{p['so often']}{END}",
        "count 3": rf"{EDGE}{p['cut']}[\s_:]*[(\[][x×]?{p['n']}[\s_]*{p['so often']}[)\]]",
        "count 4": rf"{EDGE}{p['cut']}[\s_:-]*{p['n']}(?={p['counted']}{END})",
        "count 5": rf"{EDGE}{p['n']}[\s_]*{p['times']}[\s_:-]*{p['cut']}{END}",
        "count 6": rf"{EDGE}{p['n']}[\s_]*{p['cut']}{END}",
        "count 7": rf"{EDGE}(?<![\d.,]){p['n']}[\s_-]*{p['times']}{END}(?![\s_]*[\d½¼¾])",
        "count 8": rf"(?<![\d.,½¼¾])(?<![\d½¼¾]\s){EDGE}[x×][\s_]*{p['n'].replace('{1,3}', '{1,2}')}{END}(?![.,]\d)",
        "count 9": rf"{EDGE}{p['make']}[\s_:-]*(?:[x×][\s_]*)?{p['n']}{END}(?=(?:\s*{p['counted']}{END})?{p['ends']})",
        "count 10": rf"{EDGE}{p['quantity']}[\s_.:=()-]*(?:[x×][\s_]*)?{p['n']}{END}{p['stop']}",
        "count 11": rf"{p['of_all']}{EDGE}(?<![\d.,/]){p['n']}[\s_-]*{p['counted']}{END}{p['stop or each']}",
        "count 12": rf"{EDGE}(?:(?<=[:=])|(?<=[:=]\s)){p['n']}{END}{p['stop']}",
        "count 13": rf"{EDGE}(?<![\d.,]){p['n']}[\s_]*(?:(?<=[\s_]){p['in']}[\s_]+)?(?={p['materials']}{END})",
        "count 14": rf"{EDGE}{p['cut']}[\s_:-]*(?:a[\s_]+)?(?P<pair>{p['pair']}){END}",
        "count 15": rf"{EDGE}(?P<pair>{p['pair']}){END}",
        "count 16": rf"^\W*{p['n']}[\s_]*(?={p['mirrored']}{END})",
        "count 17": rf"{EDGE}(?<![\d.,/]){p['n']}(?={p['per each']})",
    }  # fmt: skip


def _of_the_rest(p: dict[str, str]) -> dict[str, str]:
    """What may follow a count, and what is looked for first."""
    return {
        "mirrored after": rf"[\s_,(:-]*(?:in[\s_]+)?(?P<word>{p['mirrored_after']}){END}",
        "counted after": rf"[\s_]*(?:{p['counted']}|{p['each']}){END}",
        "per": p["per each"],
        "range": rf"[\s_]*(?:[-–/]|{p['or']}[\s_])[\s_]*{p['m']}{END}",
        "after material": rf"{p['named']}[\s_]*$",
        "material and number": rf"{EDGE}{p['named']}[\s_]+{p['n']}{END}{p['stop']}",
        "count word": rf"{EDGE}(?:{p['any_cut']}|{p['pair']}|{p['perhaps']}){END}",
        "any": rf"\d|(?:{EDGE}|[x×]){p['n']}|{EDGE}(?:{p['pair']}|{p['cut']}){END}",
        "whole": rf"{EDGE}{p['whole']}{END}",
        "left": rf"(?:{EDGE}|\d){p['left']}{END}",
        "right": rf"(?:{EDGE}|\d){p['right']}{END}",
        "turned": rf"{EDGE}(?:{p['any_mirrored']}|{p['turn_over']}){END}",
        "number": rf"{EDGE}(?:{p['n']}|{p['doubled']}){END}",
    }  # fmt: skip


@cache
def _number_words() -> dict[str, int]:
    return {word: int(value) for value, words in words_table()["numbers"].items() for word in words}


def _value(text: str) -> int:
    """The number that a group stands for; 0 if it is beyond what is cut."""
    number = int(text) if text.isdigit() else _number_words()[text.lower()]
    return number if number <= MOST_CUT else 0


def _both_sides(line: str) -> list[CutCount]:
    """Counts of left and of right: ``1 left, 1 right``, ``2L 2R``, ``1 each left and right``, ``cut L & R``."""
    found = []
    for key, pattern in _patterns().items():
        if not key.startswith(("both", "either", "cut ")):
            continue
        for match in pattern.finditer(line):
            said = match.groupdict()
            one = _value(said["n"]) if said.get("n") else 1
            other = _value(said["m"]) if said.get("m") else one
            if not (one and other):
                continue
            many = one + other
            if key.startswith("either") and not said["each"] and one > 1:
                many = one  # "cut 2 left and right": two in all
            found.append(_paired(match, many, 0 if one == other else abs(one - other)))
        line = without(line, [count[:2] for count in found])
    return found


def _paired(match: re.Match[str], many: int, more: int) -> CutCount:
    """A count of which half is mirrored, or not half."""
    doubt = f"says that {more} more are cut one way round than the other: write them as two pieces" if more else ""
    return CutCount(*match.span(), many, not more, doubt)


def _mirrored_too(line: str) -> list[CutCount]:
    """Counts of which some are mirrored: ``cut 2 + 2 mirrored``, ``cut 2 (1 mirrored)``, ``cut 1, reverse 1``."""
    found = []
    for key in ("plus", "over", "of", "and over"):
        for match in _patterns()[key].finditer(line):
            said = match.groupdict()
            one, other = _value(said["n"]), _value(said.get("m") or said["n"])
            if not (one and other):
                continue
            if key == "of" and one != other:
                found.append(_paired(match, one, abs(one - 2 * other)))
            else:
                found.append(_paired(match, one + other, abs(one - other)))
        line = without(line, [count[:2] for count in found])
    return found


def _plain(line: str) -> list[CutCount]:
    """All other counts."""
    found: list[CutCount] = []
    patterns = _patterns()
    after_materials = len(patterns["material and number"].findall(line)) > 1
    for key in (key for key in patterns if key.startswith("count ") and key != "count word"):
        for match in patterns[key].finditer(line):
            said = match.groupdict()
            if key == "count 11" and patterns["whole"].search(line):
                continue  # "Pattern: 12 pieces" is of all pieces
            if key == "count 12" and not patterns["after material"].search(line[: match.start()].rstrip(" \t:=_")):
                continue
            many = _value(said["n"]) if said.get("n") else 1
            if many == 0:
                continue
            pair, doubt = bool(said.get("pair")), ""
            many *= 2 if pair else 1
            before = int(said.get("before") or many)
            if before != many:
                many, doubt = before, f"says both {before} and {many}: {before} is taken"
            elif key == "count 1" and re.search(r"\d/$", line[: match.start()]):
                doubt = f"has a fraction before '{said['pair']}': {many} is taken"
            found.append(CutCount(*match.span(), many, pair, doubt))
        line = without(line, [count[:2] for count in found])
    if after_materials:
        matches = patterns["material and number"].finditer(line)
        found += [CutCount(*match.span("n"), _value(match["n"]) or 1) for match in matches]
    return found


def _with_what_follows(line: str, count: CutCount) -> CutCount:
    """A count with the words right after it that belong to it."""
    patterns, (start, end, many, pair, doubt) = _patterns(), count
    if rest := patterns["range"].match(line, end):
        other = _value(rest["m"])
        if other > many:
            end, doubt = rest.end(), doubt or f"says {many} to {other}: {many} is taken"
    if not patterns["per"].match(line, end) and (rest := patterns["counted after"].match(line, end)):
        end = rest.end()
    if rest := patterns["mirrored after"].match(line, end):
        end, pair = rest.end(), True
    if rest := patterns["per"].match(line, end):
        doubt = doubt or f"says {many} {' '.join(rest['word'].split())}: {many} is taken"
    return CutCount(start, end, many, pair, doubt)


def merged(counts: Sequence[CutCount], line: str) -> list[CutCount]:
    """Counts with what says the same once more: ``cut 2 (1 pair)``."""
    done: list[CutCount] = []
    for count in counts:
        last = done[-1] if done else None
        between = line[last.end : count.start] if last else ""
        if last and (count.pair or last.pair) and not re.search(r"[^\W_]", between):
            doubt = last.doubt or count.doubt
            if last.many != count.many and not (count.pair and last.pair):
                doubt = f"says both {last.many} and {count.many}: {last.many} is taken"
            done[-1] = CutCount(last.start, count.end, last.many or count.many, pair=True, doubt=doubt)
        else:
            done.append(count)
    return done
