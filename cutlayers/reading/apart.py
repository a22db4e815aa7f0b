"""Work in a process of its own, which can be ended, or goes on while this one does other things.

Some libraries cannot be stopped once they have begun, and what they are given comes from anyone.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from itertools import count
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

Answer = TypeVar("Answer")

Begin = Callable[..., Callable[[], Any]]
"""Takes work, a function of a module, and what that is to be called with; gives a function that
waits for the answer."""

STARTING_S = 30.0
"""Seconds that a process may take to begin, on a computer with much else to do."""

A_MOMENT_S = 0.01
"""Seconds in which a piece of work is sent, unless another one is still on its way."""

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
    """What `work` answers, worked out in a process of its own within the limits; see `apart`.

    Errors that are ValueErrors are raised here again. Raises RanOutError where the limits are
    reached or the process dies.
    """
    with apart(seconds=seconds, memory_bytes=memory_bytes) as begin:
        answer: Answer = begin(work, *arguments)()
        return answer


@contextmanager
def apart(*, seconds: float | None = None, memory_bytes: int | None = None) -> Iterator[Begin]:
    """Another process, begun at once, which ends with the block at the latest.

    Work is done in the order given, while this process does something else. The other one loads
    the module of the work anew; so, as always where Python starts a process, a script of the
    user's own does its work below `if __name__ == "__main__"`. An answer raises as `run_apart`
    does, RanOutError too where no process can be had. Without limits the other process is a copy
    of this one where that is safe: it is there at once.

    Where the system can (not on Windows), memory and the processor's time of all the work are
    limited, if limits are given; the clock's time of each always is then.
    """
    import multiprocessing

    limited = seconds is not None or memory_bytes is not None
    copied = not limited and _can_be_copied()
    context: Any = multiprocessing.get_context("fork" if copied else "spawn")
    ours, theirs = context.Pipe()
    # A copy has our end of the pipe too, and would never hear that this process is gone.
    task = (theirs, seconds, memory_bytes, ours if copied else None)
    process = context.Process(target=_serve, args=task, daemon=True)
    given: SimpleQueue[tuple[Callable[..., Any], tuple[Any, ...]] | None] = SimpleQueue()
    sent = threading.Event()

    # Without a process the pipe's other end closes, and the answer is that it broke down.
    with suppress(OSError):
        _start_deaf(process, copied)
    theirs.close()

    def send() -> None:
        try:
            while (task := given.get()) is not None:
                ours.send(task)
                sent.set()
        except Exception:
            # Of whatever kind it raises that something cannot be sent: nobody will answer, and
            # who waits hears that by the end of the process.
            if process.pid is not None:
                process.kill()

    # A pipe holds little, and this process does not wait until there is room.
    sending = threading.Thread(target=send, name="apart", daemon=True)
    sending.start()
    told: list[tuple[bool, Any]] = []
    begun = count(1)  # the first thing that the process tells is that it is there

    def begin(work: Callable[..., Any], *arguments: Any) -> Callable[[], Any]:
        number = next(begun)
        sent.clear()
        given.put((work, arguments))
        sent.wait(A_MOMENT_S)  # who computes on would not let the thread do so for long

        def answer() -> Any:
            while len(told) <= number:
                wait = STARTING_S if not told else None if seconds is None else PATIENCE * seconds
                told.append(_message(ours, process, wait))
            done, found = told[number]
            if not done:
                raise ValueError(found)
            return found

        return answer

    try:
        yield begin
    finally:
        given.put(None)
        if process.pid is not None:
            process.kill()
            process.join()
        sending.join()
        ours.close()


@contextmanager
def meanwhile(processes: int) -> Iterator[Begin]:
    """As `apart`, for work that could as well be done here: it is, when its answer is asked for,
    where `processes` are fewer than two or the other one could not do it."""
    if processes < 2:
        yield partial
        return
    with apart() as begin:

        def begin_or_not(work: Callable[..., Answer], *arguments: Any) -> Callable[[], Answer]:
            there = begin(work, *arguments)

            def answer() -> Answer:
                # A refusal comes from there as its words alone, and from here as what it is.
                with suppress(RanOutError, ValueError):
                    found: Answer = there()
                    return found
                return work(*arguments)

            return answer

        yield begin_or_not


def _message(ours: Connection, process: BaseProcess, seconds: float | None) -> tuple[bool, Any]:
    """Whether the next piece of work was done, and what was found or why not; see `apart`."""
    try:
        if not ours.poll(seconds):
            raise RanOutError(too_long=True)
        done, found = ours.recv()
        return done, found
    except (EOFError, OSError):
        if process.pid is None:
            raise RanOutError(too_long=False) from None
        process.join()
        too_long = process.exitcode == -getattr(signal, "SIGXCPU", 0)
        raise RanOutError(too_long) from None


def _can_be_copied() -> bool:
    """Whether a copy of this process can work: locks that another thread holds stay locked in it,
    and elsewhere than on Linux so do those of the system's own libraries."""
    return sys.platform == "linux" and threading.active_count() == 1


def _start_deaf(process: BaseProcess, copied: bool) -> None:
    """Start a process that hears no Ctrl-C, not even while it begins, where the system can."""
    if not hasattr(signal, "pthread_sigmask"):
        process.start()
        return
    if not copied:
        from multiprocessing import resource_tracker

        resource_tracker.ensure_running()  # it opens the ears again that are closed as it starts
    heard = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        process.start()
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, heard)


def leave_interrupts() -> None:
    """Let Ctrl-C pass: the process that waits for this one decides when to stop."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _serve(
    pipe: Connection,
    seconds: float | None,
    memory_bytes: int | None,
    others_end: Connection | None,
) -> None:
    leave_interrupts()
    if others_end is not None:
        others_end.close()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 2)  # a library that runs out of memory says so there, in its own words
    _limit(seconds, memory_bytes)
    pipe.send((True, "ready"))
    while True:
        work, arguments = pipe.recv()
        try:
            pipe.send((True, work(*arguments)))
        except ValueError as error:
            pipe.send((False, str(error)))


def _limit(seconds: float | None, memory_bytes: int | None) -> None:
    """Limits that hold even where nobody is left to end this process."""
    try:
        import resource
    except ImportError:
        return
    for kind, limit in (
        (resource.RLIMIT_CPU, None if seconds is None else int(seconds) + 2),
        (resource.RLIMIT_AS, memory_bytes),
    ):
        hardest = resource.getrlimit(kind)[1]
        if limit is not None and (hardest == resource.RLIM_INFINITY or limit < hardest):
            resource.setrlimit(kind, (limit, limit))
