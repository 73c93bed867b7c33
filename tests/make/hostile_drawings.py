"""Drawings that ask for far too much: SVG, DXF, and what only looks so."""

from __future__ import annotations

import gzip
import zipfile
from io import BytesIO
from typing import TYPE_CHECKING

from tests.make.hostile_files import hostile, scattered, square

if TYPE_CHECKING:
    from collections.abc import Iterable

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="900mm" height="900mm"'
HEAD += ' viewBox="0 0 900 900">'


def svg(inside: str) -> str:
    """A drawing of 900 by 900 mm."""
    return f"{HEAD}{inside}</svg>"


def dxf(entities: Iterable[str], blocks: Iterable[str] = (), header: str = "") -> str:
    """A DXF in mm by its tags, a blank between each two."""
    sections = [f"0 SECTION 2 HEADER 9 $INSUNITS 70 4 {header} 0 ENDSEC", "0 SECTION 2 BLOCKS", *blocks, "0 ENDSEC"]
    text = " ".join([*sections, "0 SECTION 2 ENTITIES", *entities, "0 ENDSEC 0 EOF"])
    return "\n".join(text.split()) + "\n"


def block(name: str, *inside: str) -> str:
    """A block of a DXF."""
    return f"0 BLOCK 8 0 2 {name} 70 0 10 0 20 0 30 0 {' '.join(inside)} 0 ENDBLK 8 0"


def insert(name: str, more: str = "") -> str:
    """A block placed."""
    return f"0 INSERT 8 0 2 {name} 10 0 20 0 30 0 {more}"


def polyline(points: Iterable[Iterable[float]], more: str = "") -> str:
    """A closed line of a DXF."""
    rows = [tuple(point) for point in points]
    drawn = " ".join(f"10 {x} 20 {y}" for x, y in rows)
    return f"0 LWPOLYLINE 8 0 70 1 100 AcDbEntity 100 AcDbPolyline 90 {len(rows)} 70 1 {more} {drawn}"


def way(points: Iterable[Iterable[float]]) -> str:
    """A closed path through points."""
    return "M" + "L".join(f"{x} {y}" for x, y in points) + "Z"


SQUARE = polyline(square(0, 0, 200))

# --- SVG --------------------------------------------------------------------------------------------------------------


@hostile("entities.svg")
def _() -> str:
    bombs = "".join(f'<!ENTITY l{n + 1} "{f"&l{n};" * 10}">' for n in range(9))
    return f'<!DOCTYPE svg [<!ENTITY l0 "lol">{bombs}]>{svg("<text>&l9;</text>")}'


@hostile("an entity of a file.svg")
def _() -> str:
    return f'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///dev/zero">]>{svg("<text>&a;</text>")}'


@hostile("deep groups.svg")
def _() -> str:
    return svg("<g>" * 100_000 + "</g>" * 100_000)


@hostile("copies of copies.svg")
def _() -> str:
    levels = "".join(f'<g id="a{n + 1}">{f"<use href={chr(34)}#a{n}{chr(34)}/>" * 10}</g>' for n in range(8))
    return svg(f'<defs><path id="a0" d="M0 0H9V9Z"/>{levels}</defs><use href="#a8"/>')


@hostile("copies of itself.svg")
def _() -> str:
    return svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g><use href="#a"/>')


@hostile("many copies.svg")
def _() -> str:
    return svg('<path id="a" d="M0 0H90V90Z"/>' + '<use href="#a" x="1"/>' * 49_000)


@hostile("areas over one another.svg")
def _() -> str:
    return svg("".join(f'<path d="{way(square(n / 10, n / 20, 300))}" fill="red"/>' for n in range(2000)))


@hostile("many small outlines.svg")
def _() -> str:
    return svg("".join(f'<path d="{way(square(n % 300 * 3, n // 300 * 3, 2))}"/>' for n in range(90_000)))


@hostile("crossing itself.svg")
def _() -> str:
    return svg(f'<path d="{way(scattered(100_000))}"/>')


@hostile("lines crossing.svg")
def _() -> str:
    ends = scattered(60_000)
    lines = "".join(
        f'<line x1="{a}" y1="{b}" x2="{c}" y2="{d}"/>' for (a, b), (c, d) in zip(ends[::2], ends[1::2], strict=True)
    )
    return svg(f'<g stroke="red">{lines}</g>')


@hostile("curves.svg")
def _() -> str:
    return svg('<path d="M0 0' + "C900 0 0 900 900 900" * 80_000 + 'Z"/>')


