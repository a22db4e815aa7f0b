"""How far long work has come, on a terminal, once it turns out to be long."""

from __future__ import annotations

import contextlib
import sys
import time
from collections.abc import Iterable, Iterator
from itertools import repeat
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from cutlayers import Job

Thing = TypeVar("Thing")

LATE_S = 0.7
"""Seconds of work after which a bar appears; one for shorter work would only flicker."""


class LateBar:
    """A bar on stderr of so many steps, shown from the first step that ends late.

    Nothing is shown where stderr is not a terminal. Where nobody knows how many steps there will
    be (None), it only shows that there is something going on.
    """

    def __init__(self, length: int | None, label: str) -> None:
        self._length, self._label = length, label
        self._steps = 0
        self._shown: Any = None
        self._open = contextlib.ExitStack()

    def __enter__(self) -> LateBar:
        self._since = time.monotonic()
        return self

    def __exit__(self, *raised: Any) -> None:
        self._open.close()

    def update(self, steps: int) -> None:
        """Tell that so many more steps are done."""
        self._steps += steps
        if self._shown is not None:
            self._shown.update(steps)
        elif time.monotonic() - self._since >= LATE_S and sys.stderr.isatty():
            endless = repeat(None) if self._length is None else None
            bar = click.progressbar(endless, self._length, self._label, file=sys.stderr)
            self._shown = self._open.enter_context(bar)
            self._shown.update(self._steps)

    def counted(self, things: Iterable[Thing]) -> Iterator[Thing]:
        """The same things; each is a step that is done when the next one is asked for."""
        for thing in things:
            yield thing
            self.update(1)


def laying_bar(job: Job, *, quick: bool = False) -> LateBar:
    """A bar for `lay_out` of a job."""
    from cutlayers import laying_steps

    return LateBar(laying_steps(job, quick=quick), "laying out")
