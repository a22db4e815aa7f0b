"""Who may ask: our own page in this machine's browser, and nobody else.

Another site that is open in the same browser can send requests to this machine, by its name or by
a name that it lets point here. So the host must be the loopback address, what changes something
must come from our own page, and every address has a token that nobody can guess.
"""

from __future__ import annotations

import hmac
import re

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
"""Scripts and styles are files of ours; nothing is fetched from anywhere else."""

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}

LARGEST_BODY = 100_000
"""Bytes of what a page sends."""


class OwnPageOnly:
    """Lets requests through to `app` that come from our own page on `port`, with the token."""

    def __init__(self, app: ASGIApp, token: str, port: int) -> None:
        self._app, self._token = app, token
        self._hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        answer = self._refusal(scope) or self._app
        await answer(scope, receive, with_headers)

    def _refusal(self, scope: Scope) -> PlainTextResponse | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host not in self._hosts:
            return PlainTextResponse("wrong host", 421)
        if not hmac.compare_digest(_first(scope["path"]).encode(), self._token.encode()):
            return PlainTextResponse("this page has an address of its own; see the terminal", 404)
        if headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
            return PlainTextResponse("not from here", 403)
        if scope["method"] not in ("GET", "HEAD"):
            if headers.get("origin") != f"http://{host}":
                return PlainTextResponse("not from here", 403)
            if headers.get("content-type") != "application/json":
                return PlainTextResponse("send JSON", 415)
            length = headers.get("content-length", "")
            if not re.fullmatch(r"[0-9]{1,9}", length) or int(length) > LARGEST_BODY:
                return PlainTextResponse("too much", 413)
        return None


def _first(path: str) -> str:
    return path.lstrip("/").partition("/")[0]