@hostile("arcs.svg")
def _() -> str:
    return svg('<path d="M0 0' + "A400 300 20 1 1 9 9A300 200 10 0 1 0 0" * 25_000 + 'Z"/>')


@hostile("huge numbers.svg")
def _() -> str:
    return svg('<path d="M0 0L1e308 1e308L-1e308 1e308L1e999 0Z" transform="scale(1e308)"/><circle r="1e200"/>')


@hostile("dashes.svg")
def _() -> str:
    dashes = ",".join("0.0001" for _ in range(900_000))
    return svg(f'<path d="M0 0H900V900Z" stroke="red" stroke-dasharray="{dashes}"/>')


@hostile("transforms.svg")
def _() -> str:
    return svg(f'<g transform="{"rotate(1)" * 200_000}">' + '<path d="M0 0H90V90Z"/>' * 20 + "</g>")


@hostile("transforms in one another.svg")
def _() -> str:
    return svg(f'<g transform="{"scale(1)" * 2000}">' * 60 + '<path d="M0 0H90V90Z"/>' * 3000 + "</g>" * 60)


@hostile("long words.svg")
def _() -> str:
    return svg(f'<text x="9" y="9">{"cut 2 lining " * 1_000_000}</text><path d="M0 0H90V90Z"/>')


@hostile("many words.svg")
def _() -> str:
    words = "".join(f'<text x="{n % 900}" y="{n % 700}">cut {n} lining</text>' for n in range(60_000))
    return svg(words + '<path d="M0 0H900V900Z"/>')


@hostile("style sheet.svg")
def _() -> str:
    rules = "".join(f".c{n}{{stroke:red}}" for n in range(100_000))
    return svg(f'<style>{rules}</style><path class="{" ".join(f"c{n}" for n in range(9000))}" d="M0 0H90V90Z"/>')


@hostile("one long number.svg")
def _() -> str:
    return svg(f'<path d="M0 0L{"1" * 10_000_000} 5Z"/>')


@hostile("blanks.svg")
def _() -> str:
    return svg(f'<polygon points="{"1" * 100_000}{" " * 2_000_000}x"/><path d="M0 0{" " * 2_000_000}x"/>')


@hostile("packed.svg")
def _() -> bytes:
    return gzip.compress(b" " * 200_000_000, 9)


@hostile("packed.svgz")
def _() -> bytes:
    return gzip.compress(svg(" " * 100_000_000).encode(), 9)


@hostile("packed.zip")
def _() -> bytes:
    whole = BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a.svg", " " * 100_000_000)
    return whole.getvalue()


@hostile("pages without end.pdf")
def _() -> str:
    return "%PDF-1.7\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj 2 0 obj<</Type/Pages/Kids[2 0 R]/Count 1>>endobj"


# --- DXF --------------------------------------------------------------------------------------------------------------


@hostile("placed in rows.dxf")
def _() -> str:
    return dxf([insert("A", "70 10000 71 10000 44 1 45 1")], [block("A", SQUARE)])


@hostile("blocks in one another.dxf")
def _() -> str:
    levels = [block(f"B{n + 1}", *[insert(f"B{n}")] * 10) for n in range(8)]
    return dxf([insert("B8")], [block("B0", SQUARE), *levels])


@hostile("deep blocks.dxf")
def _() -> str:
    levels = [block(f"B{n + 1}", insert(f"B{n}")) for n in range(5000)]
    return dxf([insert("B5000")], [block("B0", SQUARE), *levels])


@hostile("a block in itself.dxf")
def _() -> str:
    return dxf([insert("A")], [block("A", insert("B")), block("B", insert("A"))])


@hostile("many lines.dxf")
def _() -> str:
    ends = scattered(100_000)
    lines = zip(ends[::2], ends[1::2], strict=True)
    return dxf(f"0 LINE 8 0 10 {a} 20 {b} 11 {c} 21 {d}" for (a, b), (c, d) in lines)


@hostile("ends in one place.dxf")
def _() -> str:
    ends = scattered(50_000, 0.4)
    return dxf(f"0 LINE 8 0 10 {x} 20 {y} 11 {n % 900} 21 {n // 900}" for n, (x, y) in enumerate(ends))


