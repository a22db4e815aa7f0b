"""One case run in this process, watched: what must hold of every case, whatever it holds.

The caller runs this in a process of its own, which it ends where a case takes too long, and whose
memory it limits.
"""

from __future__ import annotations

import os
import random
import shutil
import socket
import sys
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from cutlayers.cli import main
from tests.attack.cases import Case
from tests.attack.doors import DOORS

ALLOWED_EXITS = (0, 1, 2)
"""Done, the job does not work, bad input. 70, an error of ours, must never be reached."""

FOREIGN = ("/etc/passwd", "/etc/shadow")
"""Files of the system that hostile input asks for."""


@dataclass(frozen=True)
class Outcome:
    """How a case ended: `fault` is what did not hold, None where all did."""

    door: str
    number: int
    exit: int | None
    fault: str | None
    detail: str = ""


def the_case(door: str, seed: int, number: int) -> Case:
    """The case of that number."""
    return DOORS[door](random.Random(f"{seed} {door} {number}"))


def attempt(door: str, seed: int, number: int, keep: Path | None = None) -> Outcome:
    """Run one case in an empty folder and judge it."""
    case = the_case(door, seed, number)
    folder = keep or Path(tempfile.mkdtemp(prefix="attack-"))
    folder.mkdir(parents=True, exist_ok=True)
    try:
        for name, content in case.files.items():
            (folder / name).write_bytes(content)
        return _judged(door, number, case, folder)
    finally:
        if keep is None:
            shutil.rmtree(folder, ignore_errors=True)


def _judged(door: str, number: int, case: Case, folder: Path) -> Outcome:
    # A command line can hold no zero byte: the system ends each word there.
    words = [word.replace("{folder}", str(folder)).partition("\0")[0] for word in case.words]
    before = _files(folder)
    home = folder / "home"
    environment = {
        name: str(home) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME")
    }
    here = Path.cwd()
    os.chdir(folder)
    try:
        with _no_network(), _no_foreign_files() as opened:
            result = CliRunner().invoke(main, words, input=case.typed, env=environment)
    finally:
        os.chdir(here)
    text = f"{result.output}"
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        trace = "".join(traceback.format_exception(result.exception)[-6:])
        return Outcome(door, number, None, f"{type(result.exception).__name__}", trace)
    exit_code = result.exit_code
    if exit_code not in ALLOWED_EXITS:
        return Outcome(door, number, exit_code, f"exit code {exit_code}", text[-1500:])
    if "Traceback (most recent call last)" in text:
        return Outcome(door, number, exit_code, "a traceback was printed", text[-1500:])
    if opened:
        return Outcome(door, number, exit_code, "a foreign file was read", str(opened))
    if exit_code == 2:
        after = {name: data for name, data in _files(folder).items() if "home" not in name.parts}
        if after != before:
            changed = sorted(map(str, after.keys() ^ before.keys())) or "contents"
            return Outcome(door, number, exit_code, "files were changed on exit 2", str(changed))
        if not text.strip():
            return Outcome(door, number, exit_code, "nothing was said on exit 2")
    return Outcome(door, number, exit_code, None)


def _files(folder: Path) -> dict[Path, bytes]:
    return {
        path.relative_to(folder): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.is_symlink()
    }


@contextmanager
def _no_network() -> Iterator[None]:
    def refused(*_: Any, **__: Any) -> Any:
        raise AssertionError("a network connection was tried")

    real = socket.socket.connect
    socket.socket.connect = refused  # type: ignore[method-assign]
    try:
        yield
    finally:
        socket.socket.connect = real  # type: ignore[method-assign]


_OPENED: list[str] = []
_WATCHING = False


def _audit(event: str, arguments: tuple[Any, ...]) -> None:
    if _WATCHING and event == "open" and str(arguments[0]) in FOREIGN:
        _OPENED.append(str(arguments[0]))


sys.addaudithook(_audit)


@contextmanager
def _no_foreign_files() -> Iterator[list[str]]:
    global _WATCHING
    _OPENED.clear()
    _WATCHING = True
    try:
        yield _OPENED
    finally:
        _WATCHING = False
