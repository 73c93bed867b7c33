"""Words on patterns and names of objects: a count is read where they are one, else they stay text."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
import shapely
import shapely.affinity

from pieces.exchange.words.words import in_size_order, is_size, read_words
from tests.make.drawings import FRONT, dxf, path, read, svg

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace


@pytest.mark.parametrize(
    "text",
    [
        "Do not cut 2", "cut 2 1/2 in from edge", "cut 2 in from edge", "cut 3 mm deep", "cut 1 cm outside line",
        "Cut 0", "cut 1.5 cm",
        'cut 5" slit', "Cut on bias", "Don't cut on fold", "nicht im Bruch zuschneiden", "never cut 2", "cut 1 m",
    ],
)  # fmt: skip
def test_a_sentence_is_no_count(text: str) -> None:
    """A hint with a number, or one that says what not to do, says nothing of how many are cut; it is kept as text."""
    said = read_words(text)
    assert (said.cuts, said.fold, said.rest) == ([], False, [text])


@pytest.mark.parametrize(
    ("text", "many", "material", "rest"),
    [
        ("cut 2", 2, None, []),
        ("Front cut 2", 2, None, ["Front"]),
        ("cut 2 M", 2, None, ["M"]),  # a size, no metre
        ("cut 2 in lining", 2, "lining", []),
        ("cut 4 in black", 4, None, ["black"]),
        ("cut 2 1 cm seam", 2, None, ["1 cm seam"]),
        ("Front, cut 2, do not stretch", 2, None, ["Front", "do not stretch"]),
        ("No. 3 cut 2", 2, None, ["No. 3"]),
        ("Sleeve (left), cut 2", 2, None, ["Sleeve (left)"]),
        ("cut 2 pr", 4, None, []),
        ("cut 1 pr.", 2, None, []),
        ("Cut 1L 1R", 2, None, []),
    ],
)
def test_a_count_beside_other_words(text: str, many: int, material: str | None, rest: list[str]) -> None:
    """Sizes, colours, allowances and hints beside a count leave it as it is."""
    said = read_words(text)
    assert [(cut.many, cut.material) for cut in said.cuts] == [(many, material)]
    assert said.rest == rest


SAID = {
    "cut 2": (2, False, False, None),
    "Cut 2 (1 pair)": (2, True, False, None),
    "cut 1 pair lining": (2, True, False, "lining"),
    "cut 1 on fold": (1, False, True, None),
    "CUT 4 INTERFACING": (4, False, False, "interfacing"),
    "x2": (2, False, False, None),
    "2x zuschneiden": (2, False, False, None),
    "1x im Stoffbruch": (1, False, True, None),
    "2x gegengleich": (2, True, False, None),
    "2 x Futter": (2, False, False, "lining"),
    "2 Paar": (4, True, False, None),
    "1x Einlage": (1, False, False, "interfacing"),
    "couper 2 fois": (2, False, False, None),
    "couper 1 au pli": (1, False, True, None),
    "couper 1 paire": (2, True, False, None),
    "doublure": (None, False, False, "lining"),
    "2x entoilage": (2, False, False, "interfacing"),
    "place on fold": (None, False, True, None),
    "cut two": (2, False, False, None),
}


@pytest.mark.parametrize(("text", "wanted"), SAID.items())
def test_words(text: str, wanted: tuple[Any, ...]) -> None:
    """How many, in pairs, on the fold, of what: in English, German and French. Common practice, no source."""
    said = read_words(text)
    cut = said.cuts[0] if said.cuts else (None, False, None)
    assert (cut[0], cut[1], said.fold, cut[2]) == wanted and not said.rest


@pytest.mark.parametrize("text", ["10 x 12 cm", "front", "scale 1:1", "Rückenteil", "1/2 in", "size 38", "section A"])
def test_words_that_say_nothing(text: str) -> None:
    """Measures, names and scales are no counts."""
    assert not read_words(text).says_how and read_words(text).rest == [text]


@pytest.mark.parametrize("text", ["Back yoke: cut 2, 1 in lining", "Back yoke cut 2 on the fold, 1 of lining"])
def test_a_count_of_the_lining_after_another(text: str) -> None:
    """What is cut of the lining beside the rest does not take the place of that."""
    said = read_words(text)
    assert [(cut.many, cut.material) for cut in said.cuts] == [(2, None), (1, "lining")]
    assert said.rest == ["Back yoke"]


@pytest.mark.parametrize("name", ["collar (interfacing)", "pocket [left]", "(left) cuff", "collar (outer) 2"])
def test_brackets_of_names(name: str) -> None:
    """A bracket keeps its other half, so that what we call a piece is found again."""
    assert read_words(name).rest == [name]


def test_words_of_several_materials() -> None:
    """A piece that is cut of several materials has a count for each."""
    assert read_words("cut 2 fabric, 1 interfacing").cuts == [(2, False, "shell"), (1, False, "interfacing")]
    assert read_words("2x Stoff, 2x Futter").cuts == [(2, False, "shell"), (2, False, "lining")]
    assert is_size("XL") and is_size("size 38") and not is_size("collar")


def test_words_beside_and_inside(tmp_path: Path) -> None:
    """Words in a piece and beside it give its name, count, fold and material; all that was read is listed."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (300, 0), (300, 100), (0, 120)], close=True)
        space.add_text("back", dxfattribs={"insert": (50, 50)})
        space.add_text("cut 1 on fold", dxfattribs={"insert": (50, 30)})
        space.add_lwpolyline([(600, 0), (700, 0), (700, 100), (600, 100)], close=True)
        space.add_mtext("collar\\Pcut 2, lining", dxfattribs={"insert": (620, 50)})

    found = read(dxf(tmp_path / "a.dxf", draw))
    back, collar = found.pieces
    assert (back.name, back.cut, back.on_fold) == ("back", 1, True)
    assert shapely.Polygon(back.unfolded).area == pytest.approx(2 * 33_000)
    assert (collar.name, collar.cut, collar.material) == ("collar", 2, "lining")
    assert ("back", "cut 1 on fold", "cut 1, on fold") in found.report.words
    assert any(line.startswith("words: 'cut 1 on fold'") for line in found.report.lines())
    assert any("straight edge" in guess for guess in found.report.guesses)


