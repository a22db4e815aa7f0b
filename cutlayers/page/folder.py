"""The folder that the page is for: which jobs are in it, which are open, and whether somebody looks
at them."""

from __future__ import annotations

import asyncio
import json
import tomllib
from collections.abc import AsyncIterator, Callable, Collection
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from watchfiles import awatch

from cutlayers.page.events import Channel

if TYPE_CHECKING:
    from cutlayers.page.desk import Desk
    from cutlayers.page.making import Making

MOST_JOBS = 12

DRAWINGS = (".svg", ".dxf", ".fold")
"""What a box can be made of."""

SAVED_MS = 50
"""Milliseconds of quiet after which an editor has saved."""

ANEW_MS = 500
"""Milliseconds after which a page that lost its connection asks for it anew."""


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A job that is open: its text, the making of its files, and who hears of both."""

    desk: Desk
    making: Making
    channel: Channel


class Folder:
    """The jobs of one folder, and who looks at them; `ended` says whether the server has."""

    def __init__(self, path: Path, ended: Callable[[], bool]) -> None:
        self.path = path.resolve()
        self.looking = 0
        self.was_looked_at = False
        self._ended = ended
        self._open: dict[str, OpenJob] = {}
        self._opening = asyncio.Lock()

    def path_of(self, name: str) -> Path:
        """Where a job is, by its file's name. Raises LookupError where there is none."""
        return self._own(name, (".toml",), "job")

    def drawing_of(self, name: str) -> Path:
        """Where a drawing is, by its file's name. Raises LookupError where there is none."""
        return self._own(name, DRAWINGS, "drawing")

    def _own(self, name: str, endings: Collection[str], what: str) -> Path:
        path = self.path / name
        named = Path(name).name == name and path.suffix.lower() in endings and path.is_file()
        if not named or path.resolve().parent != self.path:
            raise LookupError(f"there is no such {what} here")
        return path

    def free_name(self, stem: str) -> str:
        """A name for a new job, of which there is no file yet."""
        number, name = 1, f"{stem}.toml"
        while (self.path / name).exists():
            number += 1
            name = f"{stem}-{number}.toml"
        return name

    def drawings(self) -> list[str]:
        """The drawings of the folder by their names, the one changed last first."""
        found = []
        for path in self.path.iterdir():
            with suppress(LookupError, OSError):
                found.append((self.drawing_of(path.name).stat().st_mtime, path.name))
        return [name for _, name in sorted(found)[::-1][:MOST_JOBS]]

    async def job(self, name: str) -> OpenJob:
        """A job by its file's name, opened when it is first asked for. Raises LookupError with what
        is wrong where there is none, or its file cannot be read."""
        async with self._opening:
            if name not in self._open:
                channel = Channel(asyncio.get_running_loop())
                self._open[name] = await run_in_threadpool(_opened, self.path_of(name), channel)
        return self._open[name]

    async def work_ahead(self, name: str) -> None:
        """Open a job and work out what a page of it will ask for, before it does."""
        with suppress(LookupError):
            await run_in_threadpool((await self.job(name)).desk.state)

    def recent(self) -> list[dict[str, str]]:
        """The jobs of the folder, the one changed last first."""
        from cutlayers import read_user_file
        from cutlayers.page.desk import LARGEST_MB

        found = []
        for path in self.path.glob("*.toml"):
            try:
                table = tomllib.loads(read_user_file(path, LARGEST_MB).decode("utf-8-sig"))
                changed = path.stat().st_mtime
                if isinstance(table.get("piece"), list):
                    found.append((changed, path.name, str(table.get("title", path.stem))))
            except (OSError, ValueError, RecursionError):
                continue
        return [
            {"file": name, "title": title} for _, name, title in sorted(found)[::-1][:MOST_JOBS]
        ]

    async def stream(self, channel: Channel) -> AsyncIterator[str]:
        """What is told in a channel, as server-sent events for one page that is open; while it is
        read, somebody is looking."""
        self.looking += 1
        self.was_looked_at = True
        heard = channel.listen()
        try:
            yield f"retry: {ANEW_MS}\n\n"
            while not self._ended():
                try:
                    told = await asyncio.wait_for(heard.get(), 1)
                except TimeoutError:
                    yield ": here\n\n"
                else:
                    yield f"data: {json.dumps(told)}\n\n"
        finally:
            self.looking -= 1
            channel.leave(heard)

    async def watch(self) -> None:
        """Tell pages of what editors save, for as long as the server lasts."""
        stop = asyncio.Event()
        async for changes in awatch(
            self.path,
            step=SAVED_MS,
            recursive=False,
            stop_event=stop,
            yield_on_timeout=True,
            rust_timeout=500,
        ):
            if self._ended():
                stop.set()
            saved = {Path(path).name for _, path in changes}
            for name, job in [*self._open.items()]:
                table = job.desk.table
                if name in saved and await run_in_threadpool(job.desk.take_outside):
                    job.channel.tell({"revision": job.desk.revision})
                elif table is not None and table.name in saved:
                    await run_in_threadpool(job.desk.look_again)
                    job.channel.tell({"revision": job.desk.revision})


def _opened(path: Path, channel: Channel) -> OpenJob:
    from cutlayers.page.desk import Desk
    from cutlayers.page.making import Making

    try:
        desk = Desk(path)
    except ValueError:
        raise LookupError("this file cannot be read") from None
    return OpenJob(desk, Making(path, lambda told: channel.tell({"making": dict(told)})), channel)
