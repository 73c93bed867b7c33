"""Which small mistakes in rules that cost money or cloth does no test see.

python benchmarks/mutants.py [--only NAME]... [--area FILE]... [--jobs N] [--afresh] [--named-only]

The table is `benchmarks/mutants/*.toml`, one file an area. Each mutant names a file, the text that stands once in it,
the text put in its place, what that costs, and the tests that should see it. A worker has a copy of the tree in a
temporary folder; the checkout is never touched. A mutant that its named tests pass meets all tests of their folders
before it is called a survivor; one proved to change nothing is marked `equivalent`, with the proof, and not run.
The first test that fails must pass without the mutant; if it does not, the mutant has no baseline.
What was found is kept (`--kept`) for as long as the mutant, its file and its named tests stay as they are.
"""

from __future__ import annotations

import argparse
import compileall
import contextlib
import hashlib
import json
import multiprocessing
import os
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import pytest

ROOT = Path(__file__).parents[1]
TABLE = Path(__file__).with_suffix("")
KEPT = Path(tempfile.gettempdir()) / "ellwand-mutants.jsonl"
LEFT_OUT = shutil.ignore_patterns(".git", ".venv", ".*_cache", ".hypothesis", "out", "ellwand-*", "*.egg-info")

OPTIONS = ("-x", "-q", "--tb=no", "-p", "no:cacheprovider", "-o", "addopts=--import-mode=importlib")
"""Of pytest: none but the project's way to import, whatever else its settings add."""

FORKS = multiprocessing.get_context("forkserver")
"""Tests run in children of a process that has loaded the libraries, which takes longer than most tests do."""

LIBRARIES = ["pytest", "hypothesis.strategies", "numpy", "numba", "shapely", "pydantic", "ezdxf", "matplotlib"]

Fate = Literal["killed", "survived", "timed out", "equivalent", "stale", "no baseline"]
FATES: tuple[Fate, ...] = ("killed", "survived", "timed out", "equivalent", "stale", "no baseline")


@dataclass(frozen=True)
class Mutant:
    """One mistake.

    Parameters
    ----------
    name
        Its own, in the whole table.
    file
        The file it is made in, from the root of the tree.
    old, new
        The text that stands once in the file, and what is put in its place.
    why
        What the mistake costs.
    tests
        Test files that should see it, quickest first; a test after ``::`` for one alone.
    equivalent
        The proof that it changes nothing; empty of all others.
    """

    name: str
    file: str
    old: str
    new: str
    why: str
    tests: tuple[str, ...]
    equivalent: str = ""

    def mutated(self, root: Path = ROOT) -> str | None:
        """The file's text with the mistake in it; None if `old` does not stand exactly once in it."""
        path = root / self.file
        text = path.read_text(encoding="utf-8") if path.is_file() else ""
        return text.replace(self.old, self.new) if text.count(self.old) == 1 and self.old != self.new else None

    def digest(self, root: Path = ROOT) -> str:
        """A mark of the mutant, its file and its named tests: what was found holds as long as it does."""
        files = [root / name for name in (self.file, *(test.split("::")[0] for test in self.tests))]
        texts = [path.read_text(encoding="utf-8") for path in files if path.is_file()]
        return hashlib.sha256("\0".join((self.old, self.new, *self.tests, *texts)).encode()).hexdigest()


@dataclass(frozen=True)
class Found:
    """What became of a mutant, after how many seconds, and by which test."""

    name: str
    fate: Fate
    seconds: float
    digest: str
    by: str = ""


def read_table(folder: Path = TABLE, areas: tuple[str, ...] = ()) -> list[Mutant]:
    """The mutants of all areas, or of some."""
    table: list[Mutant] = []
    for path in sorted(folder.glob("*.toml")):
        if not areas or path.stem in areas:
            rows = tomllib.loads(path.read_text(encoding="utf-8"))
            shared = tuple(rows.get("tests", ()))
            table += [Mutant(**{**row, "tests": tuple(row.get("tests", shared))}) for row in rows["mutant"]]
    return table


