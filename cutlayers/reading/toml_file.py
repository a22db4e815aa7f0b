"""Reading a TOML file into tables, and saying what is wrong with one.

Places are told as people count: `piece[1]` is the first.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from cutlayers.reading.slips import slip_at
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import JobError, ProfileError
from cutlayers.telling.refusals import Refusal

LARGEST_MEGABYTES = 1
"""Both kinds of file are written by hand, so a larger one is another kind of file."""

_WHERE = re.compile(r"^(?P<what>.*?) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end.*)\)$")

Refusing = type[JobError] | type[ProfileError]


def read_toml(path: Path, kind: str, refuse: Refusing) -> dict[str, Any]:
    """The tables of a TOML file in UTF-8; `kind` is "job" or "profile", for the messages.

    Raises `refuse` where the file cannot be read, is empty, or is not TOML (with line and
    column).
    """
    table = parse_toml(read_toml_text(path, kind, refuse), str(path), refuse)
    if not table:
        raise refuse(
            Refusal(
                reason="the file is empty",
                fault="empty",
                file=str(path),
                advice=f"a {kind} file holds tables and keys",
            )
        )
    return table


def parse_toml(text: str, file: str, refuse: Refusing = ProfileError) -> dict[str, Any]:
    """The tables in a text; `file` is named in messages.

    Raises `refuse` where it is not TOML (with line and column).
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refuse(_syntax(str(error), text).within(file)) from None
    except (RecursionError, ValueError):
        reason = "a value is nested too deeply or a number is too long to be read"
        raise refuse(Refusal(reason=reason, fault="unreadable", file=file)) from None


def read_toml_text(path: Path, kind: str, refuse: Refusing) -> str:
    """The text of a TOML file; as `read_toml`, but whatever it says."""
    try:
        return _content(path, kind)
    except ValueRefused as refused:
        raise refuse(refused.refusal.within(str(path))) from None


def _content(path: Path, kind: str) -> str:
    """The whole text. Raises ValueRefused."""
    content = read_user_file(path, LARGEST_MEGABYTES)
    try:
        return content.decode("utf-8-sig")  # some editors begin with a byte-order mark
    except UnicodeDecodeError as error:
        raise ValueRefused(
            f"byte {error.start + 1} is not UTF-8",
            fault="unreadable",
            advice=f"save the {kind} file as UTF-8 text",
        ) from None


def _syntax(message: str, text: str) -> Refusal:
    match = _WHERE.match(message)
    if match is None:
        return Refusal(reason=f"not TOML: {message}", fault="unreadable")
    lines = text.split("\n")
    line, column = match["line"] or len(lines), match["column"] or len(lines[-1]) + 1
    what = match["what"]
    found = slip_at(lines[int(line) - 1], int(column)) if int(line) <= len(lines) else ""
    if not found:
        said = "".join(mark if mark.isprintable() else repr(mark)[1:-1] for mark in what)
        hint = ". A text needs quotes" if what in ("Invalid value", "Unexpected character") else ""
        found = f"{said[0].lower()}{said[1:]}{hint}"
    return Refusal(reason=found, fault="unreadable", line=int(line), column=int(column))
