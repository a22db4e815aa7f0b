"""The server of the page: on this machine's own address, for as long as somebody looks."""

from __future__ import annotations

import asyncio
import os
import secrets
import socket
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

import uvicorn

from cutlayers.page.app import app_of
from cutlayers.page.folder import Folder
from cutlayers.page.safety import OwnPageOnly

LOOPBACK = "127.0.0.1"

GRACE_S = 5.0
"""Seconds without a page that is open, after which nobody comes back; loading one anew is quick."""

LOOK_S = 0.25
"""Seconds from one look whether somebody is there to the next."""


def listening(port: int) -> socket.socket:
    """A socket on the loopback address; port 0 takes one that is free. Raises OSError."""
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":  # elsewhere it lets another program listen at the same port
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    found.bind((LOOPBACK, port))
    return found


def serve(path: Path, job: str | None, at: socket.socket, ready: Callable[[str], None]) -> None:
    """Serve the jobs of a folder until the page is closed, or somebody stops it.

    `ready` is told the address of the job, or of the start page, once it can be opened. Raises
    KeyboardInterrupt where it was stopped.
    """
    port = at.getsockname()[1]
    token = secrets.token_urlsafe(24)
    server: uvicorn.Server
    folder = Folder(path, lambda: server.should_exit)
    app = OwnPageOnly(app_of(folder, token), token, port)
    server = uvicorn.Server(
        uvicorn.Config(
            app,
            lifespan="off",
            ws="none",
            log_level="critical",
            timeout_graceful_shutdown=2,
            server_header=False,
        )
    )
    way = f"jobs/{quote(job)}/" if job else ""
    address = f"http://{LOOPBACK}:{port}/{token}/{way}"
    asyncio.run(_serve(server, folder, job, at, lambda: ready(address)))


async def _serve(
    server: uvicorn.Server,
    folder: Folder,
    job: str | None,
    at: socket.socket,
    ready: Callable[[], None],
) -> None:
    async def attend() -> None:
        while not server.started:
            await asyncio.sleep(0.01)
        ready()
        if job:  # while the browser starts
            others.append(asyncio.create_task(folder.work_ahead(job)))
        alone = 0.0
        while not server.should_exit:
            await asyncio.sleep(LOOK_S)
            gone = folder.was_looked_at and not folder.looking
            alone = alone + LOOK_S if gone else 0.0
            server.should_exit |= alone > GRACE_S

    others = [asyncio.create_task(attend()), asyncio.create_task(folder.watch())]
    try:
        await server.serve(sockets=[at])
    finally:
        for task in others:
            task.cancel()
        await asyncio.gather(*others, return_exceptions=True)
