"""What was made, as plain values: a table for people and the same for scripts."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from math import fsum
from typing import Any

from cutlayers.formats.drawing import Drawing
from cutlayers.frozen import frozen
from cutlayers.job.stock import Stock
from cutlayers.profile.setup_sheet import HEAD, SetupSheet, said_by_all
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.offcuts import off_cuts, used_share
from cutlayers.telling.facts import finding_data
from cutlayers.telling.findings import Finding
from cutlayers.telling.lengths import Unit, format_length
from cutlayers.telling.tables import table
from cutlayers.telling.words import lines_of
from cutlayers.toolpaths import LoadTable, PerforatedLine, Plan, Worked

REPORT, REPORT_TEXT = "report.json", "report.txt"

TIMED = ("length", "travel", "minutes")
"""Heads of the columns that tell what only lines in order have."""


@frozen
class LayerRow:
    """One layer of one side of a sheet, one pass over it. Lengths are mm; register marks have no
    tool and take no time. `settings` are what the profile notes for the card. Lengths and minutes
    are None as long as the lines are in no order."""

    layer: str
    title: str
    tool: str
    settings: dict[str, float | str]
    passes: int
    lines: int
    length: float | None
    travel_length: float | None
    minutes: float | None
    colour: str


@frozen
class SheetRow:
    """One side of one sheet as it lies on the bed, lengths in mm.

    `file` is the stem of its files' names; `copies` how many sheets are to be made from them;
    `pieces` says how many of each lie on one; `used_share` is what the pieces take of the sheet,
    0 to 1; `off_cuts` are width and height of the largest rectangles left; `by_hand` how many lines
    of an operation are left to the hand. `minutes` is None as long as the lines are in no order.
    """

    file: str
    number: int
    stock: str
    width: float
    height: float
    copies: int
    pieces: dict[str, int]
    used_share: float
    off_cuts: tuple[tuple[float, float], ...]
    layers: tuple[LayerRow, ...]
    by_hand: dict[str, int]
    perforated: tuple[PerforatedLine, ...]
    tool_changes: int
    minutes: float | None


@frozen
class StockRow:
    """What is needed of one stock; weight and cost where the job gives grammage and price."""

    stock: str
    sheets: int
    weight_g: float | None
    cost: float | None


@frozen
class Report:
    """A whole run. `files` are names within the output folder."""

    title: str
    unit: Unit
    machine: str
    units_in_files: str
    sheets: tuple[SheetRow, ...]
    setup_sheets: tuple[SetupSheet, ...] = ()
    stocks: tuple[StockRow, ...] = ()
    findings: tuple[Finding, ...] = ()
    files: tuple[str, ...] = ()


def layer_rows(drawing: Drawing, load: LoadTable) -> tuple[LayerRow, ...]:
    """The layers of a side whose lines are in order."""
    work = {row.layer: row for row in load.rows}
    rows = []
    for layer in drawing.layers:
        row = work.get(layer.name)
        rows.append(
            LayerRow(
                layer=layer.name,
                title=layer.title,
                tool=row.tool if row else "",
                settings=dict(row.settings) if row else {},
                passes=row.passes if row else 1,
                lines=row.strokes if row else len(layer.paths),
                length=round(
                    row.cut_length if row else fsum(path.length for path in layer.paths), 2
                ),
                travel_length=round(row.travel_length, 2) if row else 0.0,
                minutes=round(row.minutes, 3) if row else 0.0,
                colour=layer.colour,
            )
        )
    return tuple(rows)


def sheet_row(
    file: str,
    sheet: Sheet,
    side: Worked | Plan,
    layers: tuple[LayerRow, ...],
    tool_changes: int,
    minutes: float | None = None,
) -> SheetRow:
    """Count what one side of a sheet holds and asks for."""
    return SheetRow(
        file=file,
        number=sheet.number,
        stock=sheet.stock.name,
        width=sheet.width,
        height=sheet.height,
        copies=sheet.copies,
        pieces=dict(Counter(placed.piece.name for placed in sheet.placed)),
        used_share=round(used_share(sheet), 4),
        off_cuts=tuple(
            (round(right - left, 2), round(top - bottom, 2))
            for left, bottom, right, top in (off_cuts(sheet) if sheet.placed else ())
        ),
        layers=layers,
        by_hand=dict(Counter(stroke.operation.value for stroke in side.by_hand)),
        perforated=side.perforated,
        tool_changes=tool_changes,
        minutes=None if minutes is None else round(minutes, 3),
    )


def by_stock(sheets: Iterable[Sheet]) -> list[tuple[Stock, list[Sheet]]]:
    """The sheets of each stock, in the order in which the stocks first come."""
    grouped: dict[str, tuple[Stock, list[Sheet]]] = {}
    for sheet in sheets:
        grouped.setdefault(sheet.stock.name, (sheet.stock, []))[1].append(sheet)
    return list(grouped.values())


def stock_rows(sheets: Sequence[Sheet]) -> tuple[StockRow, ...]:
    """What is needed of each stock, copies counted, in the order of the sheets."""
    needed: dict[Stock, int] = {}
    for sheet in sheets:
        needed[sheet.stock] = needed.get(sheet.stock, 0) + sheet.copies
    return tuple(stock_row(stock, count) for stock, count in needed.items())


def stock_row(stock: Stock, count: int) -> StockRow:
    """Weight and cost of so many sheets."""
    weight, price = stock.sheet_weight_g, stock.price
    return StockRow(
        stock.name,
        count,
        None if weight is None else round(count * weight, 1),
        None if price is None else round(count * price, 2),
    )


def report_data(report: Report) -> dict[str, Any]:
    """The report as JSON can hold it; `explaining.schema` says what is in it."""
    findings = [finding_data(finding, report.unit) for finding in report.findings]
    return {**asdict(report), "findings": findings}


def report_json(report: Report) -> str:
    """The report for scripts: sorted keys, lengths in mm."""
    return json.dumps(report_data(report), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def report_text(report: Report) -> str:
    """The report for people, lengths in the job's unit."""
    lines = [
        report.title,
        f"for {report.machine}; lengths in the files are {report.units_in_files}",
    ]
    for sheet in report.sheets:
        lines += ["", *_sheet_lines(sheet, report.unit)]
    lines += setup_lines(report.setup_sheets)
    if report.stocks:
        lines += ["", *(stock_line(row) for row in report.stocks)]
    if report.findings:
        lines += ["", *lines_of(report.findings, report.unit)]
    return "\n".join(lines) + "\n"


