"""What lies in a folder that cutlayers writes into."""

from __future__ import annotations

from pathlib import Path

from cutlayers.writing.changing import STATE


def files_in(folder: Path) -> dict[str, bytes]:
    """The files that a user sees there, name → content; the note of what was written is hidden."""
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.name != STATE}
