"""Pattern files that ask for far too much: each small to write, and legal or nearly so."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

FILES: dict[str, Callable[[], bytes]] = {}
"""What makes each file, by its name; the end of the name is that of the file."""


def hostile(name: str) -> Callable[[Callable[[], str | bytes]], Callable[[], str | bytes]]:
    """Keep what makes a file under its name."""

    def keep(make: Callable[[], str | bytes]) -> Callable[[], str | bytes]:
        def whole() -> bytes:
            said = make()
            return said.encode() if isinstance(said, str) else said

        FILES[name] = whole
        return make

    return keep


def scattered(many: int, span: float = 900) -> list[list[float]]:
    """Points at random: a line through them crosses itself at every turn."""
    found: list[list[float]] = np.random.default_rng(1).uniform(0, span, (many, 2)).round(3).tolist()
    return found


def square(x: float, y: float, side: float) -> list[tuple[float, float]]:
    """Its corners."""
    return [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]


# --- tables -----------------------------------------------------------------------------------------------------------


@hostile("a million points.csv")
def _() -> str:
    return "piece,x mm,y mm\n" + "".join(f"a,{n % 1000},{n // 1000}\n" for n in range(1_000_000))


@hostile("as many units.csv")
def _() -> str:
    return "piece,x,y\n" + "".join(f"a,{n % 1000} mm,{n // 1000}.5 in\n" for n in range(500_000))


@hostile("a hundred thousand pieces.csv")
def _() -> str:
    return "piece,x mm,y mm\n" + "".join(f"p{n},{x},{y}\n" for n in range(100_000) for x, y in ((0, 0), (9, 0), (9, 9)))


@hostile("crossing itself.csv")
def _() -> str:
    return "piece,x mm,y mm\n" + "".join(f"a,{x},{y}\n" for x, y in scattered(100_000))


@hostile("curves of nothing.csv")
def _() -> str:
    return "piece,x mm,y mm,bulge\n" + "".join(f"a,{n % 300},{n % 7},{1e-9 * n}\n" for n in range(100_000))


@hostile("great bulges.csv")
def _() -> str:
    return "piece,x mm,y mm,bulge\n" + "".join(f"a,{n % 300},{n % 7},1e300\n" for n in range(1000))


@hostile("one long cell.csv")
def _() -> str:
    return "piece,x mm,y mm\n" + "a" * 20_000_000 + ",1,2\n"


@hostile("a million columns.csv")
def _() -> str:
    return ",".join(["piece", "x mm", "y mm", *("c" for _ in range(1_000_000))]) + "\n" + "1," * 1_000_000 + "\n"


@hostile("open quote.csv")
def _() -> str:
    return 'piece,x mm,y mm\na,"' + "1\n" * 10_000_000


@hostile("long digits.csv")
def _() -> str:
    return "piece,x,y\n" + "".join(f"a,{'1' * 200_000} mm,{'9' * 200_000}\n" for _ in range(20))


@hostile("well-known text.csv")
def _() -> str:
    return "name,wkt\n" + f'a,"{"GEOMETRYCOLLECTION(" * 200_000}"\n'


@hostile("not numbers.csv")
def _() -> str:
    return "piece,x mm,y mm\n" + "".join(f"a,{n}e308,{n}e308\n" for n in range(100_000))


# --- JSON and TOML ----------------------------------------------------------------------------------------------------


@hostile("deep.json")
def _() -> str:
    return "[" * 100_000 + "]" * 100_000


@hostile("deep objects.json")
def _() -> str:
    return '{"pieces":' * 100_000 + "1" + "}" * 100_000


@hostile("many points.json")
def _() -> str:
    return json.dumps({"unit": "mm", "pieces": {"a": scattered(1_500_000)}})


@hostile("crossing itself.json")
def _() -> str:
    return json.dumps({"unit": "mm", "pieces": {"a": scattered(50_000)}})


@hostile("many crossings.json")
def _() -> str:
    return json.dumps({"unit": "mm", "pieces": {f"p{n}": scattered(1999) for n in range(500)}})


@hostile("numbers without end.json")
def _() -> str:
    return '{"unit": "mm", "pieces": {"a": [[' + "9" * 10_000_000 + ", 1], [2, 3], [4, 5]]}}"


@hostile("not numbers.json")
def _() -> str:
    return '{"unit": "mm", "pieces": {"a": [[NaN, Infinity], [1e308, -1e308], [1e999, 0]]}}'


@hostile("a million keys.json")
def _() -> str:
    return json.dumps({"unit": "mm", "pieces": [{f"k{n}": n for n in range(1_000_000)}]})


@hostile("deep.geojson")
def _() -> str:
    return '{"type":"GeometryCollection","geometries":[' * 50_000 + "]}" * 50_000


@hostile("a hundred thousand features.geojson")
def _() -> str:
    ring = [[*square(0, 0, 30), (0, 0)]]
    feature = {"type": "Feature", "properties": {}, "geometry": {"type": "Polygon", "coordinates": ring}}
    return json.dumps({"type": "FeatureCollection", "features": [feature] * 59_000})


@hostile("a million keys.toml")
def _() -> str:
    return 'units = "mm"\n' + "".join(f"k{n:x}=1\n" for n in range(110_000))


@hostile("deep.toml")
def _() -> str:
    return 'units = "mm"\na = ' + "[" * 400_000


@hostile("deep keys.toml")
def _() -> str:
    return "a." * 400_000 + "b = 1\n"
