"""Reading a job: what is written is understood, and what is not is told in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.cloth.fabric import Fabric
from pieces.errors import PieceError
from pieces.length import mm
from reports.ask.job import LARGEST_FILE, parse_job, read_job
from reports.ask.offer import LONGEST_NAME
from reports.errors import JobError, ReportError
from tests.make.model import HEAD, MODEL, edited, with_fabrics

if TYPE_CHECKING:
    from pathlib import Path

INCH = 25.4


def test_model() -> None:
    """The model job means what it says, each length in mm."""
    job = parse_job(MODEL, "jacket.toml")
    body, style, (fabric,), (rib,) = job.measured(), job.styled(), job.fabric, job.rib
    assert (job.name, job.units, job.garment) == ("jacket.toml", "in", "rib-jacket")
    assert (body.bust, body.wrist, body.armhole_depth) == pytest.approx((42 * INCH, 8.5 * INCH, 10.5 * INCH))
    assert (style.length, style.seam, style.closure, style.back) == (30 * INCH, INCH / 2, "buttons", "fold")
    assert fabric.fabric() == Fabric("navy twill, wide", mm(1524), mm(12.7))
    assert (fabric.spread, fabric.sold_by.mm, str(fabric.price.amount)) == ("folded", 114.3, "14.00")
    assert (rib.form, rib.stock().width, rib.stock().depth) == ("tube", 40 * INCH, None)


def test_least() -> None:
    """Six measurements, a sleeve and a width are enough: the rest has defaults."""
    job = parse_job(
        'garment = "rib-jacket"\n[body]\nbust = "96 cm"\nhip = "1 m"\nacross_shoulder = "400 mm"\nneck = "36 cm"\n'
        'upper_arm = "30 cm"\nwrist = "18 cm"\narm_length = "57 cm"\n'
        '[[fabric]]\nwidth = "1.5 m"\n[[fabric]]\nwidth = "45 in"\n'
    )
    assert job.measured().hip == 1000
    assert [offer.name for offer in job.fabric] == ["fabric 1", "fabric 2"]
    assert (job.fabric[0].spread, job.fabric[0].sold_by.mm, job.fabric[0].price) == ("folded", 114.3, None)


def test_best() -> None:
    """The spread "best" tries every spread of flat cloth."""
    job = parse_job(with_fabrics('width = "60 in"\nspread = "best"'))
    assert job.fabric[0].spreads() == (
        "folded",
        "open",
        "double-folded",
        "fold-then-open",
        "part-folded",
        "crosswise",
    )


def test_strips_sold() -> None:
    """Strips are sold by the strip, tube and flat rib by the eighth of a yard, unless told otherwise."""
    rib, tube = '[[rib]]\nwidth = "40 in"\nform = ', '[[rib]]\nopened = "40 in"\n'
    job = parse_job(HEAD + f'{tube}{rib}"flat"\n{rib}"strips"\ndepth = "8 in"\n{rib}"flat"\nsold_by = "0.1 m"\n')
    assert [offer.step if offer.step == "strip" else offer.step.mm for offer in job.rib] == [114.3, 114.3, "strip", 100]


@pytest.mark.parametrize("start", ["\ufeff", "# ½ yd\n"])
@pytest.mark.parametrize("line", ["\n", "\r\n"])
def test_text(tmp_path: Path, start: str, line: str) -> None:
    """A file from any editor is read: with or without a byte order mark, and with either kind of line end."""
    path = tmp_path / "job.toml"
    path.write_bytes((start + MODEL).replace("\n", line).encode())
    assert read_job(path).fabric == parse_job(MODEL).fabric


PRICE, WIDTH, NAP = 'price = "14.00 / yd"', 'width = "60 in"', "nap = false"
BUST, CLOSURE = 'bust = "42 in"', 'closure = "buttons"'
TUBE = 'form = "tube"'
TUBE_40 = MODEL[MODEL.index(TUBE) : MODEL.rindex("depth")]
STRIPS_40 = 'form = "strips"\nwidth = "40 in"\n'
WRONG = {
    # an unknown key: the nearest known one, or all
    "key of body": ((BUST, 'brust = "42 in"'), "[body] unknown key 'brust': did you mean 'bust'?"),
    "key of style": (('sleeve = "22', 'sleve = "22'), "[style] unknown key 'sleve': did you mean 'sleeve'?"),
    "key of cloth": (("selvedge =", "selvage ="), "number 1: unknown key 'selvage': did you mean 'selvedge'?"),
    "key of rib": ((TUBE, 'from = "tube"'), "[[rib]] number 1: unknown key 'from': did you mean 'form'?"),
    "key of job": (("garment =", "garmet ="), "unknown key 'garmet': did you mean 'garment'?"),
    "name of job": (('units = "in"', 'name = "x"'), "unknown key 'name'"),
    "far key": ((NAP, "zzzz = 1"), "[[fabric]] number 1: unknown key 'zzzz': the known keys are name, width, selvedge"),
    # an unknown choice: all there are
    "garment": (('"rib-jacket"', '"cape"'), "unknown garment 'cape': choose rib-jacket"),
    "units": (('units = "in"', 'units = "mm"'), "units: write 'in' or 'cm', not \"mm\""),
    "spread": (('spread = "folded"', 'spread = "fold"'), "write 'open', 'folded', 'double-folded', 'part-folded'"),
    "form": ((TUBE, 'form = "ring"'), "[[rib]] number 1 form: write 'tube', 'flat', 'strips' or 'set', not \"ring\""),
    "closure": ((CLOSURE, 'closure = "velcro"'), "[style] closure: 'velcro' is not one of buttons, zip, none"),
    "wearer": ((BUST, BUST + '\nwearer = "dogs"'), "[body] wearer: 'dogs' is not one of women, men, children"),
    # the wrong kind of value: what to write
    "bare number": ((BUST, "bust = 42"), "[body] bust: cannot read the length '42': a bare number has no unit"),
    "bare width": ((WIDTH, "width = 60"), "[[fabric]] number 1 width: cannot read the length '60': a bare number"),
    "list": ((BUST, 'bust = ["42 in"]'), "[body] bust: cannot read the length"),
    "date": ((BUST, "bust = 2020-01-01"), "[body] bust: cannot read the length '2020-01-01'"),
    "unit": ((BUST, 'bust = "42 furlongs"'), "[body] bust: cannot read the length '42 furlongs': unknown unit"),
    "number for yes": ((NAP, "nap = 1"), "[[fabric]] number 1 nap: write true or false, without quotes, or"),
    "text for yes": ((NAP, 'nap = "no"'), 'nap: write true or false, without quotes, or "by garment", not "no"'),
    "text for number": ((NAP, 'shrinkage = "5"'), 'shrinkage: write a plain number, such as 5, not "5"'),
    "yes for number": ((NAP, "margin = true"), "margin: write a plain number, such as 5, not true"),
    "number for text": (('name = "navy twill, wide"', "name = 5"), "name: write text in quotes, not 5"),
    "number for garment": (('"rib-jacket"', "3"), "garment: write text in quotes, not 3"),
    "one bracket": (("[[fabric]]", "[fabric]"), "write [[fabric]], in double brackets, on its own line"),
    "two brackets": (("[body]", "[[body]]"), "body: write [body] on its own line, with its keys below"),
    "share": (
        (CLOSURE, 'hem_share = "half"'),
        "[style] hem_share: 'half' is not a share: write a number from 0.2 to 1.5",
    ),
    "share of nan": ((CLOSURE, "hem_share = nan"), "[style] hem_share: nan is not a share"),
    # numbers out of range
    "nan": ((NAP, "shrinkage = nan"), "shrinkage: write a plain number, such as 5, not nan"),
    "infinite": ((NAP, "margin = inf"), "margin: write a plain number, such as 5, not inf"),
    "negative": ((NAP, "shrinkage = -1"), "shrinkage: write 0 or more, not -1"),
    "all shrinks": ((NAP, "shrinkage = 31"), "shrinkage: write 30 or less, not 31"),
    "margin": ((NAP, "margin = 101"), "margin: write 100 or less, not 101"),
    "no width": ((WIDTH, 'width = "0 in"'), "width: '0 in' is not a size: it must be more than 0"),
    "negative width": ((WIDTH, 'width = "-60 in"'), "cannot read the length '-60 in': a length cannot be negative"),
    "gap": (('gap = "0 in"', 'gap = "12 in"'), "gap: '12 in' is too much: keep 100 mm or less between pieces"),
    "step of nothing": (('sold_by = "1/8 yd"', 'sold_by = "0 yd"'), "sold_by: a step to sell by must be more than 0"),
    # prices
    "no unit of price": ((PRICE, 'price = "14.00"'), "price: cannot read the price '14.00': write an amount"),
    "number for price": ((PRICE, "price = 14.0"), "price: cannot read the price 14.0"),
    "cloth by strip": ((PRICE, 'price = "14 / strip"'), "cloth is sold by length or by weight: give its price"),
    "tube by strip": (('"18.00 / yd"', '"18.00 / strip"'), "this rib is sold by length: give its price for each yd"),
    # what is missing
    "no garment": (('garment = "rib-jacket"\n', ""), 'garment is missing: add a line such as garment = "rib-jacket"'),
    "no width of cloth": ((WIDTH, ""), '[[fabric]] number 1: width is missing: add a line such as width = "45 in"'),
    "no neck": (('neck = "15 in"\n', ""), '[body] lacks neck: add a line such as neck = "14 5/8 in"'),
    "no depth": ((TUBE_40, STRIPS_40), 'strips are sold_by = "strip", sets by "set", tube and flat rib by'),
    # names that no table could show
    "no name": (("navy twill, wide", ""), "name: a name is one line of 1 to 60 characters"),
    "two lines": (("navy twill, wide", r"a\nb"), "name: a name is one line of 1 to 60 characters"),
    "escape": (("navy twill, wide", r"a\u001b[2J"), "name: a name is one line of 1 to 60 characters"),
    "long name": (("navy twill, wide", "x" * (LONGEST_NAME + 1)), "name: a name is one line of 1 to 60 characters"),
    # not TOML
    "twice": (('neck = "15 in"', 'neck = "15 in"\nneck = "15 in"'), "is not valid TOML in line 8, column 15: a key"),
    "no value": (
        (BUST, "bust ="),
        "is not valid TOML in line 4, column 7: a value is missing or cannot be read",
    ),
    "deep": ((BUST, "bust = " + "[" * 9000), "is not valid TOML: "),
}


@pytest.mark.parametrize("case", WRONG)
def test_wrong(case: str) -> None:
    """What cannot be understood is told in one line: the file, the entry, what is wrong, and what to write."""
    (old, new), said = WRONG[case]
    head, sign, tail = MODEL.partition(old)
    assert sign, "the model job has no such text"
    with pytest.raises(JobError) as caught:
        parse_job(head + new + tail, "jacket.toml")
    message = str(caught.value)
    assert message.startswith("jacket.toml")
    assert said in message
    assert "\n" not in message


def test_strips_need_depth() -> None:
    """Strips without a depth are refused with an example."""
    text = HEAD + '[[rib]]\nform = "strips"\nwidth = "40 in"\n'
    with pytest.raises(JobError, match=r'\[\[rib\]\] number 1: strips need a depth, such as depth = "8 in"'):
        parse_job(text)


def test_second() -> None:
    """An error names the entry by its number, and says how many more there are."""
    with pytest.raises(JobError, match=r"\[\[fabric\]\] number 2 width: .*\(and 1 more fault\)"):
        parse_job(with_fabrics('width = "60 in"', "width = 45\nnap = 3"))


@pytest.mark.parametrize("text", ["", "\n# nothing but a remark\n"])
def test_empty(text: str) -> None:
    """An empty job is told what it needs and where to start."""
    with pytest.raises(JobError, match=r"j\.toml is empty: it needs a garment, .*see 'ellwand new'"):
        parse_job(text, "j.toml")


def test_unreadable(tmp_path: Path) -> None:
    """A file that is missing, a folder, not text, or endless, is named together with the reason."""
    binary, large = tmp_path / "b.toml", tmp_path / "l.toml"
    binary.write_bytes(b"\xff\xfe\x00")
    large.write_bytes(b"#" * (LARGEST_FILE + 1))
    for path, reason in (
        (tmp_path / "none.toml", "no such file"),
        (tmp_path, "is a directory"),
        (binary, "it is not text in UTF-8"),
        (large, "is larger than 1 MB, too large for a job file"),
    ):
        with pytest.raises(JobError) as caught:
            read_job(path)
        assert str(path) in str(caught.value)
        assert reason in str(caught.value)


def test_largest(tmp_path: Path) -> None:
    """A file of just the largest size is read."""
    path = tmp_path / "job.toml"
    path.write_text(MODEL + "#" * (LARGEST_FILE - len(MODEL)), encoding="ascii")
    assert read_job(path).garment == "rib-jacket"


@pytest.mark.parametrize("units", ["in", "cm"])
def test_example_measure(units: str) -> None:
    """The example for a missing measurement is in the job's units, and would do."""
    text = edited(('units = "in"', f'units = "{units}"'), ('hip = "48 in"\n', ""))
    with pytest.raises((PieceError, ReportError), match=rf'hip = "[\d /.]+ {units}"') as caught:
        parse_job(text)
    line = str(caught.value).partition("such as ")[2]
    assert parse_job(text.replace("[body]", f"[body]\n{line}")).measured().hip > 0


