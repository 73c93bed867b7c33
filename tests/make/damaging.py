"""Damaged files into the commands: whatever a file holds, an answer or one line.

By hand: ``python -m tests.make.damaging 10000 --seed 1``; the same seed makes the same files.
"""

from __future__ import annotations

import argparse
import collections
import contextlib
import io
import json
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reports.commands.cli import main as command
from reports.one_line import LONGEST
from tests.make.drawings import dxf, svg
from tests.make.model import MODEL
from tests.make.orders import SMALL, changed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

PATIENCE = 120
"""Seconds after which a command counts as one that does not end."""

TYPES = ("true", "[]", "{}", '"x"', "3", "-1.5", "nan", "inf", "1979-05-27", '["a", 1]', "null", "[[[]]]")
NUMBERS = (
    *("9" * 400, "9" * 5000, "-" + "9" * 4400, "1e308", "-1e308", "1e999", "1e-320", "-0.0", "0", "nan", "inf"),
    *("0x10", "1_000", "1,5", "1.234,5", "½", "1/0", "99999999999", "0.0000001", "٣", "2147483648", "1 1/2", "--5"),
)
WORDS = (
    *("", " ", "x" * 5000, "\x1b[31mred\x1b[0m", "\u202eabc", "\x07\x00", "\ud800", "\\ud800", "\\u0000", "=1+1"),
    *(
        "{name}",
        "%s%n",
        "../../etc/passwd",
        "crêpe ½ 布 👗",
        "a\nb",
        "'",
        '"',
        "]]>",
        "&amp;&lt;",
        "a,b;c\td",
        "𝔘" * 300,
    ),
)
DEEP = ("[" * 50_000, '{"a":' * 5_000, "<g>" * 5_000, "a." * 5_000 + "a = 1", "  0\nSECTION\n" * 5_000, "(" * 9_999)


@dataclass(frozen=True)
class Kind:
    """A form of file, sound, and the commands that read it.

    Parameters
    ----------
    name
        What the damaged file is called.
    text
        The sound file.
    commands
        Words of the command line, each with how often it is chosen beside the others.
    others
        Sound files that have to stand beside it.
    share
        How often it is chosen beside the others; less where the command takes long.
    """

    name: str
    text: bytes
    commands: tuple[tuple[str, int], ...]
    others: tuple[tuple[str, str], ...] = ()
    share: float = 1.0


IMPORTED = re.sub(r"\[body\].*?(?=\[\[fabric)", "", MODEL, flags=re.DOTALL).partition("[[rib]]")[0]
IMPORTED = IMPORTED.replace('garment = "rib-jacket"', 'garment = "imported"\npieces_file = "pieces.json"')


SIZES = "size,bust (cm),hip (cm),across_shoulder (cm),neck (cm),upper_arm (cm),wrist (cm),arm_length (cm)\n"
SIZES += "M,94,102,40,36,30,17,60\nL,102,110,41,37,32,18,61\n"
IMPORTS = (("import {} --units mm --json", 3), ("import {} --units mm --out out --force", 1))
DRAFTS = (("draft job.toml --json", 4), ("lay job.toml --effort 0 --json", 1))


def kinds() -> tuple[Kind, ...]:
    """Every form of file that a command reads."""
    pieces, marker = _answers()
    return (
        Kind("job.toml", MODEL.encode(), (*DRAFTS, ("buy job.toml --effort 0", 1), ("guide job.toml --effort 0", 1))),
        Kind("job.toml", MODEL.encode(), (("fits job.toml --remnant 60in_x_40in --effort 0 --json", 1),)),
        *_orders(),
        Kind("pieces.json", pieces.encode(), DRAFTS, (("job.toml", IMPORTED),)),
        Kind("marker.json", marker.encode(), (("check marker.json --job job.toml", 1),), (("job.toml", MODEL),)),
        *_sizes(),
        *_drawings(),
        Kind("own.json", pieces.encode(), (("import own.json --json", 1),)),
    )