def test_fold_at_its_words(tmp_path: Path) -> None:
    """Of two straight edges, the one that the words "on fold" stand at lies on the fold, and the grain along it."""
    inside = '<rect x="20" y="20" width="100" height="200"/><text x="100" y="120" font-size="6">on fold</text>'
    (piece,) = read(svg(tmp_path / "a.svg", inside)).pieces
    assert piece.on_fold and piece.length == pytest.approx(200) and piece.width == pytest.approx(200)


def test_a_fold_of_one_of_several_counts_is_told(tmp_path: Path) -> None:
    """Which of them lies on the fold, the words do not settle; the small file does."""
    inside = '<rect x="20" y="20" width="100" height="200"/><text x="60" y="120" font-size="6">{}</text>'
    said = {}
    for words in ("cut 2 self; cut 1 lining on fold", "cut 1 self, 1 lining on fold"):
        guesses = read(svg(tmp_path / "a.svg", inside.format(words))).report.guesses
        said[words] = any("several counts and a fold" in guess for guess in guesses)
    assert list(said.values()) == [True, False]


@pytest.mark.parametrize("kind", ["label", "layer", "block"])
def test_names_of_objects(tmp_path: Path, kind: str) -> None:
    """What a label, a layer or a block is called says name, count, pair and material of the piece."""
    name = "sleeve cut 1 pair lining"
    if kind == "block":

        def draw(document: Drawing, space: Modelspace) -> None:
            document.blocks.new("SLEEVE_CUT_1_PAIR_LINING").add_lwpolyline(FRONT, close=True)
            space.add_blockref("SLEEVE_CUT_1_PAIR_LINING", (0, 0))

        made = dxf(tmp_path / "a.dxf", draw)
    else:
        space = 'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"'
        label = f'{space} inkscape:label="{name}"'
        inside = (
            path(FRONT, label)
            if kind == "label"
            else f'<g inkscape:groupmode="layer" id="layer1" {label}>{path(FRONT)}</g>'
        )
        made = svg(tmp_path / "a.svg", inside)
    (piece,) = read(made).pieces
    assert (piece.name.lower(), piece.cut, piece.mirrored_pair, piece.material) == ("sleeve", 2, True, "lining")


def test_cut_of_two_materials(tmp_path: Path) -> None:
    """A piece that its words cut of shell and of lining is there twice, each with its count; one outline was read."""
    found = read(svg(tmp_path / "a.svg", path(FRONT) + '<text x="60" y="90">front cut 2 shell, cut 1 lining</text>'))
    assert [(p.name, p.cut, p.material) for p in found.pieces] == [
        ("front", 2, "shell"),
        ("front (lining)", 1, "lining"),
    ]
    assert found.report.account.places() == {"piece": 1, "words read": 1}


def test_words_that_contradict(tmp_path: Path) -> None:
    """Two counts for one piece are said, and refused by a strict reading."""
    inside = path(FRONT, 'id="front cut 4"') + '<text x="60" y="90">cut 2</text>'
    found = read(svg(tmp_path / "a.svg", inside))
    assert found.pieces.pieces[0].cut == 2 and any("both cut 2 and cut 4" in guess for guess in found.report.guesses)


@pytest.mark.parametrize("name", ["path12", "rect4-7", "Layer 1", "g10", "id3", "Ebene 2", "line7"])
def test_automatic_names(tmp_path: Path, name: str) -> None:
    """Names that a program gave say nothing: neither a name, nor a part, nor a piece of its own."""
    found = read(
        svg(
            tmp_path / "a.svg",
            path(FRONT, f'id="{name}"') + f'<rect id="{name}b" x="50" y="60" width="60" height="70"/>',
        )
    )
    assert [piece.name for piece in found.pieces] == ["piece 1"]


