"""Pieces as plain JSON, in our own form: lossless both ways, lengths in mm.

A file is one object: ``{"schema": 2, "unit": "mm", "garment", "pieces", "seams", "measures", "finished", "notes"}``.
Each piece has its ``edges`` (name, points, allowance, kind), from which it is read back, and besides them, for others
to use, ``cut_line``, ``sew_line`` and ``on_fold``, which are ignored on reading, as is the ease of a finished size;
``inner`` where there are lines within.
"""

from __future__ import annotations

import json
import re
import secrets
from dataclasses import replace
from typing import Any, get_args

import numpy as np

from pieces.data import are_points
from pieces.errors import FormatError, PieceError
from pieces.piece.finished import Finished
from pieces.piece.outline import Edge
from pieces.piece.piece import Grain, InnerKind, InnerLine, Material, Notch, Piece
from pieces.piece.pieces import PieceSet, Seam, walk

SCHEMA, SCHEMAS = 2, (1, 2)
"""What is written, and what can be read: the first had no finished sizes."""


def to_plain(pieces: PieceSet) -> dict[str, Any]:
    """The set as an object that ``json.dumps`` takes."""
    return {
        "schema": SCHEMA,
        "unit": "mm",
        "garment": pieces.garment,
        "pieces": [_piece_to_plain(piece) for piece in pieces],
        "seams": [
            {"name": s.name, "first": [list(e) for e in s.first], "second": [list(e) for e in s.second], "ease": s.ease}
            for s in pieces.seams
        ],
        "measures": dict(pieces.measures),
        "finished": [finished_to_plain(size) for size in pieces.finished],
        "notes": list(pieces.notes),
    }


def plain_text(pieces: PieceSet) -> str:
    """What ``json.dumps`` makes of `to_plain`, with each number written once: lines of a piece repeat one another."""
    token = secrets.token_hex(8)
    texts: list[str] = []
    plain = to_plain(replace(pieces, pieces=()))
    plain["pieces"] = [_piece_to_plain(piece, _Shared(texts, token)) for piece in pieces]
    return re.sub(rf'"{token}-(\d+)"', lambda found: texts[int(found[1])], json.dumps(plain))


class _Shared:
    """Lines of pieces as text, each in its place in a list; in their own place stands its number."""

    def __init__(self, texts: list[str], token: str) -> None:
        self._texts, self._token = texts, token

    def keep(self, text: str) -> str:
        self._texts.append(text)
        return f"{self._token}-{len(self._texts) - 1}"

    def lines(self, piece: Piece) -> dict[str, Any]:
        """The cut line, the sew line, and the points of each edge."""
        edges = [json.dumps(edge.points.tolist()) for edge in piece.edges]
        sewn = f"[{', '.join(text[1 : text.rindex(', [')] for text in edges)}]"  # each edge without its last point
        is_cut = piece.cut_line.tobytes() == piece.sew_line.tobytes()
        cut = sewn if is_cut else json.dumps(piece.cut_line.tolist())
        return {"cut_line": self.keep(cut), "sew_line": self.keep(sewn), "edges": [self.keep(text) for text in edges]}


def _lines(piece: Piece) -> dict[str, Any]:
    """The same as lists."""
    return {
        "cut_line": piece.cut_line.tolist(),
        "sew_line": piece.sew_line.tolist(),
        "edges": [edge.points.tolist() for edge in piece.edges],
    }


def _piece_to_plain(piece: Piece, shared: _Shared | None = None) -> dict[str, Any]:
    lines = shared.lines(piece) if shared is not None else _lines(piece)
    return {
        "name": piece.name,
        "material": piece.material,
        "cut": piece.cut,
        "mirrored_pair": piece.mirrored_pair,
        "on_fold": piece.on_fold,
        "label": piece.label,
        "lies": piece.lies,
        "tilt": piece.tilt,
        "match": list(piece.match) if piece.match else None,
        "cut_line": lines["cut_line"],
        "sew_line": lines["sew_line"],
        "grain": [list(point) for point in piece.grain],
        "notches": [{"name": notch.name, "point": list(notch.point)} for notch in piece.notches],
        "drill_points": [list(point) for point in piece.drill_points],
        "edges": [
            {"name": e.name, "kind": e.kind, "allowance": e.allowance, "points": points}
            for e, points in zip(piece.edges, lines["edges"], strict=True)
        ],
        **(
            {"inner": [{"kind": i.kind, "points": list(map(list, i.points))} for i in piece.inner]}
            if piece.inner
            else {}
        ),
    }


