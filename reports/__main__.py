"""The way in, `ellwand` or ``python -m reports``: what a signal does is settled before anything else is imported."""

from __future__ import annotations

import atexit
import signal

from reports.signals import answer_signals, end, remember_terminal, require_output


def main() -> None:
    """Run the command `ellwand`: whenever a signal comes, it ends with one line, or with the best found so far."""
    require_output()
    answer_signals(end)
    remember_terminal()
    atexit.register(answer_signals, signal.SIG_IGN)  # the last of all: nothing is left to be interrupted
    from reports.commands.cli import main as command

    command()


if __name__ == "__main__":
    main()
