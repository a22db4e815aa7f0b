"""Which files a job reads, and whether it names a kit, by its tables alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from cutlayers.reading.toml_file import read_toml
from cutlayers.reading.user_paths import user_path
from cutlayers.telling.errors import JobError

FILE = "file"
"""The key that names a font, a picture or the table of a kit, wherever one is named."""

DRAWING = "drawing"
"""The key of a piece that names the drawing it is made from."""

_NAMING = ("piece", "kit")
"""Tables in which it stands."""


def files_named(table: Mapping[str, Any], folder: Path) -> tuple[Path, ...]:
    """The fonts, pictures, drawings and the kit that a job's tables name, each once, as seen from
    `folder`.

    Whether they are there, and whether the tables are right, is not looked at.
    """
    names = (name for key in _NAMING for name in _names(table.get(key)))
    return tuple(dict.fromkeys(folder / name for name in names))


def names_kit(job_file: Path) -> bool:
    """Whether a job file names a kit; False where it cannot be read, which is told elsewhere."""
    try:
        return "kit" in read_toml(job_file, "job", JobError)
    except JobError:
        return False


def _names(value: object) -> Iterator[Path]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in (FILE, DRAWING) and isinstance(inner, str):
                yield user_path(inner)
            else:
                yield from _names(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _names(inner)