def from_plain(data: Any) -> PieceSet:
    """The set that `to_plain` wrote.

    Raises
    ------
    FormatError
        If a key is missing or holds the wrong kind of thing, or the schema is unknown; PieceError if a piece in
        it could not be cut.
    """
    try:
        if data["schema"] not in SCHEMAS:
            raise FormatError(f"pieces of schema {data['schema']!r} cannot be read: this version reads 1 to {SCHEMA}")
        pieces = PieceSet(
            garment=str(data["garment"]),
            pieces=tuple(_piece_from_plain(piece) for piece in data["pieces"]),
            seams=tuple(_seam_from_plain(seam) for seam in data["seams"]),
            measures={str(name): float(mm) for name, mm in data["measures"].items()},
            notes=tuple(map(str, data["notes"])),
            finished=tuple(_finished_from_plain(size) for size in (data["finished"] if data["schema"] > 1 else ())),
        )
        for seam in pieces.seams:
            walk(seam, pieces)  # a KeyError names the piece or the edge that is not there
        sizes = [mm for size in pieces.finished for mm in (size.garment, size.body or 0.0)]
        if not np.isfinite([*pieces.measures.values(), *sizes]).all():
            raise FormatError("not a file of pieces: a measure is not a finite number")
        return pieces
    except PieceError:
        raise
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, OverflowError) as error:
        raise FormatError(f"not a file of pieces: {type(error).__name__} {error}") from error


def finished_to_plain(size: Finished) -> dict[str, Any]:
    """A finished size, the body and the ease beside it, mm."""
    return {"name": size.name, "garment": size.garment, "body": size.body, "ease": size.ease}


def _finished_from_plain(data: dict[str, Any]) -> Finished:
    body = data["body"]
    return Finished(str(data["name"]), float(data["garment"]), None if body is None else float(body))


def _piece_from_plain(data: dict[str, Any]) -> Piece:
    edges = tuple(Edge(str(e["name"]), _points(e["points"]), float(e["allowance"]), e["kind"]) for e in data["edges"])
    start, end = (_point(point) for point in data["grain"])
    known = data["material"] in get_args(Material) and data["lies"] in get_args(Grain)
    if not known or any(edge.kind not in ("seam", "fold") for edge in edges):
        raise FormatError(
            f"the material, the grain or the kind of an edge of '{data['name']}' is none that this version knows"
        )
    return Piece(
        str(data["name"]),
        edges,
        cut=int(data["cut"]),
        mirrored_pair=bool(data["mirrored_pair"]),
        material=data["material"],
        grain=(start, end),
        notches=tuple(Notch(str(notch["name"]), _point(notch["point"])) for notch in data["notches"]),
        drill_points=tuple(_point(point) for point in data["drill_points"]),
        label=str(data["label"]),
        lies=data["lies"],
        tilt=float(data["tilt"]),
        match=_point(data["match"]) if data["match"] else None,
        inner=tuple(_inner_from_plain(line) for line in data.get("inner", ())),
    )


def _inner_from_plain(data: dict[str, Any]) -> InnerLine:
    line = InnerLine(data["kind"], tuple(_point(point) for point in data["points"]))
    if line.kind not in get_args(InnerKind) or not np.isfinite(line.points).all():
        raise FormatError("a line within a piece has a kind unknown to this version, or a point that is not finite")
    return line


def _seam_from_plain(data: dict[str, Any]) -> Seam:
    first, second = (tuple((str(piece), str(edge)) for piece, edge in data[run]) for run in ("first", "second"))
    return Seam(str(data["name"]), first, second, float(data["ease"]))


def _points(value: Any) -> Any:
    """A list of points; FormatError if one is none."""
    if not are_points(value):
        raise FormatError("not a file of pieces: a point must be two numbers")
    return np.array(value, dtype=np.float64).reshape(-1, 2)


def _point(pair: Any) -> tuple[float, float]:
    x, y = pair
    if isinstance(x, bool) or isinstance(y, bool):
        raise FormatError("not a file of pieces: a point must be two numbers")
    return float(x), float(y)
