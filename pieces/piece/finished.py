"""Finished sizes: what a garment measures once it is sewn, beside the body it is for."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Finished:
    """A finished size.

    Parameters
    ----------
    name
        Of what, such as ``"chest"``.
    garment
        What the garment measures there, sewn, mm.
    body
        What the body does, mm; None where it has nothing of the kind, or that was not measured.
    """

    name: str
    garment: float
    body: float | None = None

    @property
    def ease(self) -> float | None:
        """How much more the garment has than the body, mm."""
        return None if self.body is None else self.garment - self.body
