"""Names that programs give by themselves, told from names of pieces."""

from __future__ import annotations

import pytest

from pieces.exchange.words.labels import is_automatic


@pytest.mark.parametrize("name", ["path12", "Layer 1", "Ebene 3", "rect-4", "svg", "1a2b3c4d5e", "p7"])
def test_given_by_a_program(name: str) -> None:
    """A kind of element with a number, alone in few cases; or a number in hexadecimal."""
    assert is_automatic(name)


@pytest.mark.parametrize("name", ["front", "pocket 2", "Ärmel", "object of desire", "page", "path of the zip"])
def test_given_by_a_person(name: str) -> None:
    """Words of a garment, even with a number; and a program's word that goes on."""
    assert not is_automatic(name)


def test_alone_some_words_say_nothing() -> None:
    """`layer` alone is no name; `line` alone may be meant."""
    assert is_automatic("layer")
    assert not is_automatic("line")
