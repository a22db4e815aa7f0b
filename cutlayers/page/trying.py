"""A text that is tried before it is written: what it makes, or why it makes nothing."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from cutlayers import CutlayersError, refused_clause
from cutlayers.page.looking import Look, Trouble, look

Refused = list[dict[str, Any]]
"""Places in the job with what is wrong there."""


def troubles(trouble: Trouble) -> Refused:
    """What is wrong in a job that can be read all the same."""
    return [{"place": list(place), "words": words} for place, words in trouble]


def tried(text: str, path: Path, row: int) -> tuple[Look | None, Refused]:
    """What a text makes, of a kit its row of that number; None with what is refused."""
    try:
        return look(text, path, row), []
    except CutlayersError as error:
        return None, [
            {
                "place": list(each.place),
                "words": refused_clause(each),
                "line": each.line,
                "unreadable": not each.place,
            }
            for each in error.refusals
        ]
