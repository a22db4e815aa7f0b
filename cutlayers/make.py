"""The whole way from a job to its files, readable from top to bottom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutlayers.findings import Finding
from cutlayers.formats.drawing import Drawing
from cutlayers.layers import machine_drawing, one_layer_each, picture_drawing
from cutlayers.machine import Machine
from cutlayers.order import Job
from cutlayers.printing import plan_ink, print_files
from cutlayers.report import REPORT, Report, by_hand, report_json, report_text, sheet_row
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.toolpaths import plan_toolpaths

if TYPE_CHECKING:
    from cutlayers.sheets.artwork import SheetInk

PICTURE_WIDTH = 1200
"""Pixels; wide enough to read a legend, small enough to send to a friend."""

Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class WorkedSheet:
    """A sheet with the drawing for the machine and the one for people."""

    sheet: Sheet
    drawing: Drawing
    picture: Drawing
    ink: SheetInk | None = None
    """What is printed on it first, where any piece has art."""


@dataclass(frozen=True, slots=True)
class Work:
    """A job planned to the last line, nothing written yet."""

    sheets: tuple[WorkedSheet, ...]
    report: Report


def plan_job(job: Job, machine: Machine, progress: Progress = lambda _: None) -> Work:
    """Nets, pieces on sheets, toolpaths, drawings. `progress` is told 1 for each piece placed.

    Raises PlacementError for a piece that no sheet can hold.
    """
    sheets = place_pieces(pieces_of(job), machine, progress=progress)
    worked: list[WorkedSheet] = []
    inks, art_findings = plan_ink(job, sheets, machine)
    findings: list[Finding] = [*art_findings]
    for sheet in sheets:
        plan = plan_toolpaths(sheet.strokes, machine)
        findings.extend(plan.findings)
        title = f"{job.title}, sheet {sheet.number} of {len(sheets)}: {sheet.stock.name}"
        drawing = machine_drawing(title, sheet, plan, machine)
        picture = picture_drawing(drawing, sheet, machine)
        worked.append(WorkedSheet(sheet, drawing, picture, inks.get(sheet.number)))
    report = Report(
        title=job.title,
        unit=job.unit,
        machine=machine.title,
        units_in_files="mm"
        if machine.svg.units == "mm"
        else f"mm in DXF, px of 1/{machine.svg.pixels_per_inch} inch in SVG",
        sheets=tuple(sheet_row(each.sheet, each.drawing, machine) for each in worked),
        by_hand=by_hand(machine, sheets),
        findings=tuple(findings),
    )
    return Work(tuple(worked), report)


def render(work: Work, machine: Machine, progress: Progress = lambda _: None) -> dict[str, bytes]:
    """The files of a planned job, name → content; `progress` is told 1 for each sheet."""
    files: dict[str, bytes] = {}
    for each in work.sheets:
        stem = f"sheet-{each.sheet.number}"
        files |= machine_files(stem, each.drawing, machine)
        files[f"{stem}.png"] = _picture(each.picture)
        if each.ink is not None:
            files |= print_files(stem, each.drawing.title, each.sheet, each.ink, machine)
        progress(1)
    names = (*files, REPORT, "report.txt")
    report = replace(work.report, files=tuple(sorted(names)))
    files[REPORT] = report_json(report).encode()
    files["report.txt"] = report_text(report).encode()
    return files


def machine_files(stem: str, drawing: Drawing, machine: Machine) -> dict[str, bytes]:
    """The files that a machine gets of one drawing, name → content."""
    from cutlayers.formats.dxf import write_dxf
    from cutlayers.formats.svg import write_svg

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


def _picture(drawing: Drawing) -> bytes:
    from cutlayers.formats.picture import draw_picture
    from cutlayers.formats.png import write_png

    return write_png(draw_picture(drawing), PICTURE_WIDTH)
