"""File names from users' words, legal on Windows, macOS and Linux.

Letters and digits of all languages, "-" and "_" stay as they are; anything else becomes "-".
Source of the words and marks that Windows keeps for itself: its documentation, "Naming files,
paths, and namespaces"; the limit of 255 bytes or units of a name is that of ext4, APFS and NTFS.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

LONGEST = 150
"""Bytes in UTF-8 of a name made here; with what is put before and after it, it stays under 200."""

RESERVED = frozenset(
    ["con", "prn", "aux", "nul"]
    + [f"{port}{digit}" for port in ("com", "lpt") for digit in "0123456789¹²³"]
)


def file_names(words: Iterable[str]) -> dict[str, str]:
    """A name for each different word: no two are the same, in capitals or not.

    A word whose name is taken by one before it gets the next free number.

    >>> file_names(["a b", "a-b", "A/B"])
    {'a b': 'a-b', 'a-b': 'a-b-2', 'A/B': 'A-B-3'}
    """
    taken: set[str] = set()
    names: dict[str, str] = {}
    for word in dict.fromkeys(words):
        plain, number, end = _plain(word), 1, ""
        while _alike(name := _cut(plain, LONGEST - len(end)) + end) in taken:
            number += 1
            end = f"-{number}"
        taken.add(_alike(name))
        names[word] = name
    return names


def _plain(word: str) -> str:
    text = unicodedata.normalize("NFC", word)
    name = "".join(mark if mark.isalnum() or mark in "-_" else "-" for mark in text) or "-"
    return f"{name}-" if name.casefold() in RESERVED else name


def _cut(name: str, most: int) -> str:
    return name.encode()[:most].decode(errors="ignore")


def _alike(name: str) -> str:
    """What file systems that know no capitals, or join marks to letters, take for the same."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", name).casefold())