class Seen:
    """What pytest tells of a run: the tests that failed and the seconds each took; the quickest run first.

    Parameters
    ----------
    seconds
        What each test took before; one not known of counts as one of a second.
    first
        The test that saw this mutant before, if any: it goes before all others.
    """

    def __init__(self, seconds: dict[str, float], first: str = "") -> None:
        self.before, self.first = seconds, first
        self.seconds: dict[str, float] = {}
        self.failed: list[str] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Put the tests in order."""
        items.sort(key=lambda item: (item.nodeid != self.first, self.before.get(item.nodeid, 1.0)))

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """Keep the name of a file that cannot even be read."""
        if report.failed:
            self.failed.append(report.nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Keep what a test took, and its name if it failed."""
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration
        if report.failed:
            self.failed.append(report.nodeid)


class Bench:
    """A copy of the tree in which one mutant after another is tried.

    Parameters
    ----------
    copy
        Where the copy is to be.
    root
        The tree; it is only read.
    limit
        Most seconds for the named tests of a mutant; a folder's tests get ten times as long.
    """

    def __init__(self, copy: Path, root: Path = ROOT, limit: float = 120.0) -> None:
        self.copy, self.root, self.limit = copy, root, limit
        self.said, self.told = copy.with_suffix(".txt"), copy.with_suffix(".json")
        self._sound: dict[tuple[str, ...], bool] = {}
        self._seconds: dict[str, float] = {}
        shutil.copytree(root, copy, ignore=LEFT_OUT)
        compileall.compile_dir(copy, quiet=2)

    def try_out(self, mutant: Mutant, *, named_only: bool = False, first: str = "") -> Found:
        """What becomes of a mutant; `first` is the test that saw it before, if any did."""
        began = time.monotonic()
        fate, by = self._fate(mutant, named_only, first)
        return Found(mutant.name, fate, time.monotonic() - began, mutant.digest(self.copy), by)

    def _fate(self, mutant: Mutant, named_only: bool, first: str) -> tuple[Fate, str]:
        if mutant.equivalent:
            return "equivalent", ""
        text = mutant.mutated(self.copy)
        if text is None:
            return "stale", ""
        folders = () if named_only else tuple(dict.fromkeys(str(Path(t.split("::")[0]).parent) for t in mutant.tests))
        for tests, limit in ((mutant.tests, self.limit), (folders, 10 * self.limit)):
            if not tests:
                continue
            path = self.copy / mutant.file
            sound, stat = path.read_bytes(), path.stat()
            path.write_text(text, encoding="utf-8")
            # What was compiled of the sound file must not pass for this one, if that is as long and as new.
            os.utime(path, ns=(stat.st_atime_ns, time.time_ns() + 2 * 10**9))
            try:
                passed, failed = self._passes(tests, limit, first)
            finally:
                path.write_bytes(sound)
                os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))  # what was compiled of it still holds
            if passed is None:
                return ("timed out" if self._is_sound(tests, limit) else "no baseline"), ""
            if not passed:
                return ("killed" if self._is_sound(failed or tests, limit) else "no baseline"), " ".join(failed)
        return "survived", ""

    def _is_sound(self, tests: tuple[str, ...], limit: float) -> bool:
        """Whether tests pass without any mutant; asked once for each set of them, and why not is printed."""
        if tests not in self._sound:
            passed, _ = self._passes(tests, limit)
            self._sound[tests] = passed is True
            if not passed:
                said = self.said.read_text(encoding="utf-8", errors="replace").splitlines()
                why = [f"not done after {limit:g} s"] if passed is None else said[-5:]
                print(f"without any mutant do not pass: {' '.join(tests)}", *why, sep="\n    ", flush=True)
        return self._sound[tests]

    def _passes(self, tests: tuple[str, ...], limit: float, first: str = "") -> tuple[bool | None, tuple[str, ...]]:
        """Whether tests pass in the copy, None if they take too long; and the one that failed."""
        self.told.unlink(missing_ok=True)
        files = (str(self.copy), str(self.said), str(self.told))
        running = FORKS.Process(target=run_tests, args=(*files, tests, self._seconds, first))
        running.start()
        running.join(limit)
        if running.exitcode is None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(running.pid or 0, signal.SIGKILL)
            running.join()
            return None, ()
        told = json.loads(self.told.read_text(encoding="utf-8")) if self.told.is_file() else {}
        self._seconds |= told.get("seconds", {})
        return running.exitcode == 0, tuple(told.get("failed", ())[:1])


