"""The addresses of the page, all below the token, and what answers each."""

from __future__ import annotations

import asyncio
import json
import tomllib
from collections.abc import AsyncIterator, Callable, Mapping
from pathlib import Path
from pkgutil import get_data
from typing import Any

import click
from jinja2 import Environment, PackageLoader, select_autoescape
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Mount, Route
from watchfiles import awatch

from cutlayers import (
    CutlayersError,
    Style,
    default_profile,
    job_template,
    put_new,
    read_profile,
    read_user_file,
    style_scene,
    styles,
    usual_sheet,
    write_svg,
)
from cutlayers.page.desk import LARGEST_MB, Desk
from cutlayers.page.events import Channel
from cutlayers.page.looking import machines
from cutlayers.page.making import Making

KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
SHOWN = {
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".pdf": "application/pdf",
}
"""Files of ours, and made files that may be looked at in the page."""

LARGEST_MADE_MB = 200
MOST_JOBS = 12
SAVED_MS = 50
"""Milliseconds of quiet after which an editor has saved."""

ANEW_MS = 500
"""Milliseconds after which a page that lost its connection asks for it anew."""


class Page:
    """Everything that is open: the jobs of one folder, and who looks at them."""

    def __init__(self, folder: Path, ended: Callable[[], bool]) -> None:
        self.folder = folder.resolve()
        self.ended = ended
        self.looking = 0
        self.was_looked_at = False
        self._desks: dict[str, tuple[Desk, Making, Channel]] = {}
        self._pictures: dict[str, bytes] = {}
        self._templates = Environment(
            loader=PackageLoader("cutlayers.page"), autoescape=select_autoescape()
        )

    def opened(self, name: str) -> tuple[Desk, Making, Channel]:
        """A job of the folder by its file's name, opened when it is first asked for."""
        if name not in self._desks:
            path = self.folder / name
            if Path(name).name != name or path.suffix != ".toml" or not path.is_file():
                raise HTTPException(404, "there is no such job here")
            if path.resolve().parent != self.folder:
                raise HTTPException(404, "there is no such job here")
            channel = Channel(asyncio.get_running_loop())
            making = Making(path, lambda told: channel.tell({"making": dict(told)}))
            try:
                self._desks[name] = (Desk(path), making, channel)
            except ValueError:
                raise HTTPException(404, "this file cannot be read") from None
        return self._desks[name]

    def recent(self) -> list[dict[str, str]]:
        """The jobs of the folder, the one changed last first."""
        found = []
        for path in self.folder.glob("*.toml"):
            try:
                table = tomllib.loads(read_user_file(path, LARGEST_MB).decode("utf-8-sig"))
                changed = path.stat().st_mtime
                if isinstance(table.get("piece"), list) and "kit" not in table:
                    found.append((changed, path.name, str(table.get("title", path.stem))))
            except (OSError, ValueError):
                continue
        return [
            {"file": name, "title": title} for _, name, title in sorted(found)[::-1][:MOST_JOBS]
        ]

    def picture(self, style: Style) -> bytes:
        """A style, flat and folded."""
        if style.name not in self._pictures:
            self._pictures[style.name] = write_svg(style_scene(style))
        return self._pictures[style.name]

    def html(self, template: str, **values: Any) -> HTMLResponse:
        """A page of ours; every value is escaped."""
        return HTMLResponse(self._templates.get_template(template).render(values))

    async def watch(self) -> None:
        """Tell pages of what editors save, for as long as the page lasts."""
        stop = asyncio.Event()
        async for changes in awatch(
            self.folder,
            step=SAVED_MS,
            recursive=False,
            stop_event=stop,
            yield_on_timeout=True,
            rust_timeout=500,
        ):
            if self.ended():
                stop.set()
            for name in {Path(path).name for _, path in changes} & self._desks.keys():
                desk, _, channel = self._desks[name]
                if await run_in_threadpool(desk.take_outside):
                    channel.tell({"revision": desk.revision, "outside": True})


