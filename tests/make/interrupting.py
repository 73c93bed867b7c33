"""Signals at any moment to any command, and what they must leave.

By hand: ``python -m tests.make.interrupting 300``.
"""

from __future__ import annotations

import argparse
import collections
import json
import os
import random
import re
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
import zipfile
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

from reports.signals import ENDED
from tests.make.model import MODEL
from tests.reports.conftest import clean_environment

if TYPE_CHECKING:
    from collections.abc import Iterator

ELLWAND = (sys.executable, "-m", "reports")

COMMANDS = {
    "new": "new mine.toml",
    "draft": "draft job.toml --out out",
    "lay": "lay job.toml --out out --effort 0.1",
    "buy": "buy job.toml --out out --seconds 2 --workers 2",
    "buy as data": "buy job.toml --json --effort 0.2",
    "fits": "fits job.toml --remnant 60in_x_40in --seconds 1 --workers 2 --out out",
    "guide": "guide job.toml --out out",
    "widths": "widths job.toml --from 44in --to 60in --step 4in --workers 2 --effort 0.2 --no-cache --out out",
    "chart": "chart job.toml --widths 45in,60in --workers 2 --effort 0.1 --out out",
    "chart in one process": "chart job.toml --widths 45in,60in --workers 1 --effort 0.1 --no-cache --out out",
    "saves": "saves job.toml --workers 2 --effort 0.03 --no-cache --out out",
    "sizes": "sizes women-letters --job job.toml --out out",
    "import": "import coat.csv --units mm --out out",
    "export": "export job.toml --what pieces --as dxf --as svg --out out",
    "print": "print job.toml --paper a4 --out out",
    "run": "run order.toml --effort 0.03 --workers 2 --out out",
    "report": "report job.toml --out report.xlsx --effort 0.1",
    "serve": "serve --no-open --port 0 --folder kept",
}

SAID = (
    ENDED,
    "ellwand: interrupted; this is the best found so far",
    "ellwand: interrupted before there was anything to show",
    "ellwand: interrupted before the plan was complete; the markers laid are kept: run the same command to continue",
)

COAT = "piece,x mm,y mm\n" + "".join(f"p{i},{x},{y}\n" for i in range(40) for x, y in ((0, 0), (300, 0), (300, 200)))


@dataclass
class Ended:
    """How a command ended that got a signal."""

    command: str
    number: int
    after: float
    code: int
    out: str
    err: str
    faults: list[str]
    early: bool = False


def prepare(folder: Path) -> None:
    """Put what the commands read into a folder."""
    (folder / "job.toml").write_text(MODEL, encoding="utf-8")
    (folder / "coat.csv").write_text(COAT, encoding="utf-8")
    order = files("reports") / "templates" / "order.toml"
    (folder / "order.toml").write_text(order.read_text(encoding="utf-8"), encoding="utf-8")


def begin(command: str, folder: Path, cache: Path) -> subprocess.Popen[str]:
    """Start a command in a group of processes of its own."""
    words = [word.replace("_", " ") for word in COMMANDS[command].split()]
    return subprocess.Popen(
        [*ELLWAND, *words],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env=clean_environment() | {"XDG_CACHE_HOME": str(cache)},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )


def has_begun(process: subprocess.Popen[str]) -> bool:
    """Whether the program has been reached: it answers SIGTERM, which Python itself does not."""
    try:
        status = Path(f"/proc/{process.pid}/status").read_text()
    except OSError:
        return True
    caught = re.search(r"SigCgt:\s*(\w+)", status)
    assert caught
    return bool(int(caught[1], 16) & 1 << (signal.SIGTERM - 1))


def interrupt(
    command: str,
    number: int,
    after: float,
    *,
    group: bool = False,
    again: float | None = None,
    from_start: bool = False,
) -> Ended:
    """Start a command, send it a signal so many seconds after it began, and look at what is left.

    Parameters
    ----------
    group
        Whether all its processes get the signal, as by Ctrl-C on a terminal.
    again
        Seconds after which the signal comes once more.
    from_start
        Count from the very start, where Python itself is not there yet.
    """
    with tempfile.TemporaryDirectory() as name:
        folder, cache = Path(name) / "work", Path(name) / "cache"
        folder.mkdir()
        cache.mkdir()
        prepare(folder)
        process = begin(command, folder, cache)
        while not from_start and process.poll() is None and not has_begun(process):
            time.sleep(0.002)
        is_deaf = process.poll() is not None
        time.sleep(after)
        early = process.poll() is None and not has_begun(process)
        for wait in (0.0, again):
            if wait is None:
                continue
            time.sleep(wait)
            if process.poll() is None:
                (os.killpg if group else os.kill)(process.pid, number)
        try:
            out, err = process.communicate(timeout=90)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)
            out, err = process.communicate()
            return Ended(command, number, after, process.returncode, out, err, ["it did not end"])
        ended = Ended(command, number, after, process.returncode, out, err, [], early)
        ended.faults = [*_faults_of_end(ended), *_orphans(process.pid), *_halves(folder)]
        if is_deaf:
            ended.faults.append("it never answered signals")
        return ended