def _sheet_lines(sheet: SheetRow, unit: Unit) -> list[str]:
    size = " × ".join(format_length(side, unit) for side in (sheet.width, sheet.height))
    pieces = ", ".join(f"{count} × {name}" for name, count in sheet.pieces.items())
    timed = sheet.minutes is not None
    head = ("layer", "tool", "passes", "lines", *(TIMED if timed else ()), "colour")
    rows = [
        (
            row.layer,
            row.tool or "-",
            str(row.passes),
            str(row.lines),
            *(_timed(row, unit) if timed else ()),
            row.colour,
        )
        for row in sheet.layers
    ]
    copies = f"; make {sheet.copies} sheets from it" if sheet.copies > 1 else ""
    lines = [f"{sheet.file}: {sheet.stock}, {size}{copies}"]
    if pieces:
        lines.append(f"  {pieces}; {100 * sheet.used_share:.0f} % of the sheet used")
    if sheet.off_cuts:
        left_over = ", ".join(
            " × ".join(format_length(side, unit) for side in cut) for cut in sheet.off_cuts
        )
        lines.append(f"  worth keeping: {left_over}")
    right = range(2, len(head) - 1)
    lines += [f"  {line}" for line in table([head, *rows], right=right)]
    several = "" if sheet.tool_changes == 1 else "s"
    changes = f"{sheet.tool_changes} tool change{several}" if sheet.tool_changes else ""
    minutes = "" if sheet.minutes is None else f"about {sheet.minutes:.1f} minutes"
    if minutes or changes:
        lines.append(f"  {', '.join(filter(None, (minutes, changes)))}")
    if sheet.by_hand:
        left = ", ".join(f"{operation} ({count})" for operation, count in sheet.by_hand.items())
        lines.append(f"  left to be done by hand: {left}")
    for operation in dict.fromkeys(line.operation for line in sheet.perforated):
        mine = [line for line in sheet.perforated if line.operation is operation]
        rates = [line.cuts_per_inch for line in mine]
        shares = [line.tie_share for line in mine]
        lines.append(
            f"  {operation.value} in rows: {_range(rates, '.1f')} cuts per inch, "
            f"{_range([100 * share for share in shares], '.0f')} % of the line left as ties"
        )
    return lines


def _timed(row: LayerRow, unit: Unit) -> tuple[str, str, str]:
    """What is known of a layer once its lines are in order, under TIMED."""
    return (
        format_length(row.length or 0.0, unit),
        format_length(row.travel_length or 0.0, unit) if row.tool else "-",
        f"{row.minutes or 0.0:.1f}" if row.tool else "-",
    )


def stock_line(row: StockRow) -> str:
    """One stock in words."""
    line = f"{row.stock}: {row.sheets} sheet{'' if row.sheets == 1 else 's'}"
    if row.weight_g is not None:
        line += f", {row.weight_g:.0f} g"
    if row.cost is not None:
        line += f", cost {row.cost:.2f}"
    return line


def _range(values: Sequence[float], form: str) -> str:
    low, high = format(min(values), form), format(max(values), form)
    return low if low == high else f"{low} to {high}"


def setup_lines(cards: Sequence[SetupSheet]) -> list[str]:
    """Setup sheets for people; what all of them say comes once, at the end."""
    shared = said_by_all(cards)
    lines = []
    for card in cards:
        lines += ["", f"setup sheet for {card.stock}: {card.in_words}"]
        if card.steps:
            lines += [f"  {line}" for line in table([HEAD, *card.rows])]
        own = (*card.coupon, *card.driving, *card.cautions)
        lines += [f"  {line}" for line in own if line not in shared]
    if shared:
        lines += ["", "for every card:", *(f"  {line}" for line in shared)]
    return lines
