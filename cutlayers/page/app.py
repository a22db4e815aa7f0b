"""The addresses of the page, all below the token, and what answers each.

What a job needs is loaded when one is asked for: the first page, and the scripts in it, do not wait
for that.
"""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from pkgutil import get_data
from typing import TYPE_CHECKING, Any

import click
from jinja2 import ChoiceLoader, Environment, PackageLoader, select_autoescape
from starlette.applications import Starlette
from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response, StreamingResponse
from starlette.routing import Mount, Route

import cutlayers
from cutlayers.page.answers import answer, asked_in, whole
from cutlayers.page.events import Channel
from cutlayers.page.folder import Folder, OpenJob
from cutlayers.page.starting import UNITS, job_of_drawing, job_of_style

if TYPE_CHECKING:
    from cutlayers.page.desk import Desk

KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
"""Files of ours."""

SHOWN = {
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain",
    ".pdf": "application/pdf",
}
"""Made files that may be looked at in the page."""

LARGEST_MADE_MB = 200


def app_of(folder: Folder, token: str) -> Starlette:
    """The application; `safety.OwnPageOnly` stands before it."""
    packages = [PackageLoader("cutlayers.page"), PackageLoader("cutlayers.viewer")]
    templates = Environment(loader=ChoiceLoader(packages), autoescape=select_autoescape())

    def html(template: str, **values: Any) -> HTMLResponse:
        return HTMLResponse(templates.get_template(template).render(values))

    async def opened(request: Request) -> OpenJob:
        try:
            return await folder.job(request.path_params["file"])
        except LookupError as error:
            raise HTTPException(404, str(error)) from None

    def stream(channel: Channel) -> Response:
        return StreamingResponse(folder.stream(channel), media_type="text/event-stream")

    async def start(_: Request) -> Response:
        from cutlayers.page.looking import machines

        return html(
            "start.html",
            styles=cutlayers.styles(),
            jobs=folder.recent(),
            drawings=folder.drawings(),
            machines=machines(),
            folder=str(folder.path),
            usual=cutlayers.default_profile(),
        )

    async def gallery(_: Request) -> Response:
        return html("gallery.html", root="../../", styles=cutlayers.styles())

    async def asset(request: Request) -> Response:
        name = request.path_params["name"]
        kind = KINDS.get(Path(name).suffix)
        if kind is None or Path(name).name != name:
            raise HTTPException(404)
        try:
            if kind == KINDS[".js"]:  # with all that it imports
                content = cutlayers.one_script(Path(name).stem, own_file).encode()
            else:
                content = own_file(name)
        except LookupError:
            raise HTTPException(404) from None
        return Response(content, media_type=kind)

    async def style_picture(request: Request) -> Response:
        style = _style(request.path_params["name"])
        if style is None:
            raise HTTPException(404)
        content = await run_in_threadpool(_picture, style)
        return Response(content, media_type="image/svg+xml")

    async def new(request: Request) -> Response:
        asked = await asked_in(request)
        style = _style(asked.get("style"))
        if style is None or asked.get("units") not in UNITS:
            raise HTTPException(400)
        return answer(await run_in_threadpool(job_of_style, folder, style, asked))

    async def bring(request: Request) -> Response:
        asked = await asked_in(request)
        if asked.get("units") not in UNITS:
            raise HTTPException(400)
        try:
            drawing = folder.drawing_of(str(asked.get("drawing")))
        except LookupError as error:
            raise HTTPException(404, str(error)) from None
        return answer(await run_in_threadpool(job_of_drawing, folder, drawing, asked))

    async def job_page(request: Request) -> Response:
        name = request.path_params["file"]
        try:
            folder.path_of(name)
        except LookupError as error:
            raise HTTPException(404, str(error)) from None

        found = html("job.html", file=name)
        # While the browser loads its scripts the box that they ask for is worked out.
        found.background = BackgroundTask(folder.work_ahead, name)
        return found

    async def state(request: Request) -> Response:
        desk = (await opened(request)).desk
        return answer(await run_in_threadpool(_state, desk, request.query_params))

    async def more(request: Request) -> Response:
        desk = (await opened(request)).desk
        revision = whole(request.query_params.get("revision"))
        return answer(await run_in_threadpool(desk.more, revision))

    async def change(request: Request) -> Response:
        job = await opened(request)
        desk = job.desk
        asked = await asked_in(request)

        def done() -> dict[str, Any]:
            before = desk.revision
            what = asked.get("what")
            refused, conflict = [], None
            if what == "undo":
                desk.undo()
            elif what == "redo":
                desk.redo()
            elif what == "row":
                desk.see_row(whole(asked.get("number")))
            elif what == "cure":
                refused = desk.cure(whole(asked.get("number")), whole(asked.get("base"))).refused
            elif _are_tables(asked.get("changes")):
                outcome = desk.change(
                    asked["changes"], whole(asked.get("base")), again=bool(asked.get("again"))
                )
                refused, conflict = outcome.refused, outcome.conflict
            else:
                raise HTTPException(400)
            if desk.revision != before:
                job.channel.tell({"revision": desk.revision})
            told = _state(desk, asked)
            return {**told, "refused": refused, "conflict": conflict}

        try:
            return answer(await run_in_threadpool(done))
        except cutlayers.CutlayersError as error:
            return answer({"refused": [{"place": [], "words": str(error)}]})
        except OSError as error:
            words = f"{desk.path.name} cannot be written: {error.strerror}"
            return answer({"refused": [{"place": [], "words": words}]})

    async def compare(request: Request) -> Response:
        desk = (await opened(request)).desk
        asked = await asked_in(request)
        if not _are_tables(asked.get("changes")):
            raise HTTPException(400)
        piece = whole(asked.get("piece"))
        return answer(await run_in_threadpool(desk.compared, asked["changes"], piece))

    async def rows(request: Request) -> Response:
        desk = (await opened(request)).desk
        return answer(await run_in_threadpool(desk.rows))

    async def make(request: Request) -> Response:
        job = await opened(request)
        asked = await asked_in(request)
        if asked.get("cancel"):
            job.making.cancel()
            return answer({})
        anyway = bool(asked.get("anyway"))
        run = BackgroundTask(job.making.run, job.desk.text, anyway=anyway)
        return answer({}, background=run)

    async def show_folder(request: Request) -> Response:
        making = (await opened(request)).making
        await asked_in(request)
        shown = bool(making.files) and click.launch(str(making.folder)) == 0
        return answer({"opened": shown, "folder": str(making.folder)})

    async def sheet(request: Request) -> Response:
        desk = (await opened(request)).desk
        revision = whole(request.query_params.get("revision"))
        content = desk.sheet_picture(revision, request.path_params["number"])
        if content is None:
            raise HTTPException(404)
        return Response(content, media_type="image/svg+xml")

    async def working(request: Request) -> Response:
        desk = (await opened(request)).desk
        revision = whole(request.query_params.get("revision"))
        number = request.path_params["number"]
        return answer(await run_in_threadpool(desk.working, revision, number))

    async def folded(request: Request) -> Response:
        desk = (await opened(request)).desk
        piece = whole(request.query_params.get("piece"))
        content = await run_in_threadpool(desk.folded_picture, piece)
        if content is None:
            raise HTTPException(404)
        return Response(content, media_type="image/svg+xml")

    async def made(request: Request) -> Response:
        making = (await opened(request)).making
        path = making.file(request.path_params["name"])
        kind = SHOWN.get(path.suffix) if path else None
        if path is None or kind is None:
            raise HTTPException(404)
        try:
            content = await run_in_threadpool(cutlayers.read_user_file, path, LARGEST_MADE_MB)
        except ValueError:
            raise HTTPException(404) from None
        return Response(content, media_type=kind)

    async def events(request: Request) -> Response:
        return stream((await opened(request)).channel)

    async def presence(_: Request) -> Response:
        return stream(Channel(asyncio.get_running_loop()))

    own = "/jobs/{file}"
    routes = [
        Route("/", start),
        Route("/gallery", gallery),
        Route("/static/{name}", asset),
        Route("/styles/{name}.svg", style_picture),
        Route("/new", new, methods=["POST"]),
        Route("/bring", bring, methods=["POST"]),
        Route("/presence", presence),
        Route(f"{own}/", job_page),
        Route(f"{own}/state", state),
        Route(f"{own}/more", more),
        Route(f"{own}/change", change, methods=["POST"]),
        Route(f"{own}/compare", compare, methods=["POST"]),
        Route(f"{own}/rows", rows),
        Route(f"{own}/make", make, methods=["POST"]),
        Route(f"{own}/folder", show_folder, methods=["POST"]),
        Route(f"{own}/sheets/{{number:int}}.svg", sheet),
        Route(f"{own}/sheets/{{number:int}}/working", working),
        Route(f"{own}/folded.svg", folded),
        Route(f"{own}/made/{{name}}", made),
        Route(f"{own}/events", events),
    ]
    return Starlette(routes=[Mount(f"/{token}", routes=routes)])


def own_file(name: str) -> bytes:
    """A file for browsers of ours, or of the viewer. Raises LookupError where there is none."""
    try:
        found = get_data("cutlayers.page", f"static/{name}")
    except OSError:
        found = None
    return cutlayers.viewer_file(name) if found is None else found


@cache
def _picture(style: cutlayers.Style) -> bytes:
    """A style, flat and folded."""
    return cutlayers.write_svg(cutlayers.style_scene(style))


def _style(name: object) -> cutlayers.Style | None:
    return next((style for style in cutlayers.styles() if style.name == name), None)


def _state(desk: Desk, asked: Mapping[str, Any]) -> dict[str, Any]:
    return desk.state(whole(asked.get("piece")), other=asked.get("other") in (True, "1"))


def _are_tables(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)
