"""Who is answered at all: a browser of this machine that asks under this machine's name.

Any page in the author's browser can send requests here, also under a name of its own that it has pointed at this machine.
"""

from __future__ import annotations

from collections.abc import Iterable

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

ADDRESS = "127.0.0.1"
_ALWAYS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "same-origin",
}
_UNLESS_SAID = {"X-Frame-Options": "SAMEORIGIN"}


def list_hosts(port: int) -> frozenset[str]:
    """What this machine is called at a port."""
    return frozenset(f"{name}:{port}" for name in (ADDRESS, "localhost"))


class HostGuard:
    """Refuses requests under another name than this machine's, and sends with every answer what keeps other pages from reading it."""

    def __init__(self, inner: ASGIApp, hosts: Iterable[str]) -> None:
        self._inner = inner
        self._hosts = frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.update(_ALWAYS)
                for name, value in _UNLESS_SAID.items():
                    headers.setdefault(name, value)
            await send(message)

        named = Headers(scope=scope).getlist("host")
        if len(named) == 1 and named[0].lower() in self._hosts:
            await self._inner(scope, receive, send_guarded)
        else:
            refusal = PlainTextResponse("this address is answered only under this machine's own name", 421)
            await refusal(scope, receive, send_guarded)
