"""The help in the browser."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import html5lib
import pytest

from reports.help.topics import INDEX, topic_called, topic_names

if TYPE_CHECKING:
    from fastapi.testclient import TestClient


@pytest.mark.parametrize("name", [INDEX, *topic_names()])
def test_pages(guest: TestClient, name: str) -> None:
    """Each topic is a strict page with its title, beside links to all; anyone who reaches the server may read it."""
    answer = guest.get("/help" if name == INDEX else f"/help/{name}")
    assert (answer.status_code, answer.headers["content-type"]) == (200, "text/html; charset=utf-8")
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(answer.text)
    assert page.findtext("head/title") == f"{topic_called(name).title} · ellwand"
    linked = [link.get("href") for link in page.iterfind(".//nav//a")]
    assert linked == [f"/help/{topic}" for topic in topic_names()]
    assert [link.text for link in page.iterfind(".//nav//a[@aria-current]")] == [name] * (name != INDEX)


@pytest.fixture(scope="module")
def statuses() -> dict[str, int]:
    """How each link was answered that any page has: most are on all pages, and asked for once."""
    return {}


@pytest.mark.parametrize("name", [INDEX, *topic_names()])
def test_links_lead_somewhere(guest: TestClient, statuses: dict[str, int], name: str) -> None:
    """Each link, style, script and picture of a page is answered."""
    text = guest.get("/help/" if name == INDEX else f"/help/{name}").text
    links = set(re.findall(r'(?:href|src)="(/[^"#]*)', text))
    assert len(links) > 20
    assert "/help" in links
    links.discard("/")
    statuses |= {link: guest.get(link).status_code for link in links - statuses.keys()}
    assert {link: statuses[link] for link in links if statuses[link] != 200} == {}


def test_pictures(guest: TestClient) -> None:
    """The pictures come as what they are."""
    assert guest.get("/help/marker.svg").headers["content-type"] == "image/svg+xml"
    assert guest.get("/help/page.png").headers["content-type"] == "image/png"


@pytest.mark.parametrize("name", ["pockets", "topics.py", "buy.md", "..%2Fcli.py", "<b>"])
def test_unknown(guest: TestClient, name: str) -> None:
    """What is not there is answered by the list of topics, never by another file."""
    answer = guest.get(f"/help/{name}")
    assert answer.status_code == 404
    if answer.headers["content-type"].startswith("text/html"):
        assert "There is no such topic" in answer.text and "<b>" not in answer.text


def test_page_links_to_it(client: TestClient) -> None:
    """The page has a link to the help, which opens beside it: what is on the page stays."""
    assert re.search(r'<a class="help-link" href="/help" target="\w', client.get("/").text.replace("ellwand-help", "e"))
