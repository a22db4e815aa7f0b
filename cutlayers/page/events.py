"""What pages of one job are told without asking: that it changed, how the making of files goes."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

Heard = asyncio.Queue[Mapping[str, Any]]


class Channel:
    """Whoever listens hears what is told, from whichever thread."""

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self._loop = loop
        self._ears: set[Heard] = set()

    def listen(self) -> Heard:
        """A queue of what is told from now on."""
        heard: Heard = asyncio.Queue()
        self._ears.add(heard)
        return heard

    def leave(self, heard: Heard) -> None:
        """Stop listening."""
        self._ears.discard(heard)

    def tell(self, what: Mapping[str, Any]) -> None:
        """Tell everybody."""
        self._loop.call_soon_threadsafe(self._tell, what)

    def _tell(self, what: Mapping[str, Any]) -> None:
        for heard in self._ears:
            heard.put_nowait(what)
