"""Sheets by programs of drawing and design: LibreCAD, OpenSCAD, Dia, Fig, Ipe, and PostScript made DXF by pstoedit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points, scaled, steps_placed
from tests.make.corpus.known import PAGE, SHEETS
from tests.make.corpus.programs.run import ASKS, SEWN, Maker, run, version
from tests.make.corpus.source import Style, svg_of

if TYPE_CHECKING:
    from tests.make.corpus.known import Drawn


def lines_of(sheet: str) -> list[Drawn]:
    """The outlines of a sheet."""
    return [line for line in SHEETS[sheet].lines() if line.part in ("cut", "hole", "frame")]


def by_openscad(maker: Maker) -> None:
    """OpenSCAD: polygons put together and cut out of one another, as SVG and as DXF."""
    tool = version("openscad", "--version")

    def polygon(line: Drawn) -> str:
        return f"polygon({many_points(line.steps, 100).round(4).tolist()});"

    made: list[tuple[str, str, dict[str, Any]]] = [
        ("plain", "svg", {}),
        ("curves", "svg", {}),
        ("turned", "dxf", dict(ASKS)),
        ("curves", "dxf", ASKS | SEWN),
    ]
    for sheet, kind, known in made:
        cuts = "".join(polygon(line) for line in lines_of(sheet) if line.part == "cut")
        holes = "".join(polygon(line) for line in lines_of(sheet) if line.part == "hole")
        source = maker.source(f"{sheet}.scad", f"difference() {{ union() {{ {cuts} }} union() {{ {holes} }} }}")
        file = f"openscad {sheet}.{kind}"
        run("openscad", "-o", maker.out / file, source)
        maker.keep(file, tool, sheet, near=0.2, **known)


def by_fig(maker: Maker) -> None:
    """Fig: polygons in steps of 1/1200 in, as SVG and DXF by fig2dev."""
    tool = f"fig2dev {version('fig2dev', '-V')}"
    unit = 1200 / 25.4
    made: list[tuple[str, str, dict[str, Any]]] = [
        ("lines", "svg", {}),
        ("plain", "svg", {}),
        ("framed", "svg", {}),
        ("turned", "dxf", {"first": "give --units", "asked": {"units": "in"}, "is_upside": True}),
    ]
    for sheet, kind, known in made:
        text = "#FIG 3.2\nPortrait\nCenter\nInches\nA2\n100.00\nSingle\n-2\n1200 2\n"
        for line in lines_of(sheet):
            points = [(round(x * unit), round((PAGE[1] - y) * unit)) for x, y in many_points(line.steps, 60).tolist()]
            if points[0] != points[-1]:
                points.append(points[0])
            text += f"2 3 0 1 0 7 50 -1 -1 0.000 0 0 -1 0 0 {len(points)}\n\t"
            text += " ".join(f"{x} {y}" for x, y in points) + "\n"
        source = maker.source(f"{sheet}.fig", text)
        file = f"fig2dev {sheet}.{kind}"
        run("fig2dev", "-L", kind, source, maker.out / file)
        maker.keep(file, tool, sheet, near=0.2, **known)


def by_ipe(maker: Maker) -> None:
    """Ipe: paths with Béziers in points, y upwards, as SVG."""
    tool = "Ipe " + version("iperender").split("Ipe")[-1].strip()
    for sheet in ("plain", "lines"):
        shapes = ""
        for line in lines_of(sheet):
            shapes += f'<path stroke="black">\n{ipe_path(line)}</path>\n'
        wide, high = (side * 72 / 25.4 for side in PAGE)
        text = (
            '<?xml version="1.0"?>\n<!DOCTYPE ipe SYSTEM "ipe.dtd">\n<ipe version="70206" creator="Ipe 7.2.6">\n'
            f'<ipestyle name="a"><layout paper="{wide:.3f} {high:.3f}" origin="0 0" frame="{wide:.3f} {high:.3f}"'
            ' crop="no"/></ipestyle>\n<page><layer name="alpha"/><view layers="alpha" active="alpha"/>\n'
            f"{shapes}</page>\n</ipe>\n"
        )
        source = maker.source(f"{sheet}.ipe", text)
        file = f"ipe {sheet}.svg"
        run("iperender", "-svg", "-nocrop", source, maker.out / file)
        maker.keep(file, tool, sheet)


def ipe_path(line: Drawn) -> str:
    """A line in Ipe's way: its points, then what leads to them."""
    found = ""
    here = (0.0, 0.0)
    for step in steps_placed(line.steps, scaled(72 / 25.4, 72 / 25.4)):
        values = [float(value) for value in step[1:]]
        if step[0] in ("A", "E"):
            points = many_points([("M", *here), step] if step[0] == "A" else [step], 100).tolist()
            for number, (x, y) in enumerate(points[step[0] == "A" :]):
                found += f"{x:.5f} {y:.5f} {'m' if number == 0 and step[0] == 'E' else 'l'}\n"
            here = (points[-1][0], points[-1][1])
        else:
            found += " ".join(f"{value:.5f}" for value in values) + f" {str(step[0]).lower()}\n"
            here = (values[-2], values[-1])
    return found + "h\n"


