"""Work counted, so that a search that would go on for ever ends, and at the same place on every machine."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass
class RibWork:
    """Steps that may be taken, and those that were.

    Parameters
    ----------
    most, done
        Steps that may be taken, and taken so far.
    """

    most: int
    done: int = 0

    def spend(self) -> bool:
        """Take a step; whether it may still be taken."""
        self.done += 1
        return self.done <= self.most

    @property
    def is_spent(self) -> bool:
        """Whether a step was wanted that may not be taken: what was found may not be all there is."""
        return self.done > self.most
