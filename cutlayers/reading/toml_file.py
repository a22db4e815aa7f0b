"""Reading a TOML file into tables, and saying what is wrong with one.

A problem has a place (table, key, number in a list) and a sentence about it; `refusal` turns all
problems of a file into the message of one error, a line each. Lists are counted from 1, as
people count pieces: `piece[1]` is the first.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cutlayers.telling.errors import JobError, ProfileError
from cutlayers.telling.nearest import did_you_mean
from cutlayers.telling.refusals import Place
from cutlayers.telling.written import quoted, write_place

LARGEST_FILE = 1_000_000
"""Bytes; both kinds of file are written by hand, so a larger one is another kind of file."""

_WHERE = re.compile(r"^(?P<what>.*?) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end.*)\)$")

Refusal = type[JobError] | type[ProfileError]


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a file: `sentence` goes on from the place, "is 4 mm; allowed is …"."""

    place: Place
    sentence: str

    def under(self, *outer: str | int) -> Problem:
        """The same problem, seen from a table further out."""
        return Problem((*outer, *self.place), self.sentence)


def refusal(file: str, problems: Iterable[Problem]) -> str:
    """The message for all problems of one file: a complete line for each."""
    lines = []
    for problem in problems:
        place = write_place(problem.place)
        line = f"{file}: {place} {problem.sentence}" if place else f"{file}: {problem.sentence}"
        lines.append(line if line.endswith(("?", ".")) else f"{line}.")
    return "\n".join(dict.fromkeys(lines))


def read_toml(path: Path, kind: str, refuse: Refusal) -> dict[str, Any]:
    """The tables of a TOML file in UTF-8; `kind` is "job" or "profile", for the messages.

    Raises `refuse` where the file cannot be read, is empty, or is not TOML (with line and
    column).
    """
    table = parse_toml(_read_text(path, kind, refuse), str(path), refuse)
    if not table:
        raise refuse(f"{path}: the file is empty; a {kind} file holds tables and keys.")
    return table


def parse_toml(text: str, file: str, refuse: Refusal = ProfileError) -> dict[str, Any]:
    """The tables in a text; `file` is named in messages.

    Raises `refuse` where it is not TOML (with line and column).
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refuse(f"{file}: {_syntax(str(error), text)}") from None
    except (RecursionError, ValueError):
        raise refuse(
            f"{file}: a value is nested too deeply or a number is too long to be read."
        ) from None


def _read_text(path: Path, kind: str, refuse: Refusal) -> str:
    try:
        if path.is_dir():
            raise refuse(f"{path}: this is a folder; name the {kind} file in it.")
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE + 1)
        if len(content) > LARGEST_FILE:
            raise refuse(
                f"{path}: the file has more than {LARGEST_FILE} bytes; "
                f"a {kind} file is a short text."
            )
        return content.decode("utf-8-sig")  # some editors begin with a byte-order mark
    except FileNotFoundError:
        near = did_you_mean(path.name, _files_beside(path))
        raise refuse(f"{path}: there is no such file.{near}") from None
    except UnicodeDecodeError as error:
        raise refuse(
            f"{path}: byte {error.start + 1} is not UTF-8; save the {kind} file as UTF-8 text."
        ) from None
    except (OSError, ValueError) as error:
        if isinstance(error, refuse):
            raise
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise refuse(f"{quoted(str(path))}: cannot be read: {reason}.") from None


def _files_beside(path: Path) -> list[str]:
    try:
        return [file.name for file in path.parent.glob("*.toml")]
    except OSError:
        return []


def _syntax(message: str, text: str) -> str:
    match = _WHERE.match(message)
    if match is None:
        return f"not TOML: {message}."
    lines = text.split("\n")
    line, column = match["line"] or len(lines), match["column"] or len(lines[-1]) + 1
    what = match["what"]
    hint = " A text needs quotes." if what in ("Invalid value", "Unexpected character") else ""
    said = "".join(mark if mark.isprintable() else repr(mark)[1:-1] for mark in what)
    return f"line {line}, column {column}: {said[0].lower()}{said[1:]}.{hint}"