def test_step_by_units() -> None:
    """Cloth and rib of a metric job are sold by 0.1 m where it does not say; what it says stands."""
    entries = '[[fabric]]\nwidth = "1.5 m"\n[[fabric]]\nwidth = "1.5 m"\nsold_by = "1/4 yd"\n[[rib]]\nopened = "1 m"\n'
    strips = '[[rib]]\nform = "strips"\nwidth = "1 m"\ndepth = "20 cm"\n'
    for units, step in (("in", 114.3), ("cm", 100.0)):
        job = parse_job(edited(('units = "in"', f'units = "{units}"'), text=HEAD) + entries + strips)
        assert [fabric.sold_by.mm for fabric in job.fabric] == [step, 228.6]
        assert (job.rib[0].step.mm, job.rib[1].step) == (step, "strip")


def test_names_are_unique() -> None:
    """Two cloths of one name would answer for one another: refused in one line, which says both numbers and names."""
    cloth = 'name = "canvas"\nwidth = "60 in"', 'width = "54 in"', 'name = "CANVAS"\nwidth = "45 in"'
    with pytest.raises(
        JobError, match=r"\[\[fabric\]\] number 3 name: number 1 is called 'canvas', and number 3 'CANVAS'"
    ):
        parse_job(with_fabrics(*cloth))
    parse_job(with_fabrics('name = "canvas, wide"\nwidth = "60 in"', 'name = "canvas"\nwidth = "45 in"'))
