"""One command run in a process of its own in which a step that changes the disk fails.

Python tells of each such step beforehand (PEP 578, audit events), so that nothing of the package
need be replaced: the step of a given number raises, or kills the process.
"""

from __future__ import annotations

import errno
import os
import pickle
import resource
import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from cutlayers.cli import main

STEPS = frozenset(("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.chmod"))
"""Events that change a folder; "open" is one where it is for writing."""

WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT

Fault = Callable[[], None]


def refuse(number: int) -> Fault:
    """What the system answers when it will not."""

    def fail() -> None:
        raise OSError(number, os.strerror(number))

    return fail


def interrupt() -> None:
    """Ctrl-C."""
    raise KeyboardInterrupt


def kill() -> None:
    """The end of the process, without a word."""
    os.kill(os.getpid(), signal.SIGKILL)


FAULTS: dict[str, Fault] = {
    "full disk": refuse(errno.ENOSPC),
    "no permission": refuse(errno.EACCES),
    "read-only disk": refuse(errno.EROFS),
    "Ctrl-C": interrupt,
    "kill -9": kill,
}


@dataclass(frozen=True)
class Ending:
    """How a command ended: its code, minus the signal's number where it was killed, what it said
    and how many steps it took."""

    code: int
    said: str
    steps: int


def run_with(words: Sequence[str], folder: Path, fault: Fault | None = None, at: int = 0) -> Ending:
    """The command, with a fault as it takes the step of that number, from 1, within `folder`."""
    return _apart(lambda: _invoked(words, folder, fault, at))


def run_short_of_room(words: Sequence[str], most: int) -> Ending:
    """The command where no file can grow beyond so many bytes."""

    def work() -> Ending:
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, hard))
        return _invoked(words, Path("/nowhere"), None, 0)

    return _apart(work)


def _invoked(words: Sequence[str], folder: Path, fault: Fault | None, at: int) -> Ending:
    taken = 0
    within = f"{folder}{os.sep}"

    def watch(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal taken
        if event not in STEPS and not (event == "open" and arguments[2] & WRITING):
            return
        path = arguments[0]
        if isinstance(path, str | os.PathLike) and os.fspath(path).startswith(within):
            taken += 1
            if taken == at and fault is not None:
                fault()

    sys.addaudithook(watch)
    result = CliRunner().invoke(main, list(words))
    unexpected = result.exception is not None and not isinstance(result.exception, SystemExit)
    said = repr(result.exception) if unexpected else result.stderr
    return Ending(result.exit_code, said, taken)


def _apart(work: Callable[[], Ending]) -> Ending:
    reader, writer = os.pipe()
    if (child := os.fork()) == 0:
        code = 1
        try:
            os.close(reader)
            os.write(writer, pickle.dumps(work()))
            code = 0
        finally:
            os._exit(code)
    os.close(writer)
    with os.fdopen(reader, "rb") as pipe:
        told = pipe.read()
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    if not told:
        return Ending(code, "", 0)
    ending: Ending = pickle.loads(told)
    return ending
