"""The small file beside exported pieces."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING

from reports.export.sidecar import beside_text

if TYPE_CHECKING:
    from pieces import PieceSet


def test_it_names_every_piece_with_its_count(jacket: PieceSet) -> None:
    """As TOML, with the file's name in its head, and the counts and materials of the pieces."""
    text = beside_text(jacket, [Path("folder") / "jacket.dxf"])
    assert "jacket.dxf" in text and "folder" not in text
    entries = {entry["name"]: entry for entry in tomllib.loads(text)["piece"]}
    assert set(entries) == {piece.name for piece in jacket}
    for piece in jacket:
        assert entries[piece.name].get("cut", 1) == piece.cut
        assert entries[piece.name].get("material", "shell") == piece.material
