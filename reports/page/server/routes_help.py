"""The help in the browser: the list of topics, a page for each, and the pictures in them."""

from html import escape
from importlib.resources import files

from fastapi import APIRouter
from starlette.responses import HTMLResponse, Response

from reports.errors import HelpError
from reports.help.markup import HELP_ADDRESS, to_html
from reports.help.topics import INDEX, Topic, topic_called, topic_names
from reports.page.server.framed import BRAND, framed

STYLES = '<link rel="stylesheet" href="/css/help.css">\n<link rel="stylesheet" href="/css/print.css" media="print">'
PAGE = f"""<a class="skip" href="#main">Skip to the content</a>
<header id="top"><div class="bar">
<a class="brand" href="/">{BRAND}<span>ellwand</span></a>
<a class="help-link" href="{HELP_ADDRESS}">All topics</a>
</div></header>
<div class="helping">
<nav aria-label="Topics"><ul>
{{topics}}
</ul></nav>
<main id="main" tabindex="-1"><article class="card words">
{{words}}
</article></main>
</div>"""
PICTURES = {"marker.svg": "image/svg+xml", "measures.svg": "image/svg+xml", "page.png": "image/png"}
"""The pictures of the help, each with its media type."""

router = APIRouter(include_in_schema=False)


@router.get(HELP_ADDRESS)
@router.get(HELP_ADDRESS + "/")
def list_topics() -> Response:
    """All topics."""
    return _shown(topic_called(INDEX))


@router.get(HELP_ADDRESS + "/{name}")
def show_topic(name: str) -> Response:
    """A topic, or a picture in one."""
    if name in PICTURES:
        return Response((files("reports.help") / name).read_bytes(), media_type=PICTURES[name])
    try:
        return _shown(topic_called(name))
    except HelpError:
        index = topic_called(INDEX).text.partition("\n")[2]
        return _shown(Topic(INDEX, f"# There is no such topic\n{index}"), 404)


def _shown(topic: Topic, status: int = 200) -> Response:
    topics = "\n".join(_link(name, topic.name) for name in topic_names())
    body = PAGE.format(topics=topics, words=to_html(topic.text))
    return HTMLResponse(framed(f"{topic.title} · ellwand", STYLES, body), status)


def _link(name: str, shown: str) -> str:
    current = ' aria-current="page"' if name == shown else ""
    return f'<li><a href="{HELP_ADDRESS}/{escape(name)}"{current}>{escape(name)}</a></li>'
