"""The files that a person starts from."""

from __future__ import annotations

from importlib.resources import files


def template(name: str = "job") -> str:
    """The text of a commented job file, or of an order file (``"order"``)."""
    return (files("reports") / "templates" / f"{name}.toml").read_text(encoding="utf-8")
