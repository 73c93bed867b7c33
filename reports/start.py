"""The way in: what a signal does is settled before anything else is imported."""

from __future__ import annotations

import atexit
import os
import signal
import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from types import FrameType

PATIENCE = 2.0
"""Seconds for tidying up once a signal has come; then the program ends all the same."""

ENDED = "ellwand: interrupted before all was done; each file that is there is whole"

_echo: Any = None
_is_told = False


def main() -> None:
    """Run the command `ellwand`: whenever a signal comes, it ends with one line, or with the best found so far."""
    _answer_signals(end)
    _remember_terminal()
    atexit.register(_answer_signals, signal.SIG_IGN)  # the last of all: nothing is left to be interrupted
    from reports.cli import main as command

    command()


def end(number: int, frame: FrameType | None = None) -> None:
    """End at once, with one line on stderr: no process is left, no file half written.

    The program does not unwind: an exception in the midst of an import, or of code that is not Python's, could be
    swallowed, or turned into another with a trace.
    """
    _answer_signals(signal.SIG_IGN)
    try:
        _tidy_up(128 + number)
    finally:
        os._exit(128 + number)


def tell(line: str) -> None:
    """Say on stderr that a signal has cut the work short; `end` does not say so again."""
    global _is_told
    print(line, file=sys.stderr, flush=True)
    _is_told = True


def _answer_signals(answer: Any) -> None:
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, answer)


def _tidy_up(code: int) -> None:
    import threading

    output, processes = sys.modules.get("reports.output"), sys.modules.get("multiprocessing")
    for path in list(output.unfinished) if output else ():
        path.unlink(missing_ok=True)
    _leave_terminal()
    if not _is_told:
        os.write(2, f"{ENDED}\n".encode())
    late = threading.Timer(PATIENCE, os._exit, (code,))
    late.daemon = True
    late.start()
    for process in processes.active_children() if processes else ():
        process.kill()
    atexit._run_exitfuncs()  # noqa: SLF001 - as at any other end: what others have left behind is removed


def _remember_terminal() -> None:
    """Whether the terminal shows what is typed, which it must again if a password was being asked for."""
    global _echo
    try:
        import termios

        _echo = termios.tcgetattr(0)
    except (ImportError, OSError, ValueError, termios.error):
        _echo = None


def _leave_terminal() -> None:
    """Leave the terminal as it was found: a bar's line cleared, the cursor shown, and what is typed as well."""
    if os.isatty(2):
        os.write(2, b"\r\x1b[2K\x1b[?25h")
    if _echo is not None:
        import termios

        termios.tcsetattr(0, termios.TCSANOW, _echo)
