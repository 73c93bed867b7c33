"""Sheets by programs that plot, trace and lay out: gnuplot, Graphviz, potrace, MetaPost and R."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points
from tests.make.corpus.known import PAGE, SHEETS
from tests.make.corpus.programs.run import ASKS, PX, SEWN, Maker, run, version

if TYPE_CHECKING:
    from tests.make.corpus.known import Drawn

POINT = 72 / 25.4


def closed(line: Drawn, many: int = 100) -> list[tuple[float, float]]:
    """A closed line as many points, the first once more at the end."""
    points = [(x, y) for x, y in many_points(line.steps, many).tolist()]
    return points if points[0] == points[-1] else [*points, points[0]]


def outlines(sheet: str) -> list[Drawn]:
    """All closed lines of a sheet."""
    return [line for line in SHEETS[sheet].lines() if line.part != "words"]


def by_gnuplot(maker: Maker) -> None:
    """Gnuplot: lines over the whole page, as SVG in pixels and as DXF; with and without axes."""
    tool = version("gnuplot", "--version")
    wide, high = (round(side / 25.4 * 96, 4) for side in PAGE)
    made: list[tuple[str, str, str, str, dict[str, Any]]] = [
        ("plain", "plain", "svg", f"svg size {wide},{high}", PX | {"near": 0.4}),
        ("axes", "lines", "svg", f"svg size {wide},{high}", PX | {"near": 0.4}),
        # A sheet of 120 by 80 units, so that one of them counts 5 mm.
        ("curves", "curves", "dxf", "dxf", SEWN | ASKS | {"asked": {"units": "px", "per_inch": 5.08}}),
    ]
    for name, sheet, kind, terminal, known in made:
        top = 400 if kind == "dxf" else PAGE[1]
        file = f"gnuplot {name} {sheet}.{kind}"
        data = "\n\n".join("\n".join(f"{x:.5f} {y:.5f}" for x, y in closed(line)) for line in outlines(sheet))
        source = maker.source("data.txt", data)
        bare = "" if name == "axes" else "unset border; unset tics;"
        run(
            "gnuplot",
            "-e",
            f"set terminal {terminal}; set output '{maker.out / file}'; {bare} unset key; set lmargin at screen 0;"
            " set rmargin at screen 1; set bmargin at screen 0; set tmargin at screen 1;"
            f" set xrange [0:{PAGE[0]:g}]; set yrange [0:{top:g}]; plot '{source}' with lines lc 'black'",
        )
        maker.keep(file, tool, sheet, **known)


def by_graphviz(maker: Maker) -> None:
    """Graphviz: polygons in the background of an empty graph, in points, y upwards."""
    tool = version("dot", "-V").replace("dot - ", "")
    wide, high = (round(side * POINT, 3) for side in PAGE)
    for sheet in ("lines", "framed", "curves"):
        drawn = ""
        for line in outlines(sheet):
            points = [(round(x * POINT, 3), round(y * POINT, 3)) for x, y in closed(line)[:-1]]
            drawn += f"p {len(points)} " + " ".join(f"{x} {y}" for x, y in points) + " "
        shape = f'_background="c 7 -#000000 {drawn}"; bb="0,0,{wide},{high}";'
        node = f'a [pos="0,0!", style=invis, width=0.01]; b [pos="{wide},{high}!", style=invis, width=0.01];'
        source = maker.source(f"{sheet}.dot", f'graph "{sheet}" {{ {shape} {node} }}')
        file = f"graphviz {sheet}.svg"
        run("neato", "-n2", "-Tsvg", source, "-o", maker.out / file)
        maker.keep(file, tool, sheet, **(SEWN if sheet == "curves" else {}))


def by_potrace(maker: Maker) -> None:
    """Potrace: pieces filled in a picture of 254 dots to the inch, traced as SVG, DXF and GeoJSON."""
    from PIL import Image, ImageDraw

    tool = version("potrace", "--version")
    made: list[tuple[str, str, dict[str, Any]]] = [
        ("plain", "svg", {}),
        ("curves", "svg", {}),
        ("turned", "dxf", {"first": "give --units", "asked": {"units": "px", "per_inch": 254}}),
        ("plain lines", "svg", {"told": ["drawn as a band"], "near": 0.5}),
        ("turned lines", "dxf", {"first": "give --units", "asked": {"units": "px", "per_inch": 254},
                                 "told": ["drawn as a band"]}),
        ("lines", "geojson", {"first": "give --units", "asked": {"units": "px", "per_inch": 254}}),
    ]  # fmt: skip
    for name, kind, known in made:
        sheet, is_line = name.split()[0], " " in name
        picture = Image.new("1", (round(PAGE[0] * 10), round(PAGE[1] * 10)), 1)
        pen = ImageDraw.Draw(picture)
        for line in outlines(sheet):
            points = [(x * 10, (PAGE[1] - y) * 10) for x, y in closed(line)]
            if is_line:
                pen.line(points, fill=0, width=8, joint="curve")
            else:
                pen.polygon(points, fill=int(line.part == "hole"))
        source = maker.work / f"{sheet}.pbm"
        picture.save(source)
        file = f"potrace {name}.{kind}"
        run("potrace", "-b", kind, "-r", "254", source, "-o", maker.out / file)
        maker.keep(file, tool, sheet, **{"near": 0.35, **known})


def by_metapost(maker: Maker) -> None:
    """MetaPost: Béziers in points of 72 to the inch, as SVG."""
    tool = version("mpost", "--version")
    for sheet in ("plain", "turned"):
        shapes = ""
        for line in outlines(sheet):
            parts, here = "", (0.0, 0.0)
            for step in line.steps:
                values = [float(value) for value in step[1:]]
                if step[0] in ("A", "E"):
                    points = many_points([("M", *here), step] if step[0] == "A" else [step], 100).tolist()
                    parts += "".join(f"--({x:.5f}u,{y:.5f}u)" for x, y in points[step[0] == "A" :])
                    here = (points[-1][0], points[-1][1])
                    continue
                points = [f"({values[i]:.5f}u,{values[i + 1]:.5f}u)" for i in range(0, len(values), 2)]
                parts += f"..controls {points[0]} and {points[1]}..{points[2]}" if step[0] == "C" else f"--{points[0]}"
                here = (values[-2], values[-1])
            shapes += f"draw {parts.removeprefix('--')}--cycle;\n"
        frame = f"clip currentpicture to (0,0)--({PAGE[0]}u,0)--({PAGE[0]}u,{PAGE[1]}u)--(0,{PAGE[1]}u)--cycle;"
        box = f"setbounds currentpicture to (0,0)--({PAGE[0]}u,0)--({PAGE[0]}u,{PAGE[1]}u)--(0,{PAGE[1]}u)--cycle;"
        head = 'outputformat:="svg"; outputtemplate:="%j.svg"; u:=72bp/25.4;\n'
        more = frame if sheet == "turned" else ""
        maker.source(
            f"sheet-{sheet}.mp",
            f"{head}beginfig(1);\npickup pencircle scaled 0.5;\n{shapes}{more}{box}\nendfig;\nend\n",
        )
        run("sh", "-c", f"cd '{maker.work}' && mpost -numbersystem=double -interaction=batchmode sheet-{sheet}.mp")
        file = f"metapost {sheet}.svg"
        (maker.work / f"sheet-{sheet}.svg").rename(maker.out / file)
        maker.keep(file, tool, sheet, **PX | {"asked": {"units": "px", "per_inch": 72}})


def by_r(maker: Maker) -> None:
    """R: polygons over the whole page, by its own SVG device and by way of PDF."""
    tool = version("R", "--version")
    wide, high = (side / 25.4 for side in PAGE)
    made: list[tuple[str, str, dict[str, Any]]] = [
        ("lines", "svg", {}),
        ("curves", "svg", dict(SEWN)),
        ("words", "svg", {"told": ["letter"]}),
        ("plain", "pdf", {}),
    ]
    for sheet, kind, known in made:
        device = "svg" if kind == "svg" else "pdf"
        target = maker.out / f"r {sheet}.svg" if kind == "svg" else maker.work / "r.pdf"
        body = f'{device}("{target}", width={wide}, height={high}); par(mar=c(0,0,0,0), xaxs="i", yaxs="i");\n'
        body += f"plot.new(); plot.window(c(0,{PAGE[0]}), c(0,{PAGE[1]}));\n"
        for line in SHEETS[sheet].lines():
            if line.part == "words":
                _, x, y = line.steps[0]
                body += f'text({x}, {y}, "{line.words}", adj=c(0,0), cex=2);\n'
            else:
                points = closed(line)[:-1]
                xs, ys = (",".join(f"{point[at]:.5f}" for point in points) for at in (0, 1))
                body += f"polygon(c({xs}), c({ys}), border='black');\n"
        source = maker.source(f"{sheet}.R", body + "dev.off()\n")
        run("Rscript", "--vanilla", source)
        file = f"r {sheet}.svg"
        if kind == "pdf":
            run("pdftocairo", "-svg", target, maker.out / file)
        maker.keep(file, tool + (", PDF by pdftocairo" if kind == "pdf" else ""), sheet, **known)


PROGRAMS = (by_gnuplot, by_graphviz, by_potrace, by_metapost, by_r)


def make(maker: Maker) -> None:
    """Write all files."""
    for program in PROGRAMS:
        program(maker)
