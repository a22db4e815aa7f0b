"""Which box is on which sheet: the manifest of a kit, for people, spreadsheets and scripts."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict, field
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.job.stock import Stock
from cutlayers.kits.checking import Kit
from cutlayers.kits.making import MadeSheet
from cutlayers.making.files import units_in_files
from cutlayers.making.make import GUIDE
from cutlayers.making.sides import COUPON
from cutlayers.profile.machine import Machine
from cutlayers.profile.setup_sheet import SetupSheet, setup_sheet
from cutlayers.report.report import (
    REPORT,
    REPORT_TEXT,
    StockRow,
    setup_lines,
    stock_line,
    stock_row,
)
from cutlayers.telling.facts import finding_data
from cutlayers.telling.findings import Finding
from cutlayers.telling.lengths import Unit
from cutlayers.telling.words import lines_of

MANIFEST_CSV, MANIFEST_JSON = "manifest.csv", "manifest.json"
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a formula may begin with."""

TOLD = (MANIFEST_CSV, MANIFEST_JSON, REPORT, REPORT_TEXT, GUIDE)


@frozen
class KitReport:
    """A whole kit. `files` are names within the output folder."""

    title: str
    machine: str
    units_in_files: str
    rows: int
    pieces: int
    used_share: float
    minutes: float
    stocks: tuple[StockRow, ...]
    setup_sheets: tuple[SetupSheet, ...]
    findings: tuple[Finding, ...]
    files: tuple[str, ...] = field(default=())
    unit: Unit = "mm"


def kit_report(
    kit: Kit, machine: Machine, stocks: Sequence[Stock], made: Sequence[MadeSheet], title: str
) -> KitReport:
    """What was made of a kit."""
    count = Counter(sheet.stock for sheet in made)
    files = sorted([*(file for sheet in made for file in sheet.files), *TOLD])
    cards = tuple(_setup_sheet(stock, machine, made) for stock in stocks)
    found = [*kit.findings, *(finding for sheet in made for finding in sheet.findings)]
    return KitReport(
        title=title,
        machine=machine.title,
        units_in_files=units_in_files(machine),
        rows=len(kit.rows.rows),
        pieces=sum(len(sheet.pieces) for sheet in made),
        used_share=round(sum(sheet.used_share for sheet in made) / len(made), 4),
        minutes=round(sum(sheet.minutes for sheet in made), 1),
        stocks=tuple(stock_row(stock, count[stock.name]) for stock in stocks),
        setup_sheets=cards,
        findings=tuple(dict.fromkeys(found)),
        files=tuple(files),
        unit=kit.unit,
    )


def _setup_sheet(stock: Stock, machine: Machine, made: Sequence[MadeSheet]) -> SetupSheet:
    mine = [sheet for sheet in made if sheet.stock == stock.name]
    asked = {operation for sheet in mine for operation in sheet.operations}
    coupon = any(side.file.endswith(COUPON) for sheet in mine for side in sheet.sides)
    return setup_sheet(machine, stock, asked, coupon=coupon)


def kit_files(kit: Kit, made: Sequence[MadeSheet], report: KitReport) -> dict[str, bytes]:
    """The files that tell of a kit to people and to scripts, but for the page."""
    return {
        MANIFEST_CSV: manifest_csv(kit, made).encode(),
        MANIFEST_JSON: manifest_json(kit, made).encode(),
        REPORT: (
            json.dumps(kit_data(report), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
        ).encode(),
        REPORT_TEXT: kit_text(report).encode(),
    }


def manifest_csv(kit: Kit, made: Sequence[MadeSheet]) -> str:
    """A line for each piece in row order: the row's line and cells, its sheet and its place there.

    RFC 4180; lengths are mm. What would run as a formula is written as a text; manifest.json has
    it as it was.
    """
    text = io.StringIO()
    writer = csv.writer(text)
    head = ("piece", "sheet", "position", "x_mm", "y_mm", "turn_deg")
    writer.writerow(("line", *map(_as_text, kit.rows.columns), *head))
    lines = [(piece.row, sheet.number, piece) for sheet in made for piece in sheet.pieces]
    for row, number, piece in sorted(lines, key=lambda each: (*each[:2], each[2].position)):
        source = kit.rows.rows[row]
        cells = (source.cells[column] for column in kit.rows.columns)
        place = (number, piece.position, piece.x, piece.y, piece.turn_deg)
        writer.writerow((source.line, *map(_as_text, cells), _as_text(piece.piece), *place))
    return text.getvalue()


def _as_text(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula and runs: one that begins like a formula gets
    the apostrophe by which spreadsheets know a text. A number stays as it is.

    Source: OWASP, "CSV injection", for the marks a formula may begin with.
    """
    return f"'{cell}" if cell.startswith(FORMULA) and not _is_number(cell) else cell


def _is_number(cell: str) -> bool:
    return re.fullmatch(r"[+-]?\d+([.,]\d+)?", cell) is not None


def manifest_json(kit: Kit, made: Sequence[MadeSheet]) -> str:
    """The same for scripts: the rows, and each sheet with its files and pieces."""

    def piece_of(piece: Any) -> dict[str, Any]:
        fields = asdict(piece)
        del fields["row"]
        return {"line": kit.rows.rows[piece.row].line, **fields}

    content = {
        "rows": [{"line": row.line, "cells": dict(row.cells)} for row in kit.rows.rows],
        "sheets": [
            {
                "number": sheet.number,
                "stock": sheet.stock,
                "used_share": sheet.used_share,
                "minutes": sheet.minutes,
                "files": dict(sheet.files),
                "pieces": [piece_of(piece) for piece in sheet.pieces],
            }
            for sheet in made
        ],
    }
    return json.dumps(content, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def kit_data(report: KitReport) -> dict[str, Any]:
    """The report of a kit as JSON can hold it."""
    findings = [finding_data(finding, report.unit) for finding in report.findings]
    return {**asdict(report), "findings": findings}


def kit_text(report: KitReport) -> str:
    """The report for people."""
    lines = [
        report.title,
        f"for {report.machine}; lengths in the files are {report.units_in_files}",
        "",
        f"{report.rows} rows, {report.pieces} pieces; "
        f"{100 * report.used_share:.0f} % of the sheets used, about {report.minutes:.0f} minutes",
        *(stock_line(row) for row in report.stocks),
    ]
    lines += setup_lines(report.setup_sheets)
    if report.findings:
        lines += ["", *lines_of(report.findings, report.unit)]
    return "\n".join(lines) + "\n"
