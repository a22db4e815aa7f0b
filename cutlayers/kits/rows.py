"""The rows of a kit, and a job's tables with a row's values in them.

`{name}` in a text of a `[[piece]]` stands for the column of that name; `{{` and `}}` are braces.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cutlayers.reading.values import ValueRefused, read_text
from cutlayers.telling.errors import JobError
from cutlayers.telling.nearest import did_you_mean
from cutlayers.telling.written import shown, write_place

LARGEST_FILE = 20_000_000
MOST_ROWS = 20_000
"""A kit is a market's or a wedding's; more rows are another kind of file."""

LONGEST_CELL = 200
"""Characters; what goes on a box is a line."""

_PLACE = re.compile(r"\{\{|\}\}|\{([^{}]*)\}")
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

_MEASURED = ("size", "options", "holds", "count")
"""Keys of a piece below which a value that looks like a number is one."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line of the file that it begins on, and its cells by column."""

    line: int
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Rows:
    """A whole table. Guaranteed: column names differ, every row has a cell for each."""

    file: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def read_rows(path: Path) -> Rows:
    """Read a CSV file in UTF-8 (RFC 4180), the first line its column names.

    Cells may be parted by commas, or, where the first line has none, by semicolons or tabs. Lines
    without any cell filled are passed over. Raises JobError with a line for each problem.
    """
    text = _read(path)
    first = text.split("\n", 1)[0]
    delimiter = next((mark for mark in ",;\t" if mark in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    problems: list[str] = []
    rows: list[Row] = []
    columns: tuple[str, ...] = ()
    line = 1
    try:
        for cells in reader:
            if not columns:
                columns = tuple(cell.strip() for cell in cells)
                problems += _bad_columns(columns)
            elif any(cell.strip() for cell in cells):
                problems += _bad_cells(line, columns, cells)
                found = dict(zip(columns, (cell.strip() for cell in cells), strict=False))
                rows.append(Row(line, found))
            line = reader.line_num + 1
    except csv.Error as error:
        problems.append(f"line {line}: {error}")
    if not rows and not problems:
        problems.append("has no rows; the first line names the columns, each line after it is one")
    if len(rows) > MOST_ROWS:
        problems.append(f"has {len(rows)} rows, more than {MOST_ROWS}")
    if problems:
        raise JobError(*(f"{path}: {problem}." for problem in problems))
    return Rows(str(path), columns, tuple(rows))


def _read(path: Path) -> str:
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_FILE + 1)
        if len(content) > LARGEST_FILE:
            raise JobError(f"{path}: has more than {LARGEST_FILE} bytes; a kit is a short table.")
        return content.decode("utf-8-sig")
    except FileNotFoundError:
        near = did_you_mean(path.name, [each.name for each in path.parent.glob("*.csv")])
        raise JobError(
            f"{path}: there is no such file, which the job names as kit.{near}"
        ) from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise JobError(f"{path}: line {line}: is not UTF-8; save it as CSV UTF-8.") from None
    except OSError as error:
        if isinstance(error, JobError):
            raise
        raise JobError(f"{path}: cannot be read: {error.strerror}.") from None


def _bad_columns(columns: Sequence[str]) -> Iterator[str]:
    for number, name in enumerate(columns, start=1):
        if not name:
            yield f"line 1: column {number} has no name"
        elif "{" in name or "}" in name:
            yield f"line 1: column {shown(name)} has a brace in its name"
        elif name in columns[: number - 1]:
            yield f"line 1: two columns are called {shown(name)}"


def _bad_cells(line: int, columns: Sequence[str], cells: Sequence[str]) -> Iterator[str]:
    if len(cells) != len(columns):
        yield f"line {line}: has {len(cells)} cells, but there are {len(columns)} columns"
    for column, cell in zip(columns, cells, strict=False):
        if cell.strip():
            try:
                read_text(cell.strip(), LONGEST_CELL)
            except ValueRefused as error:
                yield f"line {line}: {column} {error}"


def columns_used(table: Mapping[str, Any]) -> dict[str, str]:
    """The columns that a job's pieces name, each with the place in the job that names it first."""
    used: dict[str, str] = {}
    for place, text in _texts(table.get("piece"), ("piece",)):
        for match in _PLACE.finditer(text):
            if match[1] is not None:
                used.setdefault(match[1].strip(), write_place(place))
    return used


def _texts(
    value: object, place: tuple[str | int, ...]
) -> Iterator[tuple[tuple[str | int, ...], str]]:
    if isinstance(value, str):
        yield place, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _texts(inner, (*place, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _texts(inner, (*place, index))


def table_for(table: Mapping[str, Any], row: Row) -> dict[str, Any]:
    """A job's tables for one row: its values filled in, and no kit.

    Where a size, an option or a count is a placeholder and nothing else, a cell that looks like a
    number becomes one; "2 7/16 in" stays a text and is read as a length. Raises KeyError for a
    column that the row lacks.
    """
    result = {key: value for key, value in table.items() if key != "kit"}
    result["piece"] = _filled(table.get("piece"), row.cells, False)
    return result


def _filled(value: Any, cells: Mapping[str, str], measured: bool) -> Any:
    if isinstance(value, dict):
        return {
            key: _filled(inner, cells, measured or key in _MEASURED) for key, inner in value.items()
        }
    if isinstance(value, list):
        return [_filled(inner, cells, measured) for inner in value]
    if not isinstance(value, str):
        return value
    alone = _PLACE.fullmatch(value)
    if measured and alone and alone[1] is not None:
        return _number(cells[alone[1].strip()])
    return _PLACE.sub(lambda match: _value(match, cells), value)


def _value(match: re.Match[str], cells: Mapping[str, str]) -> str:
    return match[0][0] if match[1] is None else cells[match[1].strip()]


def _number(cell: str) -> int | float | bool | str:
    if cell.lower() in ("true", "false"):
        return cell.lower() == "true"
    if not _NUMBER.fullmatch(cell):
        return cell
    return float(cell) if "." in cell else int(cell)
