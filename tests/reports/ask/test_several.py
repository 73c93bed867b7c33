"""``[[garment]]`` entries: what is read, and what is refused in one line that says where."""

from __future__ import annotations

import tomllib

import pytest

from reports.ask.faults import WITHIN
from reports.ask.job import parse_job
from reports.ask.order.order import parse_order
from reports.errors import JobError
from reports.page.answers.fields import job_of
from reports.page.errors import FieldsError
from tests.make.model import MODEL
from tests.make.several import CLOTH, JACKET, SIZED


def test_read() -> None:
    """Each entry has its own body, style, size and number; the job has no garment of its own."""
    job = parse_job(JACKET + SIZED + CLOTH.format("60 in"), "two.toml")
    ada, ben = job.together
    assert (ada.name, ada.quantity, ada.style, ben.quantity, ben.size) == ("Ada", None, {"closure": "zip"}, 2, "M")
    assert job.title == "Several garments"
    for refused in (job.model, job.styled, job.measured):
        with pytest.raises(JobError, match=r"two\.toml has several garments, and this takes one: write a job for each"):
            refused()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('body = { bust = "36 in" }\n' + JACKET, "body stands outside of [[garment]]: write it in each"),
        ("garments = 2\n" + JACKET, "garments stands outside of [[garment]]: write quantity in each"),
        ("[[garment]]\nquantity = 2\n", '[[garment]] number 1: garment is missing: add a line such as garment = "rib'),
        (JACKET + '[[garment]]\ngarment = "toga"\n', "[[garment]] number 2 garment: unknown garment 'toga': choose "),
        (JACKET.replace("bust", "bosom"), "[[garment]] number 1 [body] unknown"),
        (JACKET.replace('"zip"', '"hook"'), "[[garment]] number 1 [style] closure: 'hook' is not one of"),
        (JACKET.replace("name", "label"), "[[garment]] number 1: unknown"),
        (JACKET + "quantity = 0\n", "[[garment]] number 1 quantity: write 1 or more, not 0"),
        (SIZED.replace('size = "M"\n', ""), "[[garment]] number 1: sizes names a table: add one of its sizes"),
        (JACKET + 'clients = "pupils.csv"\n', "the file of clients gives measurements and quantities: leave body out"),
        (JACKET + CLOTH.format("60 in") + 'nap = "by garment"\n', "with [[garment]] write nap = true"),
        ("alone = true\n" + MODEL, "alone compares several garments with each by itself"),
        (MODEL.replace("rib-jacket", "several"), "unknown garment 'several': choose rib-jacket"),
    ],
)
def test_refused(text: str, said: str) -> None:
    """What makes no sense is told in one line, with its place and what to write."""
    with pytest.raises(JobError) as error:
        parse_job(text, "job.toml")
    assert str(error.value).startswith("job.toml: ")
    assert said in str(error.value)
    assert "\n" not in str(error.value)


def test_elsewhere() -> None:
    """An order and the page have one garment: several are refused, not dropped."""
    with pytest.raises(JobError, match=r"\[\[garment\]\] is for a job file that 'ellwand buy' reads"):
        parse_order(JACKET + 'sizes = "women"\n[quantity]\nrust = { 92 = 1 }\n' + CLOTH.format("60 in"))
    with pytest.raises(FieldsError, match=r"\[\[garment\]\] is for a job file that 'ellwand buy' reads"):
        job_of({"garment": [{"garment": "rib-jacket", "body": {"bust": "36 in"}}]})
    with pytest.raises(FieldsError, match="together"):
        job_of({"garment": "several", "together": [{"garment": "imported", "pieces_file": "/etc/passwd"}]})


def test_advice_can_be_parsed() -> None:
    """What is said to write for a table within an entry is TOML, in inches and centimetres, and gives the table."""
    for key, examples in WITHIN.items():
        for example in examples:
            assert tomllib.loads(f"[[garment]]\n{key} = {example}\n")["garment"][0][key]
    with pytest.raises(JobError, match=r"number 1 body: write it in brackets, such as body = \{ waist = .* \}, not 3$"):
        parse_job('[[garment]]\ngarment = "tote"\nbody = 3\n')
    with pytest.raises(JobError, match=r"number 1 quantity: write a whole number, without quotes, such as 2, not 2.5$"):
        parse_job('[[garment]]\ngarment = "tote"\nquantity = 2.5\n')
    with pytest.raises(JobError, match=r"garment = \[\] has no garment"):
        parse_job("garment = []\n")
