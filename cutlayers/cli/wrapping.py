"""Text in lines that a terminal shows whole."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

WIDTH = 88
"""Characters of a line."""


def wrapped(text: str, indent: int) -> str:
    """A text in such lines, no word of it broken."""
    return textwrap.fill(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * indent,
        break_on_hyphens=False,
        break_long_words=False,
    )


def key_lines(keys: Sequence[tuple[str, str, str]]) -> str:
    """Keys, each with what it is and what it may be, names and texts in two columns."""
    column = max(len(name) for name, _, _ in keys) + 4
    return "\n".join(
        f"  {name}{wrapped(what, column)[len(name) + 2 :]}\n{wrapped(allowed, column)}"
        for name, what, allowed in keys
    )
