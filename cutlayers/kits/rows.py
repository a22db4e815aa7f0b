"""The rows of a kit, and a job's tables with a row's values in them.

`{name}` in a text of a `[[piece]]` stands for the column of that name; `{{` and `}}` are braces.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused, read_text
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import Place, Refusal, Span, within
from cutlayers.telling.written import shown

LARGEST_MEGABYTES = 20
MOST_ROWS = 20_000
"""A kit is a market's or a wedding's; more rows are another kind of file."""

LONGEST_CELL = 200
"""Characters; what goes on a box is a line."""

_PLACE = re.compile(r"\{\{|\}\}|\{([^{}]*)\}")
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

_MEASURED = ("size", "options", "holds", "count")
"""Keys of a piece below which a value that looks like a number is one."""


@frozen
class Row:
    """One row: the line of the file that it begins on, and its cells by column."""

    line: int
    cells: Mapping[str, str]


@frozen
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
    problems: list[Refusal] = []
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
        problems.append(Refusal(reason=str(error), fault="unreadable", line=line))
    if not rows and not problems:
        advice = "the first line names the columns, each line after it is one"
        problems.append(Refusal(reason="has no rows", fault="empty", advice=advice))
    if len(rows) > MOST_ROWS:
        problems.append(
            Refusal(
                reason=f"has {len(rows)} rows",
                fault="value",
                found=len(rows),
                allowed=Span(1, MOST_ROWS, whole=True),
            )
        )
    if problems:
        raise JobError(*within(str(path), problems))
    return Rows(str(path), columns, tuple(rows))


def _read(path: Path) -> str:
    try:
        return _content(path)
    except ValueRefused as refused:
        refusal = refused.refusal
        if refusal.fault == "absent":
            reason = "there is no such file, which the job names as kit"
            refusal = replace(refusal, reason=reason)
        raise JobError(refusal.within(str(path))) from None


def _content(path: Path) -> str:
    """The whole text. Raises ValueRefused."""
    content = read_user_file(path, LARGEST_MEGABYTES)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        advice = "save it as CSV UTF-8"
        raise ValueRefused("is not UTF-8", fault="unreadable", line=line, advice=advice) from None


def _bad_columns(columns: Sequence[str]) -> Iterator[Refusal]:
    for number, name in enumerate(columns, start=1):
        reason = ""
        if not name:
            reason = "has no name"
        elif "{" in name or "}" in name:
            reason = f"is {shown(name)}, with a brace in its name"
        elif name in columns[: number - 1]:
            first = columns.index(name) + 1
            reason = f"is {shown(name)}, the name of column {first} already"
        if reason:
            yield Refusal((), reason, "value", line=1, column=number, found=name)


def _bad_cells(line: int, columns: Sequence[str], cells: Sequence[str]) -> Iterator[Refusal]:
    if len(cells) != len(columns):
        reason = f"has {len(cells)} cells, but there are {len(columns)} columns"
        yield Refusal((), reason, "value", line=line, found=len(cells))
    for number, (column, cell) in enumerate(zip(columns, cells, strict=False), start=1):
        if cell.strip():
            try:
                read_text(cell.strip(), LONGEST_CELL)
            except ValueRefused as error:
                yield replace(error.refusal, place=(column,), line=line, column=number)


def columns_used(table: Mapping[str, Any]) -> dict[str, Place]:
    """The columns that a job's pieces name, each with the place in the job that names it first."""
    used: dict[str, Place] = {}
    for place, text in _texts(table.get("piece"), ("piece",)):
        for match in _PLACE.finditer(text):
            if match[1] is not None:
                used.setdefault(match[1].strip(), place)
    return used


def column_at(table: Mapping[str, Any], place: Place) -> str | None:
    """The column that the text at a place of the job names; None where it names none or several."""
    node: Any = table
    for step in place:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    found = {
        match[1].strip()
        for _, text in _texts(node, ())
        for match in _PLACE.finditer(text)
        if match[1] is not None
    }
    return found.pop() if len(found) == 1 else None


def _texts(value: object, place: Place) -> Iterator[tuple[Place, str]]:
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