def app_of(page: Page, token: str) -> Starlette:
    """The application; `safety.OwnPageOnly` stands before it."""

    async def start(_: Request) -> Response:
        shown = [{"name": style.name, "summary": style.summary} for style in styles()]
        return page.html(
            "start.html",
            styles=shown,
            jobs=page.recent(),
            machines=machines(),
            folder=str(page.folder),
            usual=default_profile(),
        )

    async def asset(request: Request) -> Response:
        name = request.path_params["name"]
        kind = KINDS.get(Path(name).suffix)
        if kind is None or Path(name).name != name:
            raise HTTPException(404)
        try:
            content = get_data("cutlayers.page", f"static/{name}")
        except OSError:
            content = None
        if content is None:
            raise HTTPException(404)
        return Response(content, media_type=kind)

    async def style_picture(request: Request) -> Response:
        style = next((s for s in styles() if s.name == request.path_params["name"]), None)
        if style is None:
            raise HTTPException(404)
        content = await run_in_threadpool(page.picture, style)
        return Response(content, media_type="image/svg+xml")

    async def new(request: Request) -> Response:
        asked = await _json(request)
        style = next((s for s in styles() if s.name == asked.get("style")), None)
        if style is None or asked.get("units") not in ("mm", "in"):
            raise HTTPException(400)
        known = {machine["name"] for machine in machines()}
        machine = asked.get("machine") if asked.get("machine") in known else None
        sheet = await run_in_threadpool(_sheet_for, asked["units"], machine)
        text = job_template(style, asked["units"], sheet, machine)
        for number in range(1, 1000):
            name = f"{style.name}{'' if number == 1 else f'-{number}'}.toml"
            if not (page.folder / name).exists():
                break
        try:
            await run_in_threadpool(put_new, page.folder / name, text.encode())
        except CutlayersError as error:
            return JSONResponse({"refused": str(error)})
        return JSONResponse({"file": name})

    async def job(request: Request) -> Response:
        desk, _, _ = page.opened(request.path_params["file"])
        return page.html("job.html", file=desk.path.name, folder=str(page.folder))

    async def state(request: Request) -> Response:
        desk, _, _ = page.opened(request.path_params["file"])
        return JSONResponse(await run_in_threadpool(_state, desk, request.query_params))

    async def more(request: Request) -> Response:
        desk, _, _ = page.opened(request.path_params["file"])
        revision = _whole(request.query_params.get("revision"))
        return JSONResponse(await run_in_threadpool(desk.more, revision))

    async def change(request: Request) -> Response:
        desk, _, channel = page.opened(request.path_params["file"])
        asked = await _json(request)

        def done() -> dict[str, Any]:
            before = desk.revision
            what = asked.get("what")
            refused, conflict = [], None
            if what == "undo":
                desk.undo()
            elif what == "redo":
                desk.redo()
            elif what == "cure":
                refused = desk.cure(_whole(asked.get("number")), _whole(asked.get("base"))).refused
            elif isinstance(asked.get("changes"), list):
                answer = desk.change(
                    asked["changes"], _whole(asked.get("base")), again=bool(asked.get("again"))
                )
                refused, conflict = answer.refused, answer.conflict
            else:
                raise HTTPException(400)
            if desk.revision != before:
                channel.tell({"revision": desk.revision})
            told = _state(desk, asked)
            return {**told, "refused": refused, "conflict": conflict}

        try:
            return JSONResponse(await run_in_threadpool(done))
        except CutlayersError as error:
            return JSONResponse({"refused": [{"place": [], "words": str(error)}]})
        except OSError as error:
            words = f"{desk.path.name} cannot be written: {error.strerror}"
            return JSONResponse({"refused": [{"place": [], "words": words}]})

    async def make(request: Request) -> Response:
        desk, making, _ = page.opened(request.path_params["file"])
        asked = await _json(request)
        if asked.get("cancel"):
            making.cancel()
        else:
            anyway = bool(asked.get("anyway"))
            text = desk.text
            task = asyncio.create_task(run_in_threadpool(lambda: making.run(text, anyway=anyway)))
            _kept.add(task)
            task.add_done_callback(_kept.discard)
        return JSONResponse({})

    async def show_folder(request: Request) -> Response:
        _, making, _ = page.opened(request.path_params["file"])
        await _json(request)
        opened = making.files and click.launch(str(making.folder)) == 0
        return JSONResponse({"opened": bool(opened), "folder": str(making.folder)})

    async def sheet(request: Request) -> Response:
        desk, _, _ = page.opened(request.path_params["file"])
        revision = _whole(request.query_params.get("revision"))
        content = desk.sheet_picture(revision, request.path_params["number"])
        if content is None:
            raise HTTPException(404)
        return Response(content, media_type="image/svg+xml")

    async def folded(request: Request) -> Response:
        desk, _, _ = page.opened(request.path_params["file"])
        piece = _whole(request.query_params.get("piece"))
        content = await run_in_threadpool(desk.folded_picture, piece)
        if content is None:
            raise HTTPException(404)
        return Response(content, media_type="image/svg+xml")

    async def made(request: Request) -> Response:
        _, making, _ = page.opened(request.path_params["file"])
        path = making.file(request.path_params["name"])
        kind = SHOWN.get(path.suffix) if path else None
        if path is None or kind is None:
            raise HTTPException(404)
        try:
            content = await run_in_threadpool(read_user_file, path, LARGEST_MADE_MB)
        except ValueError:
            raise HTTPException(404) from None
        return Response(content, media_type=kind)

    async def events(request: Request) -> Response:
        _, _, channel = page.opened(request.path_params["file"])
        return StreamingResponse(_stream(page, channel), media_type="text/event-stream")

    async def presence(_: Request) -> Response:
        return StreamingResponse(_stream(page, None), media_type="text/event-stream")

    own = "/jobs/{file}"
    routes = [
        Route("/", start),
        Route("/static/{name}", asset),
        Route("/styles/{name}.svg", style_picture),
        Route("/new", new, methods=["POST"]),
        Route("/presence", presence),
        Route(f"{own}/", job),
        Route(f"{own}/state", state),
        Route(f"{own}/more", more),
        Route(f"{own}/change", change, methods=["POST"]),
        Route(f"{own}/make", make, methods=["POST"]),
        Route(f"{own}/folder", show_folder, methods=["POST"]),
        Route(f"{own}/sheets/{{number:int}}.svg", sheet),
        Route(f"{own}/folded.svg", folded),
        Route(f"{own}/made/{{name}}", made),
        Route(f"{own}/events", events),
    ]
    return Starlette(routes=[Mount(f"/{token}", routes=routes)])


