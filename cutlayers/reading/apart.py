"""Work on a user's behalf in a process of its own, which can be ended.

Some libraries cannot be stopped once they have begun, and what they are given comes from anyone.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

Answer = TypeVar("Answer")

STARTING_S = 30.0
"""Seconds that a process may take to begin, on a computer with much else to do."""

PATIENCE = 4.0
"""How much longer than the time of its own that work may take it is waited for, since a busy
computer gives it only a part of the time."""


class RanOutError(Exception):
    """The work took more time than it may (`too_long`), or more memory, or broke down."""

    def __init__(self, too_long: bool) -> None:
        super().__init__("ran out of time" if too_long else "broke down")
        self.too_long = too_long


def run_apart(
    work: Callable[..., Answer], *arguments: Any, seconds: float, memory_bytes: int
) -> Answer:
    """What `work` answers, worked out in a process of its own.

    `work` is a function of a module, which the process loads anew; so, as always where Python
    starts a process, a script of the user's own does its work below `if __name__ == "__main__"`.
    Where the system can (not on Windows), memory and the processor's time are limited; the clock's
    time always is. Errors that are ValueErrors are raised here again. Raises RanOutError where the
    limits are reached or the process dies.
    """
    import multiprocessing

    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(
        target=_serve, args=(theirs, work, arguments, seconds, memory_bytes), daemon=True
    )
    process.start()
    theirs.close()
    try:
        if not ours.poll(STARTING_S):
            raise RanOutError(too_long=True)
        ours.recv()
        if not ours.poll(PATIENCE * seconds):
            raise RanOutError(too_long=True)
        done, answer = ours.recv()
    except (EOFError, OSError):
        process.join()
        too_long = process.exitcode == -getattr(signal, "SIGXCPU", 0)
        raise RanOutError(too_long) from None
    finally:
        process.kill()
        process.join()
        ours.close()
    if not done:
        raise ValueError(answer)
    found: Answer = answer
    return found


def _serve(
    pipe: Connection,
    work: Callable[..., Any],
    arguments: tuple[Any, ...],
    seconds: float,
    memory_bytes: int,
) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who waits decides when to stop
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)  # a library that runs out of memory says so there, in its own words
    _limit(seconds, memory_bytes)
    pipe.send("ready")
    try:
        pipe.send((True, work(*arguments)))
    except ValueError as error:
        pipe.send((False, str(error)))


def _limit(seconds: float, memory_bytes: int) -> None:
    """Limits that hold even where nobody is left to end this process."""
    try:
        import resource
    except ImportError:
        return
    for kind, limit in (
        (resource.RLIMIT_CPU, int(seconds) + 2),
        (resource.RLIMIT_AS, memory_bytes),
    ):
        hardest = resource.getrlimit(kind)[1]
        if hardest == resource.RLIM_INFINITY or limit < hardest:
            resource.setrlimit(kind, (limit, limit))
