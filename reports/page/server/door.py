"""The way in: the address with the token, or a form for the password; then a cookie."""

import secrets
from html import escape
from importlib.resources import files
from urllib.parse import parse_qs

from fastapi import APIRouter, Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from reports.page.server.framed import BRAND, framed
from reports.page.server.guard import CLIENT, cookie_of
from reports.page.server.session import Session

STYLES = '<link rel="stylesheet" href="/css/door.css">'
PAGE = f"""<main>
<section class="card stack">
<h1 class="brand">{BRAND}ellwand</h1>
{{inside}}
</section>
</main>"""
CLOSED = "<p>Open the address that <code>ellwand serve</code> printed: it lets you in.</p>"
FORM = """<form class="stack" method="post" action="login">
<div class="field"><label for="password">Password</label>
<input id="password" name="password" type="password" required autofocus
 autocomplete="current-password"{described}></div>
{said}<button class="button main" type="submit">Open</button>
</form>"""

router = APIRouter(include_in_schema=False)


@router.get("/")
def enter(request: Request, token: str | None = None) -> Response:
    """The page, for those who may see it."""
    session: Session = request.app.state.session
    if token is not None and session.is_token(token):
        return _opened(request)
    if session.is_open(cookie_of(request.headers, request.app.state.cookie)):
        return HTMLResponse((files("reports.page") / "static" / "index.html").read_text(encoding="utf-8"))
    return _closed(session)


@router.post("/login")
async def log_in(request: Request) -> Response:
    """Take the password from the form."""
    session: Session = request.app.state.session
    form = parse_qs((await request.body()).decode("utf-8", "replace"), max_num_fields=10)
    right = await session.is_password(form.get("password", [""])[0], request.client.host if request.client else "")
    if right:
        return _opened(request)
    said = "Too many attempts: wait a minute." if right is None else "That is not the password."
    return _closed(session, said, 429 if right is None else 401)


def _opened(request: Request) -> Response:
    answer = RedirectResponse("/", 303)
    session: Session = request.app.state.session
    cookie: str = request.app.state.cookie
    answer.set_cookie(cookie, session.secret, httponly=True, samesite="strict")
    if cookie_of(request.headers, cookie + CLIENT) is None:
        answer.set_cookie(cookie + CLIENT, secrets.token_hex(8), httponly=True, samesite="strict")
    return answer


def _closed(session: Session, said: str = "", status: int = 401) -> Response:
    if not session.asks_password:
        return _page(CLOSED, status)
    line = f'<p class="wrong" id="said" role="alert">{escape(said)}</p>\n' if said else ""
    described = ' aria-invalid="true" aria-describedby="said"' if said else ""
    return _page(FORM.format(said=line, described=described), status)


def _page(inside: str, status: int) -> Response:
    return HTMLResponse(framed("ellwand", STYLES, PAGE.format(inside=inside)), status)
