"""The print side of a job: ink for the sheets that have art, and their files."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.job.order import Job, PrintChoice
from cutlayers.making.layers import stroke_layers
from cutlayers.profile.machine import Machine
from cutlayers.sheets.model import Sheet
from cutlayers.telling.findings import Finding

if TYPE_CHECKING:  # a job without art loads neither areas nor PDF
    from cutlayers.formats.pdf import PrintPage, ProcessStep
    from cutlayers.sheets.artwork import SheetInk


@frozen
class PrintedSheet:
    """What is printed first of one sheet. `name` is the stem of its files, `dpi` dots per inch."""

    name: str
    page: PrintPage
    dpi: int


STEPS: Mapping[Operation, ProcessStep] = {
    Operation.CUT: "Cutting",
    Operation.SCORE: "Creasing",
    Operation.PERFORATE: "Perforating",
}
"""ISO 19593-1 has no type for drawing with a pen."""

PRINT = "-print"
"""What the names of files to print end in."""


def is_printed(job: Job) -> bool:
    """Whether any box has art, or facings, which mostly are."""
    return any(order.art or order.facings for order in job.orders)


def plan_ink(
    job: Job,
    sheets: Sequence[Sheet],
    machine: Machine,
    progress: Callable[[int], None] = lambda _: None,
) -> tuple[dict[int, SheetInk], tuple[Finding, ...]]:
    """The ink of each sheet that has art, by the sheet's number, and what to know about it and
    about facings. Where a job is printed, `progress` is told 1 for each order, and how many more
    pieces have their ink."""
    if not is_printed(job):
        return {}, ()
    from cutlayers.sheets.art_findings import art_findings

    inks: dict[int, SheetInk] = {}
    findings = [*art_findings(job, machine, progress)]
    for sheet in sheets:
        ink, found = sheet_ink(sheet, machine, job.printing)
        findings.extend(found)
        if ink is not None:
            inks[sheet.number] = ink
        progress(len(sheet.placed) * sheet.copies)
    return inks, tuple(findings)


def sheet_ink(
    sheet: Sheet, machine: Machine, choice: PrintChoice
) -> tuple[SheetInk | None, tuple[Finding, ...]]:
    """The ink of one sheet, None where no piece on it has art, and what to know about it."""
    if not any(placed.piece.art for placed in sheet.placed):
        return None, ()
    from cutlayers.sheets.artwork import ink_sheet

    return ink_sheet(sheet, machine, choice)


def print_page(title: str, sheet: Sheet, ink: SheetInk, machine: Machine) -> PrintPage:
    """A sheet's ink with the lines to be worked, as the PDF writer takes it.

    The lines are those of the pieces, before any tool's width is taken up: they are what a
    person or a printer's program expects to see.
    """
    from cutlayers.formats.pdf import PrintPage, WorkLayer

    work = tuple(
        WorkLayer(layer, STEPS.get(operation))
        for operation, layer in stroke_layers(sheet.strokes, machine)
    )
    return PrintPage(title, sheet.width, sheet.height, ink.layers, work, ink.onto_print)


def printed_sheet(
    name: str, title: str, sheet: Sheet, ink: SheetInk, machine: Machine
) -> PrintedSheet:
    """A sheet as it is printed; `name` is the stem of its files, `title` the job's."""
    heading = f"{title}, sheet {sheet.number}: {sheet.stock.name}"
    return PrintedSheet(name, print_page(heading, sheet, ink, machine), ink.dpi)


def print_files(printed: PrintedSheet) -> dict[str, bytes]:
    """The PDF and the PNG to print, name → content."""
    from cutlayers.formats.pdf import write_pdf
    from cutlayers.formats.print_png import write_print_png

    pdf = write_pdf(printed.page)
    png = write_print_png(pdf, printed.dpi)
    return {f"{printed.name}{PRINT}.pdf": pdf, f"{printed.name}{PRINT}.png": png}
