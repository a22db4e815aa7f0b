"""What cutlayers wrote into a folder: the names of each set with the sums of their files.

A file is ours as long as its sum is the one noted here. What cannot be read as such a note is no
proof of anything, so then no file is ours.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.reading.user_files import open_user_file, read_user_file
from cutlayers.reading.values import ValueRefused

ABOUT = "The files that cutlayers wrote here and may replace as long as they are unchanged."
FORMAT = 1
LARGEST_MEGABYTES = 50
"""Of a note; one of a kit of 20,000 rows has about 5."""

_SUM = re.compile(r"[0-9a-f]{64}")


@frozen
class WrittenSet:
    """One set: names with their sums (SHA-256), and whose it is; "" where anybody may follow."""

    files: Mapping[str, str]
    owner: str = ""


Manifest = Mapping[str, WrittenSet]
"""The sets of a folder by label."""


@frozen
class Change:
    """A set on its way to the disk: what will be noted of the folder, what lay at the places that
    change (names with sums), where the new files wait, and the label of their set."""

    after: Manifest
    before: Mapping[str, str]
    stage: str
    label: str


def sum_of(content: bytes) -> str:
    """The sum of a file's content."""
    return hashlib.sha256(content).hexdigest()


def sum_at(path: Path) -> str | None:
    """The sum of a file; None for a folder, or what cannot be read."""
    try:
        with open_user_file(path) as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except (OSError, ValueRefused):
        return None


def is_plain(name: str) -> bool:
    """Whether a name is one of a file in the folder itself."""
    return name not in ("", ".", "..") and not set(name) & set("/\\:\0")


def manifest_bytes(manifest: Manifest) -> bytes:
    """The note as a file: the same manifest, the same bytes."""
    return _written({"sets": _sets(manifest)})


def change_bytes(change: Change) -> bytes:
    """A change as a file."""
    return _written(
        {
            "sets": _sets(change.after),
            "before": dict(change.before),
            "stage": change.stage,
            "label": change.label,
        }
    )


def read_manifest(path: Path) -> dict[str, WrittenSet]:
    """The sets noted in a file; none where there is no such note."""
    return _read_sets(_read(path).get("sets"))


def read_change(path: Path) -> Change | None:
    """The change noted in a file, if it is whole."""
    found = _read(path)
    stage, label = found.get("stage"), found.get("label")
    sets = _read_sets(found.get("sets"))
    if not isinstance(stage, str) or not isinstance(label, str):
        return None
    if not is_plain(stage) or label not in sets:
        return None
    return Change(sets, _read_sums(found.get("before")), stage, label)


def _written(content: Mapping[str, object]) -> bytes:
    head = {"about": ABOUT, "format": FORMAT}
    return (json.dumps({**head, **content}, indent=1, sort_keys=True) + "\n").encode()


def _sets(manifest: Manifest) -> dict[str, object]:
    return {
        label: {"owner": each.owner, "files": dict(each.files)} for label, each in manifest.items()
    }


def _read(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(read_user_file(path, LARGEST_MEGABYTES))
    except (ValueError, RecursionError):
        return {}
    if not isinstance(found, dict) or found.get("about") != ABOUT or found.get("format") != FORMAT:
        return {}
    return found


def _read_sets(found: object) -> dict[str, WrittenSet]:
    if not isinstance(found, dict):
        return {}
    return {
        label: WrittenSet(_read_sums(each.get("files")), str(each.get("owner", "")))
        for label, each in found.items()
        if isinstance(each, dict)
    }


def _read_sums(found: object) -> dict[str, str]:
    if not isinstance(found, dict):
        return {}
    return {
        name: known
        for name, known in found.items()
        if is_plain(name) and isinstance(known, str) and _SUM.fullmatch(known)
    }
