"""How many of many markers are done: a bar on stderr."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn

if TYPE_CHECKING:
    from types import TracebackType


class Tally:
    """A bar that counts markers; silent where stderr is no terminal."""

    def __init__(self, number: int, *, quiet: bool = False) -> None:
        console = Console(stderr=True)
        columns = (TextColumn("markers laid"), BarColumn(), MofNCompleteColumn())
        times = (TimeElapsedColumn(), TextColumn("to go"), TimeRemainingColumn())
        self._progress = Progress(
            *columns, *times, console=console, transient=True, disable=quiet or not console.is_terminal
        )
        self._task = self._progress.add_task("markers", total=number)

    def __enter__(self) -> Tally:
        self._progress.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._progress.stop()

    def step(self) -> None:
        """One more is done."""
        self._progress.advance(self._task)
