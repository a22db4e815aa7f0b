"""The whole way from a job to its files, readable from top to bottom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from cutlayers.findings import Finding
from cutlayers.formats.drawing import Drawing
from cutlayers.layers import corrected, machine_drawing, one_layer_each, picture_drawing
from cutlayers.machine import Machine
from cutlayers.materials import card_findings, load_card, material_for, refuse_hazards, tuned
from cutlayers.order import Job
from cutlayers.report import REPORT, Report, by_hand, by_stock, report_json, report_text, sheet_row
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.toolpaths import plan_toolpaths

PICTURE_WIDTH = 1200
"""Pixels; wide enough to read a legend, small enough to send to a friend."""

Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class WorkedSheet:
    """A sheet with the drawing for the machine and the one for people."""

    sheet: Sheet
    drawing: Drawing
    picture: Drawing


@dataclass(frozen=True, slots=True)
class Work:
    """A job planned to the last line, nothing written yet."""

    sheets: tuple[WorkedSheet, ...]
    report: Report


def plan_job(job: Job, machine: Machine, progress: Progress = lambda _: None) -> Work:
    """Nets, pieces on sheets, toolpaths, drawings. `progress` is told 1 for each piece placed.

    Raises PlacementError for a piece that no sheet can hold, JobError for stock that the
    machine must not touch.
    """
    for name in dict.fromkeys(order.stock for order in job.orders):
        refuse_hazards(machine, job.stocks[name])
    sheets = place_pieces(pieces_of(job), machine, progress=progress)
    worked: list[WorkedSheet] = []
    findings: list[Finding] = []
    for sheet in sheets:
        fit = tuned(machine, material_for(machine, sheet.stock).material)
        plan = plan_toolpaths(sheet.strokes, fit)
        findings.extend(plan.findings)
        title = f"{job.title}, sheet {sheet.number} of {len(sheets)}: {sheet.stock.name}"
        drawing = machine_drawing(title, sheet, plan, fit)
        worked.append(WorkedSheet(sheet, drawing, picture_drawing(drawing, sheet, fit)))
    cards = tuple(
        load_card(machine, stock, {s.operation for sheet in each for s in sheet.strokes})
        for stock, each in by_stock(sheets)
    )
    report = Report(
        title=job.title,
        unit=job.unit,
        machine=machine.title,
        units_in_files="mm"
        if machine.svg.units == "mm"
        else f"mm in DXF, px of 1/{machine.svg.pixels_per_inch} inch in SVG",
        sheets=tuple(sheet_row(each.sheet, each.drawing, machine) for each in worked),
        by_hand=by_hand(machine, sheets),
        load_cards=cards,
        findings=(*card_findings(cards), *findings),
    )
    return Work(tuple(worked), report)


def render(work: Work, machine: Machine, progress: Progress = lambda _: None) -> dict[str, bytes]:
    """The files of a planned job, name → content; `progress` is told 1 for each sheet."""
    files: dict[str, bytes] = {}
    for each in work.sheets:
        stem = f"sheet-{each.sheet.number}"
        files |= machine_files(stem, each.drawing, machine)
        files[f"{stem}.png"] = picture_file(each.picture)
        progress(1)
    names = (*files, REPORT, "report.txt")
    report = replace(work.report, files=tuple(sorted(names)))
    files[REPORT] = report_json(report).encode()
    files["report.txt"] = report_text(report).encode()
    return files


def machine_files(stem: str, drawing: Drawing, machine: Machine) -> dict[str, bytes]:
    """The files of one drawing that the profile asks for, name → content, corrected as it says."""
    from cutlayers.formats.dxf import write_dxf
    from cutlayers.formats.svg import write_svg

    drawing = corrected(drawing, machine)
    parts = {stem: drawing}
    if machine.files.split == "operations":
        parts = {f"{stem}-{name}": part for name, part in one_layer_each(drawing).items()}
    # An R12 file cannot say its unit, so its name does.
    unit = "-mm" if machine.dxf.version == "R12" else ""
    files: dict[str, bytes] = {}
    for name, part in parts.items():
        if "dxf" in machine.files.formats:
            files[f"{name}{unit}.dxf"] = write_dxf(part, machine.dxf)
        if "svg" in machine.files.formats:
            files[f"{name}.svg"] = write_svg(part, machine.svg)
    return files


def picture_file(drawing: Drawing) -> bytes:
    """A drawing for people, as PNG."""
    from cutlayers.formats.picture import draw_picture
    from cutlayers.formats.png import write_png

    return write_png(draw_picture(drawing), PICTURE_WIDTH)