def _orders() -> Iterator[Kind]:
    table = SIZES.replace("size", "name,quantity", 1).replace("M,", "Ada,1,").replace("L,", "Bea,2,")
    order = changed(*SMALL)
    with_clients = re.sub(r"^\[quantity\]\n(.*\n)*?\n", "", order, flags=re.MULTILINE).replace(
        "sizes =", 'clients = "clients.csv"\n# sizes ='
    )
    words = (("run order.toml --effort 0", 1),)
    yield Kind("order.toml", order.encode(), (("run order.toml --effort 0 --no-cache", 1),), share=0.02)
    yield Kind("clients.csv", table.encode(), words, (("order.toml", with_clients),), share=0.02)


def _sizes() -> Iterator[Kind]:
    told = "[measures]\nbust = [86, 94]\nhip = [94, 102]\n"
    told = 'title = "Ours"\nwearer = "women"\nsource = "made up"\nunit = "cm"\nsizes = ["S", "M"]\n' + told
    yield Kind("sizes.csv", SIZES.encode(), (("sizes sizes.csv --job job.toml", 1),), (("job.toml", MODEL),))
    yield Kind("sizes.toml", told.encode(), (("sizes sizes.toml", 3), ("sizes sizes.toml --json", 1)))


def _drawings() -> Iterator[Kind]:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        drawn = [dxf(folder / f"{version}.dxf", _draw, version=version).read_bytes() for version in ("R12", "R2010")]
        picture = svg(
            folder / "a.svg",
            '<style>.a{stroke:red}</style><defs><path id="b" d="M0 0h99v80z"/></defs><g id="front">'
            '<path class="a" d="M0 0 C 9 9 50 9 99 0 L 99 80 A 5 5 0 0 1 9 80 Z"/><use href="#b" x="120" y="9"/>'
            '<text x="5" y="5">cut 2</text><rect x="9" y="99" width="80" height="70"/></g>',
        ).read_bytes()
    corners = [[0, 0], [300, 0], [300, 200], [0, 200]]
    outlines = json.dumps({"unit": "mm", "pieces": {"front": corners, "back": [[x, y + 9] for x, y in corners]}})
    traced = 'units = "cm"\n[[piece]]\nname = "a"\ncut = 2\npoints = """\n0, 0\n10, 0 bulge 1\n10, 8\n"""\n'
    yield Kind("a.dxf", drawn[0], IMPORTS)
    yield Kind("b.dxf", drawn[1], IMPORTS)
    yield Kind("a.svg", picture, IMPORTS)
    table = b"piece,x mm,y mm,bulge\na,0,0,\na,100,0,5\na,100,80,\nb,0,0,\nb,50,0,\nb,50,60,\n"
    yield Kind("a.csv", table, IMPORTS)
    yield Kind("a.json", outlines.encode(), IMPORTS)
    yield Kind("a.toml", traced.encode(), IMPORTS)
    yield Kind(
        "a.pieces.toml",
        b'[[piece]]\nname = "a"\nmaterial = "shell"\ncut = 2\ngrain = 90\nfold = "none"\n',
        (("import a.csv --units mm --json", 1),),
        (("a.csv", "piece,x mm,y mm\na,0,0\na,100,0\na,100,80\n"),),
    )


def _draw(document: Drawing, space: Modelspace) -> None:
    block = document.blocks.new("FRONT")
    block.add_polyline2d([(0, 0, 0.2), (100, 0, 0), (100, 80, 0)], format="xyb", close=True, dxfattribs={"layer": "1"})
    block.add_text("PIECE NAME: front", dxfattribs={"layer": "1"})
    block.add_line((9, 9), (50, 9), dxfattribs={"layer": "7"})
    space.add_blockref("FRONT", (0, 0))
    space.add_circle((300, 300), 40)
    space.add_arc((500, 0), 50, 0, 90)
    space.add_line((500, 50), (550, 0))
    if document.dxfversion > "AC1009":
        space.add_spline([(0, 500), (90, 520), (80, 600), (0, 590), (0, 500)])


