"""A browser for tests: Chromium without a window and without a network.

One process serves many pages. It is spoken to over a pair of pipes by the DevTools protocol, whose
answers and events are waited for; when the browser dies, the pipe ends.
"""

from __future__ import annotations

import base64
import fcntl
import itertools
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import BufferedReader
from pathlib import Path
from typing import Any, BinaryIO

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-device-scale-factor=1",
    # Every host is nowhere, so whatever a page wants to fetch fails and is told on the console.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--remote-debugging-pipe",
)

PX_PER_MM = 96 / 25.4
"""CSS Values and Units Level 3, section 6.2: an inch is 96 px."""

START = """\
import os, sys
os.dup2(int(sys.argv[1]), 3)
os.dup2(int(sys.argv[2]), 4)
os.execv(sys.argv[3], sys.argv[3:])
"""
"""Chromium reads what it is told at descriptor 3 and answers at 4."""


class Browser:
    """A running browser with one page open."""

    def __init__(self, orders: BinaryIO, answers: BufferedReader) -> None:
        self._orders, self._answers = orders, answers
        self._numbers = itertools.count(1)
        self._session: str | None = None
        self._events: list[dict[str, Any]] = []
        target = self._ask("Target.createTarget", url="about:blank")["targetId"]
        attached = self._ask("Target.attachToTarget", targetId=target, flatten=True)
        self._session = attached["sessionId"]
        for domain in ("Page", "Log", "Runtime"):
            self._ask(f"{domain}.enable")

    def open(self, page: Path) -> list[str]:
        """Load a page and return what it wrote on the console meanwhile, blocked fetches and
        violations of its policy included."""
        self._ask("Log.clear")
        self._ask("Emulation.clearDeviceMetricsOverride")
        self._ask("Emulation.setEmulatedMedia", media="")
        self._events.clear()
        self._ask("Page.navigate", url=page.as_uri())
        while not any(event["method"] == "Page.loadEventFired" for event in self._events):
            self._events.append(self._read())
        return self._console()

    def pdf(self) -> tuple[bytes, list[str]]:
        """The open page on the paper that it asks for, and what it wrote on the console."""
        self._events.clear()
        printed = self._ask("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
        return base64.b64decode(printed["data"]), self._console()

    def measure(self, script: str, width_mm: float, *, printing: bool = True) -> Any:
        """Run a script in the open page as wide as paper or a screen, print styles on or off, and
        return what it returns."""
        width = round(width_mm * PX_PER_MM)
        self._ask("Emulation.setEmulatedMedia", media="print" if printing else "")
        self._ask(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=1400,
            deviceScaleFactor=1,
            mobile=False,
        )
        told = self._ask(
            "Runtime.evaluate", expression=f"(() => {{{script}}})()", returnByValue=True
        )
        assert "exceptionDetails" not in told, told
        return told["result"]["value"]

    def close(self) -> None:
        """End the browser with all its processes."""
        self._session = None
        self._ask("Browser.close")

    def _console(self) -> list[str]:
        written = []
        for event in self._events:
            if event["method"] == "Log.entryAdded":
                written.append(str(event["params"]["entry"]["text"]))
            elif event["method"] in ("Runtime.consoleAPICalled", "Runtime.exceptionThrown"):
                written.append(json.dumps(event["params"]))
        return written

    def _ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        number = next(self._numbers)
        order = {"id": number, "method": method, "params": parameters}
        if self._session is not None:
            order["sessionId"] = self._session
        self._orders.write(json.dumps(order).encode() + b"\0")
        self._orders.flush()
        while True:
            message = self._read()
            if message.get("id") == number:
                assert "error" not in message, message
                result: dict[str, Any] = message["result"]
                return result
            self._events.append(message)

    def _read(self) -> dict[str, Any]:
        text = b""
        while not text.endswith(b"\0"):
            waiting = self._answers.peek()
            assert waiting, "the browser went away"
            text += self._answers.read(waiting.find(b"\0") + 1 or len(waiting))
        message: dict[str, Any] = json.loads(text[:-1])
        return message


@contextmanager
def browser(scratch: Path) -> Iterator[Browser]:
    """A browser while it is needed; `scratch` gets its own files."""
    assert CHROMIUM is not None
    own = scratch / "profile"
    theirs_in, orders = os.pipe()
    answers, theirs_out = os.pipe()
    # Above 10, so that none of them is 3 or 4 already.
    ends = [fcntl.fcntl(end, fcntl.F_DUPFD, 10) for end in (theirs_in, theirs_out)]
    os.close(theirs_in)
    os.close(theirs_out)
    process = subprocess.Popen(
        [sys.executable, "-c", START, *map(str, ends), CHROMIUM, *FLAGS, f"--user-data-dir={own}"],
        pass_fds=ends,
        stderr=subprocess.DEVNULL,
    )
    for end in ends:
        os.close(end)
    try:
        with os.fdopen(orders, "wb") as writer, os.fdopen(answers, "rb") as reader:
            started = Browser(writer, reader)
            yield started
            started.close()
            process.wait()
    finally:
        process.kill()
        process.wait()