def by_dia(maker: Maker) -> None:
    """Dia: SVG opened, and written as SVG and as DXF, in centimetres."""
    tool = version("dia", "--version").split(",")[0]
    rounded = {"first": "the proportions of its view box", "asked": {"units": "px", "per_inch": 50.8}}
    made: list[tuple[str, str, dict[str, Any]]] = [
        ("lines", "svg", rounded),
        ("plain", "svg", rounded),
        ("lines", "dxf", {"refused": "give --units"}),  # it leaves out Béziers, and makes all lines that
    ]
    for sheet, kind, known in made:
        source = maker.source(f"dia {sheet}.svg", svg_of(sheet, Style(unit="cm")))
        file = f"dia {sheet}.{kind}"
        run("xvfb-run", "-a", "dia", "-t", kind, "-e", maker.out / file, source)
        maker.keep(file, tool, sheet, near=0.3, **known)


def by_pstoedit(maker: Maker) -> None:
    """Pstoedit: PDF made DXF, with splines or with polylines, in points or in millimetres; and SVG by libplot."""
    tool = version("sh", "-c", "pstoedit -help 2>&1 | head -1").split("/")[0].replace("pstoedit: version", "pstoedit")
    inches: dict[str, Any] = {"first": "give --units", "asked": {"units": "in"}, "near": 0.3}
    made: list[tuple[str, str, str, dict[str, Any]]] = [
        ("lines", "dxf: -polyaslines", "reportlab new framed", inches),
        ("mm", "dxf_14: -mm", "reportlab old plain", {"near": 0.3}),
        ("splines", "dxf_s: -mm -splineasbezier", "reportlab old plain", {"near": 0.3}),
        ("polylines", "dxf_s: -mm -splineaspolyline", "pyx new turned", {"near": 2.5}),
    ]
    for name, kind, pdf, known in made:
        sheet = pdf.rsplit(" ", 1)[1]
        file = f"pstoedit {name} {sheet}.dxf"
        drawn = maker.work / "page.eps"
        run("pdftops", "-eps", maker.out / "pdf" / f"{pdf}.pdf", drawn)
        run("pstoedit", "-f", kind, drawn, maker.out / file)
        maker.keep(file, f"{tool}, PDF by {pdf.split()[0]}", sheet, **known)


def by_librecad(maker: Maker) -> None:
    """LibreCAD: DXF by ezdxf as PDF, made SVG by pdftocairo."""
    tool = "LibreCAD 2.2.0"
    for name, sheet, known in (("ezdxf new entities R2018", "curves", SEWN),):
        source, file = maker.work / f"{name}.dxf", f"librecad {name.split()[2]} {sheet}.svg"
        source.write_bytes((maker.out / source.name).read_bytes())
        run("librecad", "dxf2pdf", "-s", "1", "-p", f"{PAGE[0]:g}x{PAGE[1]:g}", source)
        pdf = source.with_suffix(".pdf")
        run("pdftocairo", "-svg", pdf, maker.out / file)
        # Of the page it keeps only what lies on a sheet of A3.
        maker.keep(file, f"{tool}, SVG by pdftocairo", sheet, near=0.3, only=("quarter", "ring"), **known)


PROGRAMS = (by_openscad, by_fig, by_ipe, by_dia, by_pstoedit, by_librecad)


def make(maker: Maker) -> None:
    """Write all files."""
    for program in PROGRAMS:
        program(maker)
