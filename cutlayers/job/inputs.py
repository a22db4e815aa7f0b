"""Which files a job reads, by its tables alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from cutlayers.reading.user_paths import user_path

FONT, PICTURE = "file", "image"
"""Keys of a piece that name a file."""


def files_named(table: Mapping[str, Any], folder: Path) -> tuple[Path, ...]:
    """The fonts and pictures that a job's tables name, each once, as seen from `folder`.

    Whether they are there, and whether the tables are right, is not looked at.
    """
    return tuple(dict.fromkeys(folder / name for name in _names(table.get("piece"))))


def _names(value: object) -> Iterator[Path]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key == PICTURE and isinstance(inner, str):
                yield Path(inner)
            elif key == FONT and isinstance(inner, str):
                yield user_path(inner)
            else:
                yield from _names(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _names(inner)
