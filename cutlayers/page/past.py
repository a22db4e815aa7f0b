"""What a job's text was before, and what of it was undone."""

from __future__ import annotations

from collections.abc import Callable

MOST_STEPS_BACK = 500


class Past:
    """Texts to go back to, and those to go on to again."""

    def __init__(self) -> None:
        self._back: list[str] = []
        self._forward: list[str] = []

    @property
    def can_undo(self) -> bool:
        """Whether there is a text before."""
        return bool(self._back)

    @property
    def can_redo(self) -> bool:
        """Whether something was undone that can be made again."""
        return bool(self._forward)

    def leave(self, text: str, *, again: bool = False) -> None:
        """Another text comes after this one; with `again` it goes on with the last change, and the
        text is none to go back to."""
        self._forward.clear()
        if not again:
            self._back.append(text)
            del self._back[:-MOST_STEPS_BACK]

    def undo(self, text: str, restore: Callable[[str], None]) -> None:
        """Go back from a text to the one before, if there is one, which is given to `restore`."""
        _step(self._back, self._forward, text, restore)

    def redo(self, text: str, restore: Callable[[str], None]) -> None:
        """Go from a text to the one that was undone, if there is one."""
        _step(self._forward, self._back, text, restore)


def _step(taken: list[str], kept: list[str], text: str, restore: Callable[[str], None]) -> None:
    if taken:
        restore(taken[-1])  # where that fails all is as it was
        kept.append(text)
        taken.pop()
