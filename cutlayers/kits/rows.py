"""The rows of a kit, and a job's tables with a row's values in them.

`{name}` in a text of a `[[piece]]` stands for the column of that name; `{{` and `}}` are braces.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.job.written import WrittenPiece
from cutlayers.job.written_art import WrittenArt, WrittenFacing
from cutlayers.lettering.inscriptions import Inscription
from cutlayers.reading.declared import Length, Number, Whole
from cutlayers.reading.tables import declared
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused, read_text
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import Place, Refusal, Span, within
from cutlayers.telling.written import shown

LARGEST_MEGABYTES = 20
MOST_ROWS = 20_000
"""A kit is a market's or a wedding's; more rows are another kind of file."""

LINES_LOOKED_AT = 20
"""For the mark that parts the cells."""

LONGEST_CELL = 200
"""Characters; what goes on a box is a line."""

_PLACE = re.compile(r"\{\{|\}\}|\{([^{}]*)\}")
_DECIMAL_COMMA = re.compile(r"^([^.,]*\d),(?=\d[^.,]*$)")
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")


@cache
def _measured() -> frozenset[str]:
    """Keys of a piece at or below which a value that looks like a number is one."""
    tables = (WrittenPiece, Inscription, WrittenArt, WrittenFacing)
    fields = [field for table in tables for field in declared(table)]
    numbers = {field.key for field in fields if isinstance(field.kind, Length | Number | Whole)}
    return frozenset(numbers | {"size", "options", "holds"})


@frozen
class Row:
    """One row: the line of the file that it begins on, and its cells by column.

    With `decimal_commas` a comma between digits of a number is a decimal one.
    """

    line: int
    cells: Mapping[str, str]
    decimal_commas: bool = False


@frozen
class Rows:
    """A whole table. Guaranteed: column names differ, every row has a cell for each."""

    file: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]


def read_rows(path: Path) -> Rows:
    """Read a CSV file in UTF-8 (RFC 4180), the first line its column names.

    Cells may be parted by commas, semicolons or tabs; where not by commas, numbers may have decimal
    commas. Lines without any cell filled are passed over. Raises JobError with a line for each
    problem.
    """
    text = _read(path)
    parted = _parted_by(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=parted, strict=True)
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
                rows.append(Row(line, found, decimal_commas=parted != ","))
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


def _parted_by(text: str) -> str:
    """The mark that parts the first lines into as many cells each, the most of them; a comma where
    none does."""

    def cells(mark: str) -> int:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark)
        try:
            counts = {len(row) for row in islice(filter(None, reader), LINES_LOOKED_AT)}
        except csv.Error:  # which is told with its line by whoever reads all
            return 0
        return counts.pop() if len(counts) == 1 else 0

    first = text.split("\n", 1)[0]
    marks = sorted(filter(first.__contains__, ",;\t"), key=cells, reverse=True)
    return next(iter(marks), ",")


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
        for column in _named(text):
            used.setdefault(column, place)
    return used


def with_decimal_commas(table: Mapping[str, Any], row: Row) -> tuple[str, ...]:
    """The columns from which the job takes a number that has a decimal comma in this row."""
    if not row.decimal_commas:
        return ()
    found = [
        column
        for place, text in _texts(table.get("piece"), ("piece",))
        if not _measured().isdisjoint(place)
        for column in _named(text)
        if _DECIMAL_COMMA.search(row.cells[column])
    ]
    return tuple(dict.fromkeys(found))


def _named(text: str) -> Iterator[str]:
    """The columns that a text names."""
    return (match[1].strip() for match in _PLACE.finditer(text) if match[1] is not None)


def column_at(table: Mapping[str, Any], place: Place) -> str | None:
    """The column that the text at a place of the job names; None where it names none or several."""
    node: Any = table
    for step in place:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    found = {column for _, text in _texts(node, ()) for column in _named(text)}
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
    result["piece"] = _filled(table.get("piece"), row, False)
    return result


def _filled(value: Any, row: Row, measured: bool) -> Any:
    if isinstance(value, dict):
        return {
            key: _filled(inner, row, measured or key in _measured()) for key, inner in value.items()
        }
    if isinstance(value, list):
        return [_filled(inner, row, measured) for inner in value]
    if not isinstance(value, str):
        return value
    text = _PLACE.sub(lambda match: _value(match, row, measured), value)
    alone = _PLACE.fullmatch(value)
    return _number(text) if measured and alone and alone[1] is not None else text


def _value(match: re.Match[str], row: Row, measured: bool) -> str:
    if match[1] is None:
        return match[0][0]
    cell = row.cells[match[1].strip()]
    return _DECIMAL_COMMA.sub(r"\1.", cell) if measured and row.decimal_commas else cell


def _number(cell: str) -> int | float | bool | str:
    if cell.lower() in ("true", "false"):
        return cell.lower() == "true"
    if not _NUMBER.fullmatch(cell):
        return cell
    return float(cell) if "." in cell else int(cell)
