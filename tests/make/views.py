"""Pictures of every view of the page, to be looked at when it has changed; they are not kept here.

``python -m tests.make.views DIR`` writes a PNG each, light and wide, dark and narrow. It takes Debian's Chromium.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from tests.make.browser import CHROMIUM, FLAGS, OTHERS, PATIENCE, VIEWS, Api, Server, all_answers

if TYPE_CHECKING:
    from playwright.sync_api import Browser, ViewportSize

SIZES: dict[str, ViewportSize] = {
    "light": {"width": 1280, "height": 900},
    "dark": {"width": 360, "height": 780},
}


def write_views(folder: Path, server: Server, browser: Browser) -> list[Path]:
    """Write a picture of each view in each theme; where they are."""
    written, answers = [], dict[str, str]()
    for theme, size in SIZES.items():
        context = browser.new_context(color_scheme=theme, viewport=size, reduced_motion="reduce")  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE)
        page = context.new_page()
        page.goto(server.address)
        api = Api(page, server.base)
        job = api.get("/api/catalogue")["template_job"]
        job["fabric"] = [job["fabric"][0] | {"spread": "folded"}]  # few spreads to search
        answers = answers or all_answers(api, job)
        project = api.project(f"Rust jacket, {theme}", job, **answers)
        views = {name: (f"#/{project}/{name}", f".view.{name} {whole}") for name, whole in VIEWS.items()}
        for name, (place, whole) in (views | OTHERS).items():
            page.goto(f"{server.base}/{place}")
            page.locator(whole).first.wait_for()
            page.evaluate("document.fonts.ready")
            path = folder / f"{name}-{theme}.png"
            page.screenshot(path=path, full_page=True, animations="disabled")
            written.append(path)
        context.close()
    return written


def main() -> None:
    """Serve the page, and write its pictures into the folder that is named."""
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser(prog="python -m tests.make.views", description=__doc__)
    parser.add_argument("folder", metavar="DIR", type=Path)
    folder: Path = parser.parse_args().folder
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as served, sync_playwright() as playwright:
        server = Server(Path(served) / "work")
        try:
            browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
            for path in write_views(folder, server, browser):
                print(path)
            browser.close()
        finally:
            server.kill()


if __name__ == "__main__":
    main()
