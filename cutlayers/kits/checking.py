"""All rows of a kit checked before anything is made."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from cutlayers.box import Box
from cutlayers.checks import LETTERING
from cutlayers.checks.job import all_findings, check_boxes, check_letters
from cutlayers.frozen import frozen
from cutlayers.job.order import Job, Order
from cutlayers.job.reading import NOT_MEASURED, job_from, title_of
from cutlayers.kits.rows import Row, Rows, column_at, columns_used, table_for, with_decimal_commas
from cutlayers.telling.errors import JobError
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.lengths import Unit
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Place, Refusal
from cutlayers.telling.written import shown

MOST_TOLD = 200
"""Lines of one message; a wrong column makes every row wrong."""


@frozen
class Kit:
    """A job for each row of a table. Guaranteed: every row makes a job without an error."""

    job_file: Path
    table: Mapping[str, Any]
    rows: Rows
    findings: tuple[Finding, ...] = ()

    @property
    def unit(self) -> Unit:
        """The unit that the job file thinks in."""
        return "in" if self.table.get("units") == "in" else "mm"


def job_for(
    job_file: Path, table: Mapping[str, Any], row: Row, take_up: Mapping[str, float]
) -> Job:
    """The job that one row makes, on a machine with that `take_up`. Raises JobError."""
    own = table_for(table, row)
    return job_from(own, str(job_file), title_of(job_file), take_up=take_up)


def check_kit(
    job_file: Path,
    table: Mapping[str, Any],
    rows: Rows,
    each: Callable[[int, Job], None],
    take_up: Mapping[str, float] = NOT_MEASURED,
) -> Kit:
    """Check all rows; `each` is given every row's number and job, in order.

    Findings are the checks of each different box, and of every row's letters on it, columns that
    nothing names, empty cells, decimal commas and rows that are alike. Raises JobError with a line
    for each thing that is wrong, in row order.
    """
    used = columns_used(table)
    if problems := list(_unknown_columns(job_file, used, rows)):
        raise JobError(*problems)
    findings = [*_unused(used, rows), *_empty(used, rows), *_alike(used, rows)]
    findings += _decimal_commas(table, rows)
    finished: dict[Hashable, tuple[Box, ...]] = {}
    of_rows: list[_OfRow] = []
    refused: list[tuple[Row, Refusal]] = []
    for index, row in enumerate(rows.rows):
        try:
            job = job_for(job_file, table, row, take_up)
        except JobError as error:
            refused += [(row, each) for each in error.refusals]
            continue
        if any(order.fill for order in job.orders):
            index = next(i for i, order in enumerate(job.orders) if order.fill)
            advice = "write count in its place"
            raise JobError(
                Refusal(
                    ("piece", index, "fill"),
                    "has no meaning in a kit",
                    "value",
                    file=str(job_file),
                    found=True,
                    advice=advice,
                )
            )
        if refused:
            continue
        each(index, job)
        shapes = tuple(map(shape_of, job.orders))
        found: Iterable[Finding]
        if shapes in finished:
            found = check_letters(job, finished[shapes])
        else:
            finished[shapes] = tuple(order.box for order in job.orders)
            found = all_findings(check_boxes(job))
        places = [order.name for order in job.orders]
        of_rows += [(row.line, places.index(each.subject.piece or ""), each) for each in found]
    if refused:
        problems = list(_told(refused, table, rows))
        told_of = problems[:MOST_TOLD]
        if more := len(problems) - len(told_of):
            told_of.append(Refusal(reason=f"and {more} more", file=rows.file, found=more))
        raise JobError(*told_of)
    return Kit(job_file, table, rows, (*findings, *_once(of_rows)))


_OfRow = tuple[int, int, Finding]
"""What is found of a row: its line, and the place of the box among those of its job."""


def _once(of_rows: Iterable[_OfRow]) -> Iterator[Finding]:
    """Findings of rows, each with its line. What is found of letters on a panel is told once, the
    worst of it, with the lines of all rows where it is, whatever the box is called in each."""
    alike: dict[Hashable, list[tuple[int, Finding]]] = defaultdict(list)
    for line, place, finding in of_rows:
        key: Hashable = (line, finding)
        if finding.code in LETTERING:
            panel = replace(finding.subject, piece=None)
            key = (finding.code, place, panel, finding.details)
        alike[key].append((line, finding))
    for found in alike.values():
        _, worst = max(found, key=lambda each: [measure.value for measure in each[1].measured])
        lines = tuple(line for line, _ in found)
        yield replace(worst, subject=replace(worst.subject, lines=lines))


def shape_of(order: Order) -> Hashable:
    """Equal for boxes whose panels are alike, however they are lettered."""
    return tuple(panel.outline for net in order.box.nets for panel in net.panels)


def _told(
    refused: Sequence[tuple[Row, Refusal]], table: Mapping[str, Any], rows: Rows
) -> Iterator[Refusal]:
    """What every row refuses for the same reason is wrong in the job, and is told once."""
    counts = Counter(repr(refusal) for _, refusal in refused)
    once = {text for text, count in counts.items() if count == len(rows.rows) > 1}
    first = refused[0][0]
    yield from (refusal for row, refusal in refused if row is first and repr(refusal) in once)
    for row, refusal in refused:
        if repr(refusal) not in once:
            yield _of_a_row(refusal, table, row, rows)


def _of_a_row(refusal: Refusal, table: Mapping[str, Any], row: Row, rows: Rows) -> Refusal:
    """What is wrong in a row's job, at the row; at the column where one alone makes the value."""
    column = column_at(table, refusal.place)
    number = rows.columns.index(column) + 1 if column is not None else None
    cell = row.cells.get(column) if column is not None else None
    return Refusal(
        file=rows.file, line=row.line, column=number, found=cell, fault="value", inside=refusal
    )


