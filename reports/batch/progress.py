"""What a person sees and can do while a search runs: a bar on stderr, and an interrupt that keeps the best."""

from __future__ import annotations

import signal
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

from nesting.search.listener import Listener
from nesting.search.stop import Interrupted
from pieces.units import Units, format_bound, format_cloth
from reports.signals import ending

if TYPE_CHECKING:
    from types import FrameType, TracebackType

    from nesting.marker.marker import Marker


class Interrupt(Interrupted):
    """A stop criterion that the first Ctrl-C (SIGTERM, SIGHUP) sets; the second is for whoever answered it before."""

    def __init__(self) -> None:
        super().__init__()
        self.signal = 0
        self._before: dict[int, Any] = {}

    def __enter__(self) -> Interrupt:
        self._before = {s: signal.signal(s, self._hit) for s in ending()}
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def _hit(self, number: int, frame: FrameType | None) -> None:
        if self.asked:
            before = self._before[number]
            if not callable(before):
                raise KeyboardInterrupt
            before(number, frame)
        self.signal = number
        self.set()


BAR = 16
"""Signs of a bar: short, so that the words before it have room."""


class Bars:
    """Progress bars on stderr, one a marker; silent where stderr is no terminal.

    Parameters
    ----------
    total, is_timed
        Seconds of search for each, or its work.
    """

    def __init__(self, total: float, is_timed: bool, units: Units, *, quiet: bool = False) -> None:
        console = Console(stderr=True)
        self._progress = Progress(
            TextColumn("{task.description}", markup=False),
            BarColumn(BAR),
            TimeElapsedColumn(),
            console=console,
            transient=True,
            disable=quiet or not console.is_terminal,
        )
        self._total, self._is_timed, self._units, self._quiet = total, is_timed, units, quiet

    def __enter__(self) -> Bars:
        self._progress.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._progress.stop()

    def listener(self, *names: str, share: float | None = 1.0) -> Listener:
        """A listener that moves a new bar.

        Parameters
        ----------
        names
            Of what it hears, such as a cloth and how it lies.
        share
            Of the search that each gets; None for a proof, of which nobody knows how long it takes.
        """
        named = ", ".join(names) if share is not None else f"{', '.join(names)}, proving"
        total = None if share is None else share * self._total
        return _Bar(self._progress, named, total, self._is_timed, self._units, quiet=self._quiet)


class _Bar(Listener):
    def __init__(
        self, progress: Progress, name: str, total: float | None, is_timed: bool, units: Units, *, quiet: bool
    ) -> None:
        self._progress, self._name, self._units, self._quiet = progress, name, units, quiet
        self._task, self._is_timed = progress.add_task(name, total=total), is_timed
        self._found, self._proved = "", ""

    def on_best(self, marker: Marker) -> None:
        self._found = format_cloth(marker.length, self._units)
        self._tell()

    def on_bound(self, length: float) -> None:
        self._proved = f"; at least {format_bound(length, self._units)}"
        self._tell()

    def _tell(self) -> None:
        self._progress.update(self._task, description=f"{self._name}: {self._found}{self._proved}")

    def on_step(self, work: float, seconds: float) -> None:
        self._progress.update(self._task, completed=seconds if self._is_timed else work)

    def on_note(self, text: str) -> None:
        if not self._quiet:
            self._progress.console.print(text, style="dim")
