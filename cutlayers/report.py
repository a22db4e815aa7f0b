"""What was made, as plain values: a table for people and the same for scripts."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from math import fsum
from pathlib import Path

from cutlayers.findings import Finding
from cutlayers.formats.drawing import Drawing
from cutlayers.lengths import Unit, format_length
from cutlayers.machine import Machine, Method
from cutlayers.materials import HEAD, LoadCard
from cutlayers.sheets.model import Sheet
from cutlayers.stock import Stock
from cutlayers.strokes import Operation

REPORT = "report.json"


@dataclass(frozen=True, slots=True)
class LayerRow:
    """One layer of one sheet; `length` in mm, register marks have no tool."""

    layer: str
    title: str
    tool: str
    passes: int
    lines: int
    length: float
    colour: str


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One sheet as it lies on the bed, lengths in mm; `pieces` says how many of each lie on it."""

    number: int
    stock: str
    width: float
    height: float
    pieces: dict[str, int]
    layers: tuple[LayerRow, ...]


@dataclass(frozen=True, slots=True)
class Report:
    """A whole run. `files` are names within the output folder."""

    title: str
    unit: Unit
    machine: str
    units_in_files: str
    sheets: tuple[SheetRow, ...]
    by_hand: tuple[str, ...]
    load_cards: tuple[LoadCard, ...] = ()
    findings: tuple[Finding, ...] = ()
    files: tuple[str, ...] = ()


def sheet_row(sheet: Sheet, drawing: Drawing, machine: Machine) -> SheetRow:
    """Count what a sheet and its drawing hold."""
    plans = {plan.layer: plan for plan in machine.operations.values()}
    rows = []
    for layer in drawing.layers:
        plan = plans.get(layer.name)
        rows.append(
            LayerRow(
                layer=layer.name,
                title=layer.title,
                tool=(plan.tool or plan.method.value) if plan else "",
                passes=plan.passes if plan else 1,
                lines=len(layer.paths),
                length=round(fsum(path.length for path in layer.paths), 2),
                colour=layer.colour,
            )
        )
    pieces = Counter(placed.piece.name for placed in sheet.placed)
    return SheetRow(
        sheet.number, sheet.stock.name, sheet.width, sheet.height, dict(pieces), tuple(rows)
    )


def by_stock(sheets: Iterable[Sheet]) -> list[tuple[Stock, list[Sheet]]]:
    """The sheets of each stock, in the order in which the stocks first come."""
    grouped: dict[str, tuple[Stock, list[Sheet]]] = {}
    for sheet in sheets:
        grouped.setdefault(sheet.stock.name, (sheet.stock, []))[1].append(sheet)
    return list(grouped.values())


def by_hand(machine: Machine, sheets: Iterable[Sheet]) -> tuple[str, ...]:
    """The operations that have lines on these sheets but that the machine leaves to the hand."""
    wanted = {stroke.operation for sheet in sheets for stroke in sheet.strokes}
    return tuple(
        operation.value
        for operation in Operation
        if operation in wanted and machine.operations[operation].method is Method.BY_HAND
    )


def report_json(report: Report) -> str:
    """The report for scripts: sorted keys, lengths in mm."""
    return json.dumps(asdict(report), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def files_listed(path: Path) -> tuple[str, ...]:
    """The files that an earlier run's report names; none where there is no report to read."""
    try:
        files = json.loads(path.read_text(encoding="utf-8"))["files"]
    except (OSError, ValueError, KeyError, TypeError):
        return ()
    return tuple(name for name in files if isinstance(name, str))


def report_text(report: Report) -> str:
    """The report for people, lengths in the job's unit."""
    lines = [
        report.title,
        f"for {report.machine}; lengths in the files are {report.units_in_files}",
    ]
    for sheet in report.sheets:
        size = " × ".join(format_length(side, report.unit) for side in (sheet.width, sheet.height))
        pieces = ", ".join(f"{count} × {name}" for name, count in sheet.pieces.items())
        lines += ["", f"sheet {sheet.number}: {sheet.stock}, {size}", f"  {pieces}"]
        head = ("layer", "tool", "passes", "lines", "length", "colour")
        rows = [
            (
                row.layer,
                row.tool or "-",
                str(row.passes),
                str(row.lines),
                format_length(row.length, report.unit),
                row.colour,
            )
            for row in sheet.layers
        ]
        lines += [f"  {line}" for line in table([head, *rows], right=(2, 3, 4))]
    for card in report.load_cards:
        lines += ["", *load_card_lines(card)]
    if report.by_hand:
        lines += ["", f"left to be done by hand: {', '.join(report.by_hand)}"]
    if report.findings:
        lines += ["", *(str(finding) for finding in report.findings)]
    return "\n".join(lines) + "\n"


def load_card_lines(card: LoadCard) -> list[str]:
    """A load card for people."""
    lines = [f"load card for {card.stock}: {card.sentence}"]
    if card.steps:
        lines += [f"  {line}" for line in table([HEAD, *card.rows])]
    return [*lines, *(f"  {caution}" for caution in card.cautions)]


def table(rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """Rows of texts as aligned lines, the first row as the head; `right` columns align right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            text.rjust(width) if i in right else text.ljust(width)
            for i, (text, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