def _answers() -> tuple[str, str]:
    """Pieces and a marker of the model job, as the commands write them."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "job.toml").write_text(MODEL, encoding="utf-8")
        ran = run("lay job.toml --effort 0 --out out", folder)
        assert ran.code == 0, ran
        return (folder / "out" / "pieces.json").read_text(), (folder / "out" / "marker-1.json").read_text()


def _put(rng: random.Random, data: bytes, pattern: bytes, words: tuple[str, ...]) -> bytes:
    """Put one of some words in the place of something that a pattern finds."""
    places = list(re.finditer(pattern, data))
    if not places:
        return data
    place = rng.choice(places)
    return data[: place.start(1)] + rng.choice(words).encode("utf-8", "surrogatepass") + data[place.end(1) :]


def _lines(rng: random.Random, data: bytes) -> bytes:
    """Lines swapped, dropped or said twice."""
    lines = data.splitlines(keepends=True)
    first, second = (rng.randrange(len(lines)) for _ in range(2)) if lines else (0, 0)
    match rng.randrange(3) if len(lines) > 1 else 3:
        case 0:
            lines[first], lines[second] = lines[second], lines[first]
        case 1:
            del lines[first : first + rng.choice((1, 1, 4))]
        case 2:
            lines.insert(second, lines[first])
    return b"".join(lines)


def _encoded(rng: random.Random, data: bytes) -> bytes:
    text = data.decode("utf-8", "replace")
    how = rng.choice(("utf-16", "utf-16-be", "utf-32", "latin-1", "cp1252", "utf-8-sig", "utf-7"))
    return text.replace("front", "façade", 1).encode(how, "replace")


def _bits(rng: random.Random, data: bytes) -> bytes:
    changed = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 8))):
        if changed:
            changed[rng.randrange(len(changed))] ^= 1 << rng.randrange(8)
    return bytes(changed)


def _slice(rng: random.Random, data: bytes) -> bytes:
    """A part left out, said twice, or all after it cut off."""
    start = rng.randrange(len(data) + 1)
    end = min(len(data), start + rng.choice((1, 5, 40, 400)))
    return rng.choice((data[:start], data[:start] + data[end:], data[:end] + data[start:]))


def _deep(rng: random.Random, data: bytes) -> bytes:
    """Something nested deeply, somewhere or in the place of a value."""
    deep = rng.choice(DEEP)
    if rng.random() < 0.5:
        return _put(rng, data, rb"[=:>] *([^\n,<]+)", (deep,))
    start = rng.randrange(len(data) + 1)
    return data[:start] + deep.encode() + data[start:]


WAYS: tuple[Callable[[random.Random, bytes], bytes], ...] = (
    _bits,
    _slice,
    _lines,
    _encoded,
    _deep,
    lambda rng, data: _put(rng, data, rb"(?<![\w#])(-?\d[\d.]*)", NUMBERS),
    lambda rng, data: _put(rng, data, rb"(?<![\w#])(-?\d[\d.]*)", NUMBERS),
    lambda rng, data: _put(rng, data, rb'"([^"\n]*)"', WORDS),
    lambda rng, data: _put(rng, data, rb"(?:[=:] *|, *)([^\n,}\]]+)", TYPES),
    lambda rng, data: _put(rng, data, rb"(\w+) *[=:]", ("salvage", "name", '""', "x" * 2000, "a.b.c", "__class__")),
)


def damaged(rng: random.Random, data: bytes) -> bytes:
    """A file with one to three things wrong."""
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        data = rng.choice(WAYS)(rng, data)
    return data


@dataclass
class Ran:
    """How a command ended."""

    code: int | str
    out: str
    err: str


def run(words: str, folder: Path) -> Ran:
    """Run `ellwand` in this process, within a folder."""
    argv, here = sys.argv, Path.cwd()
    said, told = io.StringIO(), io.StringIO()
    sys.argv = ["ellwand", *(word.replace("_", " ") for word in words.split())]
    os.chdir(folder)
    try:
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(told):
            command()
        code: int | str = "no exit"
    except SystemExit as ended:
        code = ended.code or 0
    except BaseException:
        code = "traceback"
        told.write(traceback.format_exc())
    finally:
        sys.argv = argv
        os.chdir(here)
    return Ran(code, said.getvalue(), told.getvalue())


def run_apart(words: str, folder: Path) -> Ran:
    """Run `ellwand` as a process of its own, its output in ASCII."""
    line = [sys.executable, "-m", "reports", *(word.replace("_", " ") for word in words.split())]
    done = subprocess.run(
        line, cwd=folder, capture_output=True, timeout=PATIENCE, env=os.environ | {"PYTHONIOENCODING": "ascii"}
    )
    return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())


def faults_of(ran: Ran) -> Iterator[str]:
    """What is wrong with how a command ended."""
    if ran.code not in (0, 1, 2):
        yield f"code {ran.code}"
    elif ran.code == 2:
        line = ran.err.removesuffix("\n")
        if not line.startswith("ellwand: "):
            yield "no line that begins with the command's name"
        if len(line) > LONGEST:
            yield f"a line of {len(line)} signs"
        if not line.isprintable():
            yield "signs that cannot be seen, or more than one line"
    elif ran.err:
        yield "something on stderr, and no code that says so"


@dataclass
class Case:
    """A damaged file, the command it went into, and what came of it."""

    number: int
    words: str
    data: bytes
    ran: Ran
    seconds: float
    faults: list[str]


def cases(numbers: Iterable[int], seed: int, folder: Path, *, apart: float = 0.0) -> Iterator[Case]:
    """Damaged files through the commands; the number of each with the seed makes it again.

    Parameters
    ----------
    apart
        Share of those run as processes of their own.
    """
    every = kinds()
    for number in numbers:
        rng = random.Random(f"{seed}-{number}")
        kind = rng.choices(every, [kind.share for kind in every])[0]
        words = rng.choices([words for words, _ in kind.commands], [share for _, share in kind.commands])[0]
        words, data = words.format(kind.name), damaged(rng, kind.text)
        for name, text in kind.others:
            (folder / name).write_text(text, encoding="utf-8")
        (folder / kind.name).write_bytes(data)
        began = time.monotonic()
        ran = _in_time(run_apart if rng.random() < apart else run, words, folder)
        for path in folder.iterdir():
            if path.is_file():
                path.unlink()
        yield Case(number, words, data, ran, time.monotonic() - began, list(faults_of(ran)))


def _in_time(how: Callable[[str, Path], Ran], words: str, folder: Path) -> Ran:
    def late(*_: object) -> None:
        raise TimeoutError("it does not end")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(PATIENCE)
    try:
        return how(words, folder)
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def main() -> None:
    """Damage files, and say what became of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("times", type=int, help="how many files")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--apart", type=float, default=0.01, help="share run as processes of their own")
    parser.add_argument("--keep", type=Path, help="folder for files that show a fault")
    asked = parser.parse_args()
    counts: collections.Counter[str] = collections.Counter()
    slowest: list[tuple[float, int, str]] = []
    with tempfile.TemporaryDirectory() as name, tempfile.TemporaryDirectory() as cache:
        os.environ["XDG_CACHE_HOME"] = cache
        for case in cases(range(asked.times), asked.seed, Path(name), apart=asked.apart):
            counts[f"code {case.ran.code}"] += 1
            slowest = sorted([*slowest, (round(case.seconds, 1), case.number, case.words)], reverse=True)[:5]
            if case.faults:
                counts["FAULTS"] += 1
                print(case.number, case.words, *case.faults, sep=" | ")
                print(case.ran.err[-1200:], flush=True)
                if asked.keep:
                    asked.keep.mkdir(parents=True, exist_ok=True)
                    (asked.keep / f"{asked.seed}-{case.number}-{case.words.split()[1]}").write_bytes(case.data)
    print(", ".join(f"{count} {what}" for what, count in sorted(counts.items())), "slowest:", slowest)
    sys.exit(bool(counts["FAULTS"]))


if __name__ == "__main__":
    main()
