"""More drawings that ask for far too much: in style sheets, in one path, in chains, and in what is left out."""

from __future__ import annotations

import json

import numpy as np

from tests.make.hostile_drawings import SQUARE, block, dxf, insert, polyline, svg, way
from tests.make.hostile_files import hostile, square

RECT = '<rect width="300" height="200"/>'


def ring(many: int) -> list[tuple[float, float]]:
    """Points on a circle."""
    turns = np.linspace(0, 2 * np.pi, many, endpoint=False)
    points = np.column_stack([450 + 300 * np.cos(turns), 450 + 300 * np.sin(turns)]).round(3)
    return [(x, y) for x, y in points.tolist()]


def text(words: str, at: float) -> str:
    """A line of words on a layer of outlines; a tilde stands for a blank."""
    return f"0 TEXT 8 1 10 {at} 20 {at} 40 1 1 {words}"


# --- SVG --------------------------------------------------------------------------------------------------------------


@hostile("one path of ten megabytes.svg")
def _() -> str:
    return svg(f'<path d="{way(ring(600_000))}"/>')


@hostile("glued numbers.svg")
def _() -> str:
    return svg('<path d="M0 0l' + "-.1-.1.1.1" * 240_000 + 'z"/>')


@hostile("many moves.svg")
def _() -> str:
    drawn = "".join(f"M{n % 900} {n // 900}h1" for n in range(300_000))
    return svg(f'<path fill="none" stroke="black" d="{drawn}"/>')


@hostile("smooth curves.svg")
def _() -> str:
    return svg('<path d="M0 0' + "T1 1S2 2 3 3" * 100_000 + 'z"/>')


@hostile("five megabytes of rules.svg")
def _() -> str:
    rules = (f".a{n},#b{n},rect.c{n}{{fill:none;stroke:#00{n % 1000:03d}0}}" for n in range(100_000))
    return svg(f"<style>{''.join(rules)}</style>{RECT}")


@hostile("rules of one class.svg")
def _() -> str:
    drawn = "".join(f'<rect class="a" width="{n + 100}" height="200"/>' for n in range(20_000))
    return svg(f"<style>{'.a{stroke:red}' * 14_000}</style>{drawn}")


@hostile("an open comment in the rules.svg")
def _() -> str:
    return svg(f"<style>{'/*' * 2_000_000}</style>{RECT}")


@hostile("gradients of gradients.svg")
def _() -> str:
    chain = "".join(f'<linearGradient id="g{n}" href="#g{(n + 1) % 90_000}"/>' for n in range(90_000))
    return svg(f"<defs>{chain}</defs>" + RECT.replace("/>", ' fill="url(#g0)"/>'))


@hostile("cut by one another.svg")
def _() -> str:
    chain = "".join(
        f'<clipPath id="c{n}" clip-path="url(#c{(n + 1) % 30_000})"><rect width="9" height="9"/></clipPath>'
        for n in range(30_000)
    )
    return svg(f"<defs>{chain}</defs>" + RECT.replace("/>", ' clip-path="url(#c0)"/>'))


@hostile("a picture within.svg")
def _() -> str:
    return svg(f'{RECT}<image width="9" height="9" href="data:image/png;base64,{"iVBORw0KGgo" * 1_300_000}"/>')


@hostile("many layers.svg")
def _() -> str:
    return svg("".join(f'<g id="layer {n}"><rect x="{n % 90 * 10}" y="{n // 90 * 10}" width="9" height="9"/></g>'
                       for n in range(30_000)))  # fmt: skip


@hostile("transforms without end.svg")
def _() -> str:
    drawn = "".join(f'<path d="M{n} 0h300v200z" transform="translate({n})"/>' for n in range(2_000))
    return svg(f'<g transform="{"rotate(1) " * 5_000}">{drawn}</g>')


@hostile("alternatives.svg")
def _() -> str:
    drawn = "".join(f'<rect systemLanguage="l{n}" width="300" height="{n + 9}"/>' for n in range(90_000))
    return svg(f"<switch>{drawn}</switch>")


@hostile("parts of a text.svg")
def _() -> str:
    parts = '<tspan x="1" dy="1">cut 2</tspan>' * 90_000
    return svg(f'{RECT}<text x="100" y="100">{parts}</text>')


# --- DXF and GeoJSON --------------------------------------------------------------------------------------------------


@hostile("a million unknown kinds.dxf")
def _() -> str:
    return dxf([*("0 THING 8 0" for _ in range(1_000_000)), SQUARE])


@hostile("splines of many knots.dxf")
def _() -> str:
    many = 4_900
    knots = " ".join(f"40 {k}" for k in range(many + 4))
    poles = " ".join(f"10 {x} 20 {y} 30 0" for x, y in ring(many))
    head = f"0 SPLINE 8 0 100 AcDbEntity 100 AcDbSpline 70 11 71 3 72 {many + 4} 73 {many}"
    return dxf([f"{head} {knots} {poles}"] * 60)


@hostile("percent signs.dxf")
def _() -> str:
    return dxf([SQUARE, text("%%u%%065" * 600_000, 50)])


@hostile("extended data.dxf")
def _() -> str:
    return dxf([SQUARE + " 1001 ACAD " + "1000 abc " * 900_000])


@hostile("attributes of one block.dxf")
def _() -> str:
    attributes = "0 ATTRIB 8 0 10 0 20 0 40 1 1 cut 2 tag " * 50_000
    return dxf([f"0 INSERT 8 0 66 1 2 a 10 0 20 0 {attributes} 0 SEQEND 8 0"], [block("a", SQUARE)])


@hostile("pieces by the standard.dxf")
def _() -> str:
    outline = polyline(square(0, 0, 200)).replace(" 8 0 ", " 8 1 ", 1)
    blocks = [block(f"b{n}", outline, text(f"PIECE~NAME:~{n}", 1)) for n in range(5_000)]
    return dxf([insert(f"b{n}") for n in range(5_000)], blocks).replace("~", " ")


@hostile("names without end.dxf")
def _() -> str:
    return dxf([SQUARE, *(text(f"front~cut~{n}", n % 200) for n in range(30_000))]).replace("~", " ")


@hostile("points of one line.dxf")
def _() -> str:
    return dxf([polyline(ring(1_000_000))])


@hostile("rings without end.geojson")
def _() -> str:
    rings = [square(0, 0, 900), *(square(n % 300 * 3, n // 300 * 3, 2) for n in range(60_000))]
    return json.dumps({"type": "Polygon", "coordinates": rings})