@hostile("many small outlines.dxf")
def _() -> str:
    return dxf(polyline(square(n % 250 * 4, n // 250 * 4, 3)) for n in range(50_000))


@hostile("outlines over one another.dxf")
def _() -> str:
    return dxf(polyline(square(n / 10, n / 20, 300)) for n in range(2000))


@hostile("rings in one another.dxf")
def _() -> str:
    return dxf(f"0 CIRCLE 8 0 10 0 20 0 30 0 40 {20 + n / 5}" for n in range(3000))


@hostile("a million points.dxf")
def _() -> str:
    return dxf([polyline((n % 1000, n // 1000) for n in range(1_000_000))])


@hostile("crossing itself.dxf")
def _() -> str:
    return dxf([polyline(scattered(100_000))])


@hostile("half crossing.dxf")
def _() -> str:
    return dxf(polyline(scattered(1900)) for _ in range(300))


@hostile("old points.dxf")
def _() -> str:
    corners = " ".join(f"0 VERTEX 8 0 10 {n % 700} 20 {n // 700} 30 0" for n in range(400_000))
    return dxf([f"0 POLYLINE 8 0 66 1 70 1 {corners} 0 SEQEND 8 0"])


@hostile("old ones without end.dxf")
def _() -> str:
    return dxf(["0 POLYLINE 8 0 66 1 70 1 0 VERTEX 8 0 10 1 20 1"] * 50_000)


@hostile("spline of degree 100.dxf")
def _() -> str:
    poles = " ".join(f"10 {x} 20 {y} 30 0" for x, y in scattered(200))
    knots = " ".join(f"40 {n}" for n in range(301))
    return dxf([f"0 SPLINE 8 0 100 AcDbEntity 100 AcDbSpline 70 8 71 100 72 301 73 200 74 0 {knots} {poles}"])


@hostile("splines.dxf")
def _() -> str:
    poles = " ".join(f"10 {x} 20 {y} 30 0" for x, y in scattered(4900))
    knots = " ".join(f"40 {n}" for n in range(4904))
    one = f"0 SPLINE 8 0 100 AcDbEntity 100 AcDbSpline 70 8 71 3 72 4904 73 4900 74 0 {knots} {poles}"
    return dxf([one] * 40)


@hostile("bulges.dxf")
def _() -> str:
    drawn = " ".join(f"10 {n % 900 * 1000} 20 {n % 7 * 90000} 42 0.9" for n in range(100_000))
    return dxf([f"0 LWPOLYLINE 8 0 70 1 100 AcDbEntity 100 AcDbPolyline 90 100000 70 1 {drawn}"])


@hostile("huge numbers.dxf")
def _() -> str:
    return dxf([polyline([(0, 0), (1e308, 0), (1e308, 1e308)]), "0 CIRCLE 8 0 10 0 20 0 30 0 40 1e300"])


@hostile("not numbers.dxf")
def _() -> str:
    return dxf(["0 LWPOLYLINE 8 0 90 3 70 1 10 nan 20 inf 10 1 20 1 10 2 20 0"])


@hostile("long words.dxf")
def _() -> str:
    return dxf([SQUARE, f"0 TEXT 8 0 10 5 20 5 30 0 40 5 1 {'cut2lining' * 2_000_000}"])


@hostile("many words.dxf")
def _() -> str:
    words = (f"0 TEXT 8 0 10 {n % 900} 20 {n // 900} 30 0 40 5 1 cut{n}lining" for n in range(50_000))
    return dxf([*(polyline(square(n * 300, 0, 200)) for n in range(300)), *words])


@hostile("many layers.dxf")
def _() -> str:
    return dxf(polyline(square(n % 200 * 40, n // 200 * 40, 30), f"8 layer{n}") for n in range(20_000))


@hostile("blocks never placed.dxf")
def _() -> str:
    return dxf([SQUARE], (block(f"B{n}", SQUARE) for n in range(20_000)))


@hostile("hatches.dxf")
def _() -> str:
    edges = " ".join(f"10 {x} 20 {y}" for x, y in scattered(20_000))
    head = "0 HATCH 8 0 100 AcDbEntity 100 AcDbHatch 10 0 20 0 30 0 210 0 220 0 230 1 2 SOLID 70 1 71 0 91 1 92 3 72 0"
    return dxf([f"{head} 73 1 93 20000 {edges} 97 0 75 1 76 1 98 0"] * 3)


@hostile("codes alone.dxf")
def _() -> str:
    return "0\nSECTION\n2\nENTITIES\n" + "0\n" * 10_000_000


@hostile("no lines at all.dxf")
def _() -> str:
    return "0\nSECTION\n" + " " * 60_000_000
