"""Make what the documents show: the answer and the marker of the job that `new` writes, and a picture of the page.

``python -m tests.make.documents`` writes the pictures to `reports/help`, and the answer into README and the page on
`buy`. The picture of the page takes Debian's Chromium.
"""

from __future__ import annotations

import re
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from pieces.body.figure import draw_figure
from tests.make.browser import CHROMIUM, FLAGS, Api, Server

if TYPE_CHECKING:
    from playwright.sync_api import ViewportSize

ROOT = Path(__file__).parents[2]
HELP = ROOT / "reports" / "help"
ANSWER = re.compile(r"(?<=```text\n).*?(?=```)", re.DOTALL)
"""In a document: what the command says."""

SHOWN: ViewportSize = {"width": 1000, "height": 1250}
COLOURS = 96
"""Of the picture of the page: few enough to be small, and enough to look alike."""


def write_answer(folder: Path) -> None:
    """Run `buy` for the job that `new` writes; keep its words and its first marker."""
    for arguments in (["new", "jacket.toml"], ["buy", "jacket.toml", "--out", "jacket"]):
        subprocess.run([sys.executable, "-m", "reports", *arguments], cwd=folder, check=True, capture_output=True)
    made = folder / "jacket"
    (HELP / "measures.svg").write_text(draw_figure(), encoding="utf-8")
    (HELP / "marker.svg").write_bytes((made / "marker-1.svg").read_bytes())
    said = (made / "buy.txt").read_text(encoding="utf-8").strip("\n")
    _put(said, HELP / "buy.md")
    _put(heads(said), ROOT / "README.md")


def write_together(folder: Path) -> None:
    """Run `buy` for the job on the page about several garments; keep what it says of them together."""
    page = HELP / "together.md"
    job = re.search(r"(?<=```toml\n).*?(?=```)", page.read_text(encoding="utf-8"), re.DOTALL)
    assert job is not None
    (folder / "together.toml").write_text(job[0], encoding="utf-8")
    arguments = "buy", "together.toml", "--out", "together"
    subprocess.run([sys.executable, "-m", "reports", *arguments], cwd=folder, check=True, capture_output=True)
    said = (folder / "together" / "buy.txt").read_text(encoding="utf-8").partition("Shopping list")[0].splitlines()
    kept = [said[0], *said[next(i for i, line in enumerate(said) if line.startswith("Together")) :]]
    _put("\n".join(kept), page)
    readme = ROOT / "README.md"
    told = re.sub(r"Laying them together saves .*?\.(?=\*)", kept[-1].strip(), readme.read_text(encoding="utf-8"))
    readme.write_text(told, encoding="utf-8")


def heads(said: str) -> str:
    """The lines of an answer that stand by themselves, without the details under them."""
    return "\n".join(line for line in said.splitlines() if not line.startswith((" ", "Shopping list")))


def _put(said: str, page: Path) -> None:
    page.write_text(ANSWER.sub(lambda _: f"{said}\n", page.read_text(encoding="utf-8")), encoding="utf-8")


def write_page(folder: Path) -> None:
    """Open the page with the same job, ask what to buy, and take a picture of the answer."""
    from PIL import Image
    from playwright.sync_api import sync_playwright

    server = Server(folder)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        shown = browser.new_page(viewport=SHOWN)
        shown.goto(server.address)
        api = Api(shown, server.base)
        job = api.get("/api/catalogue")["template_job"]
        project = api.project("Rust jacket", job, buy=api.searched("buy", job))
        shown.goto(f"{server.base}/#/{project}/answer")
        shown.wait_for_selector(".marker .placed")
        taken = Image.open(BytesIO(shown.screenshot()))
        browser.close()
    server.kill()
    taken.convert("RGB").quantize(COLOURS).save(HELP / "page.png", optimize=True)


if __name__ == "__main__":
    with TemporaryDirectory() as made:
        write_answer(Path(made))
        write_together(Path(made))
        write_page(Path(made) / "work")