def run_tests(
    copy: str, said: str, told: str, tests: tuple[str, ...], seconds: dict[str, float], first: str = ""
) -> None:
    """Run tests of a copy of the tree, in a process of their own: exit code 0 if all pass.

    What pytest prints goes into the file `said`; which test failed, and what each took, into `told`.
    """
    os.setsid()
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    written = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for stream in (1, 2):
        os.dup2(written, stream)
    os.chdir(copy)
    sys.path.insert(0, copy)
    sys.dont_write_bytecode = True
    os.environ.pop("PYTEST_ADDOPTS", None)  # options of plugins that are not loaded here
    os.environ |= {"PYTHONPATH": copy, "PYTHONDONTWRITEBYTECODE": "1", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    import pytest
    from hypothesis import Phase, settings

    # The tests' own profile builds on this one: the same examples each time, and a failure is not looked into.
    phases = (Phase.explicit, Phase.generate)
    settings.register_profile("mutants", phases=phases, derandomize=True, database=None)
    settings.load_profile("mutants")
    seen = Seen(seconds, first)
    code = pytest.main([*OPTIONS, "--ignore=tests/test_mutants.py", *tests], plugins=[seen])
    Path(told).write_text(json.dumps({"failed": seen.failed, "seconds": seen.seconds}), encoding="utf-8")
    sys.exit(code)


def read_kept(path: Path) -> dict[str, Found]:
    """What was found before, by digest."""
    lines = path.read_text(encoding="utf-8").splitlines() if path.is_file() else []
    found = (Found(**json.loads(line)) for line in lines)
    return {one.digest: one for one in found}


def run(table: list[Mutant], *, jobs: int, kept: Path, limit: float, named_only: bool) -> list[Found]:
    """Try out mutants, several at a time; those tried before are not tried again."""
    before = read_kept(kept)
    by = {found.name: found.by for found in before.values()}
    done = [before[m.digest()] for m in table if m.digest() in before]
    left = [m for m in table if m.digest() not in before]
    with tempfile.TemporaryDirectory(prefix="ellwand-mutants-") as folder:
        benches: SimpleQueue[Bench] = SimpleQueue()
        for number in range(min(jobs, len(left))):
            benches.put(Bench(Path(folder) / str(number), limit=limit))

        def one(mutant: Mutant) -> Found:
            bench = benches.get()
            try:
                found = bench.try_out(mutant, named_only=named_only, first=by.get(mutant.name, ""))
            finally:
                benches.put(bench)
            if found.fate in ("killed", "timed out") or (found.fate == "survived" and not named_only):
                with kept.open("a", encoding="utf-8") as file:
                    file.write(json.dumps(vars(found)) + "\n")
            print(f"{found.fate:12} {found.seconds:6.1f} s  {found.name}{found.by and f' ({found.by})'}", flush=True)
            return found

        with ThreadPoolExecutor(max(1, jobs)) as pool:
            done += pool.map(one, left)
    return done


def main() -> int:
    """Try out the table, and name what survives; exit code 1 if anything does, or is stale."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--only", action="append", default=[], help="a mutant's name, or the beginning of it")
    parser.add_argument("--area", action="append", default=[], help="a file of the table, without .toml")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--limit", type=float, default=120.0, help="seconds for the named tests of one mutant")
    parser.add_argument("--kept", type=Path, default=KEPT, help="file of what was found before")
    parser.add_argument("--afresh", action="store_true", help="forget what was found before")
    parser.add_argument("--named-only", action="store_true", help="do not fall back on a folder's tests")
    args = parser.parse_args()
    if args.afresh:
        args.kept.unlink(missing_ok=True)
    FORKS.set_forkserver_preload(LIBRARIES)
    table = read_table(areas=tuple(args.area))
    table = [m for m in table if not args.only or m.name.startswith(tuple(args.only))]
    found = run(table, jobs=args.jobs, kept=args.kept, limit=args.limit, named_only=args.named_only)
    counts = {fate: [one.name for one in found if one.fate == fate] for fate in FATES}
    print(f"{len(found)} mutants:", ", ".join(f"{len(names)} {fate}" for fate, names in counts.items() if names))
    for fate in ("survived", "timed out", "stale", "no baseline"):
        for name in counts[fate]:
            print(f"  {fate}: {name}")
    return 1 if any(counts[fate] for fate in ("survived", "stale", "no baseline")) else 0


if __name__ == "__main__":
    sys.exit(main())