def test_sizes_in_order() -> None:
    """Letters and numbers in the order of people; other names stay as they are."""
    assert in_size_order(["L", "M", "S", "XL", "2XS", "XS"]) == ["2XS", "XS", "S", "M", "L", "XL"]
    assert in_size_order(["size 10", "12", "8"]) == ["8", "size 10", "12"]
    assert in_size_order(["wide", "M", "L"]) == ["wide", "M", "L"]


COUNTED = {
    "make 6": "cut 6", "6x": "cut 6", "x6": "cut 6", "qty 6": "cut 6", "QTY. 4": "cut 4", "quantity: 3": "cut 3",
    "6 pcs": "cut 6", "cut 6pcs": "cut 6", "2 pieces on the fold": "cut 2, on fold", "cut 4 each": "cut 4",
    "2 off": "cut 2", "no. off 4": "cut 4", "4 copies": "cut 4", "cut (2)": "cut 2", "cut seven": "cut 7",
    "cut 2 + 2 mirrored": "cut 4 (2 pairs)", "cut 1 & 1 reversed": "cut 2 (1 pair)",
    "cut 2 (1 mirrored)": "cut 2 (1 pair)", "cut 1, reverse 1": "cut 2 (1 pair)", "cut 2 mirror": "cut 2 (1 pair)",
    "cut 2 left and 2 right": "cut 4 (2 pairs)", "1 LH 1 RH": "cut 2 (1 pair)", "cut L & R": "cut 2 (1 pair)",
    "cut 1 RSU, 1 RSD": "cut 2 (1 pair)", "cut 2 right sides together": "cut 2 (1 pair)",
    "2 (1 pair)": "cut 2 (1 pair)",
    "cut 2 self 1 lining": "cut 2 shell, cut 1 lining", "cut 2 self, 2 fusing": "cut 2 shell, cut 2 interfacing",
    "fabric x2 lining x1": "cut 2 shell, cut 1 lining", "fabric: 2, lining: 1": "cut 2 shell, cut 1 lining",
    "Fabric 2 / Lining 1": "cut 2 shell, cut 1 lining", "cut 1 to fold": "cut 1, on fold",
    "coupe 1 sur pli": "cut 1, on fold", "4 gegengleich": "cut 4 (2 pairs)", "cut 12 mirrored": "cut 12 (6 pairs)",
    "CF fold": "on fold",
    "cut 1 each of fabric and lining": "cut 1 shell, cut 1 lining",
    "2 Stück": "cut 2", "Anzahl: 4": "cut 4", "je 1x links und rechts": "cut 2 (1 pair)",
    "1x links 1x rechts": "cut 2 (1 pair)", "2 x gegengl.": "cut 2 (1 pair)",
    "Oberstoff 2x Futter 1x": "cut 2 shell, cut 1 lining",
    "Qté: 4": "cut 4", "2 pièces": "cut 2", "1 gauche 1 droite": "cut 2 (1 pair)",
    "2 dans le tissu 1 dans la doublure": "cut 2 shell, cut 1 lining",
}  # fmt: skip


@pytest.mark.parametrize(("text", "wanted"), COUNTED.items())
def test_ways_of_counting(text: str, wanted: str) -> None:
    """Ways in which people write counts, pairs, folds and materials on paper patterns. Common practice, no source."""
    said = read_words(text)
    assert (said.words(), said.rest, said.doubts, said.unread) == (wanted, [], [], [])


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("cut 1-2", "1 to 2"), ("cut 2 per sleeve", "per sleeve"),
        ("cut 2 main, cut 2 contrast", "a material that is not known"),
        ("1x gegengleich", "mirrored"), ("cut 2 + 1 mirrored", "1 more"), ("cut 2, 2 pairs", "both 2 and 4"),
    ],
)  # fmt: skip
def test_a_count_that_may_be_another_is_told(text: str, wanted: str) -> None:
    """A count that may be meant otherwise is taken, with a word."""
    said = read_words(text)
    assert said.cuts and any(wanted in doubt for doubt in said.doubts)


@pytest.mark.parametrize("text", ["cut double", "fold", "set of 4", "2 ply", "make 6 belt loops"])
def test_words_not_understood_are_told(text: str, tmp_path: Path) -> None:
    """What seems to say how a piece is cut and is not understood is told, where nothing else says it."""
    assert read_words(text).cuts == [] and read_words(text).unread == [text]
    word = f'<text x="60" y="90">{text}</text>'
    assert any("is not understood" in said for said in read(svg(tmp_path / "a.svg", path(FRONT) + word)).report.guesses)
    assert not read(svg(tmp_path / "b.svg", path(FRONT, 'id="front cut 2"') + word)).report.guesses[1:]


@pytest.mark.parametrize(
    "text", ["6 buttonholes", "dart x2", "two-piece sleeve", "Piece 3 of 12", "Pattern has 12 pieces"]
)
def test_a_number_of_something_else(text: str) -> None:
    """A number of details on a piece, or of pieces in a pattern, is no count of the piece."""
    assert (read_words(text).cuts, read_words(text).rest) == ([], [text])
