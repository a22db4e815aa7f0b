"""What must hold of the page's answers: no fault, nothing for strangers, each file old or new."""

from __future__ import annotations

import asyncio
import tomllib
import traceback
from collections.abc import Mapping
from pathlib import Path
from unittest.mock import patch

from starlette.types import ASGIApp, Message

from cutlayers.page.app import app_of
from cutlayers.page.folder import Folder
from cutlayers.page.safety import HEADERS, OwnPageOnly
from tests.attack.cases import Asked, Case
from tests.attack.page import FOLDER, JOB, OWN, PORT, TOKEN


def judged(case: Case, folder: Path) -> tuple[int, str | None, str]:
    """Ask all that a case asks: 2 where something was refused, else 0; what did not hold, and more
    of that."""
    with patch("click.launch", lambda *_, **__: 0):
        return asyncio.run(_judged(case, folder))


async def _judged(case: Case, folder: Path) -> tuple[int, str | None, str]:
    inside, refused = folder / FOLDER, False
    app = OwnPageOnly(app_of(Folder(inside, lambda: True), TOKEN), TOKEN, PORT)
    seen = {case.files[f"{FOLDER}/{JOB}"]}
    for asked in case.asked:
        if asked.path is None:
            _save(asked.saved, inside / JOB)
            seen.add(asked.saved or b"")
            continue
        before = _files(folder)
        try:
            status, headers = await _answer(app, asked)
        except Exception as error:
            trace = "".join(traceback.format_exception(error)[-6:])
            return 70, type(error).__name__, f"{asked}\n{trace}"[-3000:]
        after = _files(folder)
        changed = {name for name in before | after if before.get(name) != after.get(name)}
        fault = (
            _wrong_answer(asked, status, headers)
            or _wrong_write(asked, status, changed, before)
            or _not_whole(after, changed, seen)
        )
        if fault:
            return 70, fault, f"{asked}\n{status} {sorted(map(str, changed))}"[:3000]
        refused |= status >= 400
    return 2 * refused, None, ""


def _save(content: bytes | None, path: Path) -> None:
    if content is None:
        path.unlink(missing_ok=True)
    else:
        path.write_bytes(content)


async def _answer(app: ASGIApp, asked: Asked) -> tuple[int, dict[str, str]]:
    """The status and the headers of an answer that came to its end."""
    assert asked.path is not None
    sent: list[Message] = []
    left = [asked.body]

    async def receive() -> Message:
        if not left:  # who asked stays until all is told
            await asyncio.Event().wait()
        return {"type": "http.request", "body": left.pop(), "more_body": False}

    async def send(message: Message) -> None:
        sent.append(message)

    path = asked.path.encode("utf-8", "surrogatepass")
    scope = {
        "type": "http", "method": asked.method, "path": asked.path, "raw_path": path,
        "query_string": asked.query.encode("utf-8", "surrogatepass"), "root_path": "",
        "scheme": "http", "http_version": "1.1",
        "headers": [(name.encode(), text.encode()) for name, text in asked.headers.items()],
    }  # fmt: skip
    await app(scope, receive, send)
    start = sent[0]
    return start["status"], {name.decode(): text.decode() for name, text in start["headers"]}


def _is_own(asked: Asked) -> bool:
    """Whether a request has all that our own page sends."""
    sent = {name: asked.headers.get(name) for name in OWN}
    if asked.method in ("GET", "HEAD"):  # which changes nothing
        sent |= {"origin": OWN["origin"], "content-type": OWN["content-type"]}
    elif asked.headers.get("content-length") != str(len(asked.body)):
        return False
    return sent == OWN and str(asked.path).split("/")[1] == TOKEN


def _wrong_answer(asked: Asked, status: int, headers: Mapping[str, str]) -> str | None:
    if status >= 500:
        return f"status {status}"
    if not _is_own(asked) and status < 400:
        return "a stranger was answered"
    missing = {name for name, text in HEADERS.items() if headers.get(name.lower()) != text}
    return f"no {sorted(missing)}" if missing else None


def _wrong_write(
    asked: Asked, status: int, changed: set[Path], before: Mapping[Path, bytes]
) -> str | None:
    """What is changed is the job that is asked for, a new one, or a folder of the job's name."""
    if not changed:
        return None
    if status >= 400 or asked.method != "POST" or not _is_own(asked):
        return "files were changed by what may change none"
    what = str(asked.path).rpartition("/")[2]
    job = Path(FOLDER, JOB)
    allowed = {
        "change": changed == {job},
        "new": not changed & before.keys() and all(name.parent == job.parent for name in changed),
        "make": all(job.with_suffix("") in name.parents for name in changed),
    }
    return None if allowed.get(what) else "files were changed outside of the job's own"


def _not_whole(after: Mapping[Path, bytes], changed: set[Path], seen: set[bytes]) -> str | None:
    """A job's file holds what it held once, or a new text to the end."""
    for name in changed:
        if name.suffix == ".toml" and name.parent == Path(FOLDER):
            content = after.get(name, b"")
            try:
                tomllib.loads(content.decode("utf-8-sig"))
            except ValueError:
                if content not in seen:
                    return "the job's file was not whole"
            seen.add(content)
    return None


def _files(folder: Path) -> dict[Path, bytes]:
    return {
        path.relative_to(folder): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and "home" not in path.parts
    }
