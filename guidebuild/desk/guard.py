"""Who may sit at the desk: the one who was given its address, in one browser, on this machine.

A page of another site can have the author's browser send requests here. It knows neither the secret of the address nor the token
of the forms, is sent no cookie by `SameSite=Strict`, and its requests carry an `Origin` that is not ours. Each of these is asked
for by itself, so that one hole in a browser is none in the desk.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from hmac import compare_digest
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from guidebuild.press.preview.pages import OWN

DESK = "/-desk/"
"""Where the desk is, beside the guide's own pages."""
ENTER = f"{DESK}enter"
FORM_HEADER = "x-form-token"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; "
    "frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Of the desk's pages: nothing inline, nothing from elsewhere, and they stand in no frame."""
_READING = frozenset(("GET", "HEAD"))
_FROM_ELSEWHERE = frozenset(("cross-site", "same-site"))
_CLOSED = (
    '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>The desk is closed here</title></head><body>'
    "<h1>The desk is closed here</h1><p>Open the address that <code>guidebuild desk</code> wrote in its window: "
    "it lets in this browser until the desk is ended.</p></body></html>"
)


def _make_secret() -> str:
    return secrets.token_urlsafe(32)


@dataclass(frozen=True, slots=True)
class Keys:
    """The secrets of one sitting, never the same again."""

    entry: str = field(default_factory=_make_secret)
    """In the address that is opened first."""
    session: str = field(default_factory=_make_secret)
    """In the cookie."""
    token: str = field(default_factory=_make_secret)
    """On each page of the desk, sent back with each change."""


class DeskGuard:
    """Lets through what comes from the author's own browser and from a page of the desk."""

    def __init__(self, inner: ASGIApp, keys: Keys, *, port: int, quiet: Callable[[], bool]) -> None:
        """Cookies do not tell ports apart: the cookie's name does.

        `quiet` says whether the guide's own pages must be still: scripts of a guide's own theme could send what the author can send.
        """
        self._inner = inner
        self._keys = keys
        self._quiet = quiet
        self._cookie = f"guidebuild-desk-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        answer = self._enter(scope) if scope["path"] == ENTER else self._refuse(scope)
        if answer is not None:
            await answer(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(self._choose_policy(scope))
            await send(message)

        await self._inner(scope, receive, send_guarded)

    def _choose_policy(self, scope: Scope) -> dict[str, str]:
        """A policy for a page of the desk, and for one of the guide; both count beside the page's own."""
        if scope["path"].startswith(DESK):
            return {"Content-Security-Policy": POLICY, "X-Frame-Options": "DENY"}
        if self._quiet():
            return {"Content-Security-Policy": f"script-src http://{Headers(scope=scope)['host']}{OWN}; form-action 'none'"}
        return {}

    def _enter(self, scope: Scope) -> Response:
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        if scope["method"] != "GET" or not _is_same(given, self._keys.entry):
            return HTMLResponse(_CLOSED, 403)
        answer = RedirectResponse(DESK, 303)
        answer.set_cookie(self._cookie, self._keys.session, path="/", httponly=True, samesite="strict")
        return answer

    def _refuse(self, scope: Scope) -> Response | None:
        """Why a request is not let through; None where it is."""
        headers = Headers(scope=scope)
        if not _is_same(_read_cookie(headers, self._cookie), self._keys.session):
            return HTMLResponse(_CLOSED, 403)
        if headers.get("sec-fetch-site", "none") in _FROM_ELSEWHERE:
            return PlainTextResponse("asked by a page from elsewhere", 403)
        if scope["method"] in _READING:
            return None
        if headers.getlist("origin") != [f"http://{headers['host'].lower()}"]:
            return PlainTextResponse("changes are taken from the desk's own pages only", 403)
        if not _is_same(headers.get(FORM_HEADER, ""), self._keys.token):
            return PlainTextResponse("this page is from before the desk was opened anew: load it again", 403)
        return None


def _read_cookie(headers: Mapping[str, str], name: str) -> str:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return found.value if found else ""


def _is_same(given: str, wanted: str) -> bool:
    """Whether two secrets are the same, in a time that tells nothing of where they differ."""
    return compare_digest(given.encode(), wanted.encode())
