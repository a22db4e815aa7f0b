"""The server of the page, for as long as somebody looks."""

from __future__ import annotations

import asyncio
import socket
from pathlib import Path

import uvicorn

from cutlayers.page.app import app_of
from cutlayers.page.folder import Folder
from cutlayers.page.safety import OwnPageOnly

GRACE_S = 5.0
"""Seconds without a page that is open, after which nobody comes back; loading one anew is quick."""

LOOK_S = 0.25
"""Seconds from one look whether somebody is there to the next."""


def run(path: Path, job: str | None, at: socket.socket, token: str) -> None:
    """Answer whoever knows the token; `job` is what the first page will ask for."""
    server: uvicorn.Server
    folder = Folder(path, lambda: server.should_exit)
    server = uvicorn.Server(
        uvicorn.Config(
            OwnPageOnly(app_of(folder, token), token, at.getsockname()[1]),
            lifespan="off",
            ws="none",
            log_level="critical",
            timeout_graceful_shutdown=2,
            server_header=False,
        )
    )
    asyncio.run(_run(server, folder, job, at))


async def _run(server: uvicorn.Server, folder: Folder, job: str | None, at: socket.socket) -> None:
    async def attend() -> None:
        while not server.started:
            await asyncio.sleep(0.01)
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
