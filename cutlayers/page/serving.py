"""The way in to the page: a place to listen at, and its address, which is told first of all.

A browser takes longer to start than the server; what it asks for until that is there, waits at the
socket. So nothing heavy is imported before.
"""

from __future__ import annotations

import os
import secrets
import socket
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

LOOPBACK = "127.0.0.1"


def listening(port: int) -> socket.socket:
    """A socket that listens on the loopback address; port 0 takes one that is free. Raises
    OSError."""
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it lets another program listen at the same port
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    found.bind((LOOPBACK, port))
    found.listen()
    return found


def serve(path: Path, job: str | None, at: socket.socket, ready: Callable[[str], None]) -> None:
    """Serve the jobs of a folder until the page is closed, or somebody stops it.

    `ready` is told the address of the job, or of the start page, which can be opened from then on.
    Raises KeyboardInterrupt where it was stopped.
    """
    token = secrets.token_urlsafe(24)
    way = f"jobs/{quote(job)}/" if job else ""
    ready(f"http://{LOOPBACK}:{at.getsockname()[1]}/{token}/{way}")
    from cutlayers.page.running import run

    run(path, job, at, token)