def _unknown_columns(job_file: Path, used: Mapping[str, Place], rows: Rows) -> Iterator[Refusal]:
    for column, place in used.items():
        if column not in rows.columns:
            yield Refusal(
                place,
                f"names the column {shown(column)}, which {rows.file} has not",
                "unknown",
                file=str(job_file),
                found=column,
                allowed=rows.columns,
                nearest=nearest(column, rows.columns),
            )


def _unused(used: Mapping[str, Place], rows: Rows) -> Iterator[Finding]:
    """A column of the table that no piece of the job names.

    Measured: nothing. The head of the table has a column that is written in braces nowhere in the
    job.

    Why: a name or a size that you meant to have on each box is left out of all of them, often
    because it is spelt in two ways.

    Cure: write the column's name in braces where it belongs in the job, or leave it if it is there
    for yourself, such as an address.

    Source: none is needed.
    """
    for column in rows.columns:
        if column not in used:
            subject = Subject(file=str(rows.file), column=column)
            yield Finding("column-unused", Severity.NOTE, subject)


def _empty(used: Mapping[str, Place], rows: Rows) -> Iterator[Finding]:
    """An empty cell in a column that the job names.

    Measured: nothing. The row has no value in a column that the job uses; a box is made for it all
    the same, without what should stand there.

    Why: one blank name tag among fifty is found when the guest has come.

    Cure: fill the cell in, or take the row out.

    Source: none is needed.
    """
    for row in rows.rows:
        for column in rows.columns:
            if column in used and not row.cells[column]:
                subject = Subject(file=str(rows.file), lines=(row.line,), column=column)
                yield Finding("value-missing", Severity.WARNING, subject)


def _decimal_commas(table: Mapping[str, Any], rows: Rows) -> Iterator[Finding]:
    """Numbers of a column have a comma that is read as a decimal point.

    Measured: the first line of the column with such a number. Commas count so where the cells are
    parted by semicolons or tabs, in what the job takes as a number or a length; in names and other
    texts they stay as they are.

    Why: a spreadsheet writes so in countries with a decimal comma. Were it one between thousands,
    boxes would come out a thousand times too small.

    Cure: compare one size with what you meant. Write thousands without a mark.

    Source: RFC 4180 knows commas between cells alone; semicolons with decimal commas are common
    practice, no source.
    """
    told: set[str] = set()
    for row in rows.rows:
        for column in with_decimal_commas(table, row):
            if column not in told:
                told.add(column)
                subject = Subject(file=str(rows.file), lines=(row.line,), column=column)
                cell = details(cell=row.cells[column])
                yield Finding("decimal-commas", Severity.NOTE, subject, details=cell)


def _alike(used: Mapping[str, Place], rows: Rows) -> Iterator[Finding]:
    """Rows of the table that make the very same boxes.

    Measured: the lines whose values agree in all columns that the job names. Columns that it does
    not name do not count.

    Why: a row that was pasted twice costs card and time; but two guests may well have one name.

    Cure: take out what is there twice by mistake. Each row that you leave makes a set of its own.

    Source: none is needed.
    """
    lines: dict[tuple[str, ...], list[int]] = defaultdict(list)
    wanted = [column for column in rows.columns if column in used]
    for row in rows.rows if wanted else ():
        lines[tuple(row.cells[column] for column in wanted)].append(row.line)
    for cells, found in lines.items():
        if len(found) > 1:
            yield Finding(
                "rows-alike",
                Severity.WARNING,
                Subject(file=str(rows.file), lines=tuple(found)),
                details=details(columns=tuple(wanted), cells=cells),
            )
