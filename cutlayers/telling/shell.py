"""Words of a command that a person may copy into a terminal."""

from __future__ import annotations

import os
import re
import shlex

_SAFE = re.compile(r"[\w.:/\\+-]+")


def quoted(word: str, windows: bool = os.name == "nt") -> str:
    """A word in one piece, nothing in it run or filled in: as a POSIX shell wants it, or, on
    Windows, as PowerShell does.

    Source: POSIX.1-2024, Shell Command Language, 2.2.2 and, for what cannot be shown (a line break,
    a byte that is no letter), 2.2.4; "About quoting rules" of PowerShell. Both take everything
    between single quotes as it is; PowerShell has a quote in it doubled, and takes the curved ones
    of typographers for the same.

    >>> quoted("kraft"), quoted("$(rm x)"), quoted("it's", windows=True)
    ('kraft', "'$(rm x)'", "'it''s'")
    """
    if not windows:
        return shlex.quote(word) if word.isprintable() else _escaped(word)
    if _SAFE.fullmatch(word):
        return word
    return "'" + re.sub("(['\u2018\u2019\u201a\u201b])", r"\1\1", word) + "'"


def _escaped(word: str) -> str:
    plain = (mark if mark.isprintable() and mark not in "'\\" else _octal(mark) for mark in word)
    return f"$'{''.join(plain)}'"


def _octal(mark: str) -> str:
    return "".join(f"\\{byte:03o}" for byte in os.fsencode(mark))