def _faults_of_end(ended: Ended) -> Iterator[str]:
    """What is wrong with the exit code and what was said."""
    if ended.early:
        return
    normal = {0, 1} if ended.command == "fits" else {0}
    if ended.code not in {128 + ended.number, *normal}:
        yield f"exit code {ended.code}"
    if ended.code in normal and ended.err:
        yield "a line on stderr, and no code that says so"
    if ended.code == 128 + ended.number and ended.err not in [f"{line}\n" for line in SAID]:
        yield "not the one line"
    if ended.command == "buy as data" and ended.out:
        json.loads(ended.out)


def _orphans(group: int) -> list[str]:
    """Processes of a group that are left, seconds after the program ended."""
    end = time.monotonic() + 5
    while left := [pid for pid in map(int, filter(str.isdigit, os.listdir("/proc"))) if _group_of(pid) == group]:
        if time.monotonic() > end:
            os.killpg(group, signal.SIGKILL)
            return [f"{len(left)} processes left"]
        time.sleep(0.05)
    return []


def _group_of(pid: int) -> int | None:
    try:
        state, _, group = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[:3]
    except OSError:
        return None
    return None if state == "Z" else int(group)


def _halves(folder: Path) -> Iterator[str]:
    """Files that are not whole."""
    for path in sorted(folder.rglob("*")):
        if path.is_dir() or "kept" in path.parts:
            continue
        if path.name.startswith("."):
            yield f"{path.name} is left over"
            continue
        try:
            _read(path)
        except Exception as error:
            yield f"{path.name} is not whole: {error}"


def _read(path: Path) -> None:
    data = path.read_bytes()
    assert data, "it is empty"
    match path.suffix:
        case ".json":
            json.loads(data)
        case ".toml":
            tomllib.loads(data.decode())
        case ".svg":
            ElementTree.fromstring(data)
        case ".png":
            assert data.endswith(b"IEND\xaeB`\x82")
        case ".pdf":
            assert data.rstrip().endswith(b"%%EOF")
        case ".xlsx":
            with zipfile.ZipFile(path) as book:
                assert book.testzip() is None
        case ".dxf":
            assert data.rstrip().endswith(b"EOF")


def durations() -> dict[str, float]:
    """How long each command takes, seconds, left alone (`serve`: until it answers)."""
    taken: dict[str, float] = {}
    for command in COMMANDS:
        with tempfile.TemporaryDirectory() as name:
            prepare(Path(name))
            began = time.monotonic()
            process = begin(command, Path(name), Path(name) / "cache")
            if command == "serve":
                process.stdout.readline()
                taken[command] = time.monotonic() - began
                process.terminate()
            process.communicate()
            taken.setdefault(command, time.monotonic() - began)
    return taken


def main() -> None:
    """Send signals, and say what became of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("times", type=int, help="how many signals")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", help="one command")
    parser.add_argument("--early", action="store_true", help="also while Python itself is starting")
    asked = parser.parse_args()
    rng, taken = random.Random(asked.seed), durations()
    counts: collections.Counter[str] = collections.Counter()
    for number in range(asked.times):
        command = asked.only or rng.choice(list(COMMANDS))
        share = rng.random() ** rng.choice((1, 2, 4))  # often early, while all is imported
        ended = interrupt(
            command,
            rng.choice((signal.SIGINT, signal.SIGTERM, signal.SIGHUP)),
            share * taken[command] * 1.05,
            group=rng.random() < 0.5,
            again=rng.choice((None, None, 0.01, 0.3)),
            from_start=asked.early,
        )
        counts["early" if ended.early else f"code {ended.code}"] += 1
        if ended.faults:
            counts["FAULTS"] += 1
            print(number, ended.command, ended.number, f"{ended.after:.3f} s", ended.code, *ended.faults, sep=" | ")
            print(ended.err[-1500:])
    print(", ".join(f"{count} {what}" for what, count in sorted(counts.items())))
    sys.exit(bool(counts["FAULTS"]))


if __name__ == "__main__":
    main()
