"""Words of layers, records and counts, by the conventions of ASTM D6673 (from memory)."""

from __future__ import annotations

import pytest

from pieces.exchange.standard import LAYERS, label_of, layer_of, material_of, quantity_of, record, role_of


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("Grain line", "grain"),
        ("Fadenlauf", "grain"),
        ("sew_lines", "sew"),
        ("line", "line"),
        ("fold", "fold"),
        ("fold of the collar", "outline"),  # more than words for a role: a piece's name
        ("cut sew", "outline"),  # two roles: neither
        ("sleeve", "outline"),
    ],
)
def test_roles_by_name(name: str, role: str) -> None:
    """A layer plays a part if its name is made of words for that part alone."""
    assert role_of(name) == role


@pytest.mark.parametrize("role", ["outline", "notch", "fold", "grain", "drill", "sew", "cutout"])
def test_a_layer_written_is_read_again(role: str) -> None:
    """The layer that a role is written to has that role."""
    assert LAYERS[layer_of(role)] == role  # type: ignore[arg-type]


def test_records() -> None:
    """Key and value, however the key is spaced or written; other words with a colon are none."""
    assert record("piece  name: front: left ") == ("PIECE NAME", "front: left")
    assert record("mind: the nap") is None
    assert record("SIZE") is None


@pytest.mark.parametrize(
    ("text", "counted"),
    [("2", (2, False)), ("1,1", (2, True)), ("2 / 1", (3, False)), ("0", None), ("two", None), ("1,1,1", None)],
)
def test_quantities(text: str, counted: tuple[int, bool] | None) -> None:
    """A count, or one for the left and one for the right: a pair where they are alike."""
    assert quantity_of(text) == counted


@pytest.mark.parametrize(
    ("text", "material"), [("Shell", "shell"), ("main fabric", "shell"), ("fusible 2", "interfacing"), ("felt", None)]
)
def test_materials(text: str, material: str | None) -> None:
    """Our own words, and common ones for the same; others are none of ours."""
    assert material_of(text) == material


def test_a_label_does_not_repeat_the_count() -> None:
    """How many to cut stands beside every label anyway."""
    assert label_of("cut 2 (1 pair), mind the nap") == "mind the nap"
    assert label_of("cut away here") == "cut away here"