_kept: set[asyncio.Task[None]] = set()
"""Runs that go on after their request was answered."""


async def _stream(page: Page, channel: Channel | None) -> AsyncIterator[str]:
    """What happens, for one page that is open; while it is read, somebody is looking."""
    page.looking += 1
    page.was_looked_at = True
    heard = channel.listen() if channel else None
    try:
        yield f"retry: {ANEW_MS}\n\n"
        while not page.ended():
            if heard is None:
                await asyncio.sleep(1)
                yield ": here\n\n"
                continue
            try:
                told = await asyncio.wait_for(heard.get(), 1)
            except TimeoutError:
                yield ": here\n\n"
            else:
                yield f"data: {json.dumps(told)}\n\n"
    finally:
        page.looking -= 1
        if channel and heard:
            channel.leave(heard)


def _sheet_for(unit: Any, machine: str | None) -> str:
    """What a new job calls its sheet."""
    if machine is None:
        return usual_sheet(unit)
    bed = read_profile(machine).bed
    return usual_sheet(unit, (bed.width, bed.height))


def _state(desk: Desk, asked: Mapping[str, Any]) -> dict[str, Any]:
    return desk.state(_whole(asked.get("piece")), other=asked.get("other") in (True, "1"))


def _whole(value: object) -> int:
    try:
        return max(0, int(str(value)))
    except ValueError:
        return 0


async def _json(request: Request) -> dict[str, Any]:
    try:
        found = json.loads(await request.body())
    except ValueError:
        raise HTTPException(400) from None
    if not isinstance(found, dict):
        raise HTTPException(400)
    return found
