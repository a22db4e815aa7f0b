"""The whole way from a job to its files, readable from top to bottom."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing
from cutlayers.geometry.strokes import Operation
from cutlayers.job.order import Job
from cutlayers.making.layers import corrected, machine_drawing, one_layer_each, picture_drawing
from cutlayers.making.printing import plan_ink, print_files
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import (
    card_findings,
    load_card,
    material_for,
    refuse_hazards,
    tuned,
)
from cutlayers.report.report import (
    REPORT,
    Report,
    SheetRow,
    by_stock,
    report_json,
    report_text,
    sheet_row,
    stock_rows,
)
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.colours import WHITE
from cutlayers.telling.findings import Finding, Severity
from cutlayers.toolpaths import load_table, plan_back, plan_toolpaths, turned_over
from cutlayers.writing.names import file_names

if TYPE_CHECKING:  # a job without art does not load it
    from cutlayers.pictures.folded import DrawnView
    from cutlayers.sheets.artwork import SheetInk

PICTURE_WIDTH = 1200
"""Pixels; wide enough to read a legend, small enough to send to a friend."""

GUIDE = "guide.html"

SET = "make"
"""What the files of a job are noted as in the folder that they are written to."""

Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a sheet: its drawing for the machine, the one for people, and its table."""

    name: str
    drawing: Drawing
    picture: Drawing
    row: SheetRow


@dataclass(frozen=True, slots=True)
class Work:
    """A job planned to the last line, nothing written yet. The report names no files so far."""

    job: Job
    checked: Mapping[str, tuple[Finding, ...]]
    """What is wrong with each box, by the order's name."""
    sheets: tuple[Sheet, ...]
    sides: tuple[Side, ...]
    inks: Mapping[int, SheetInk]
    """What is printed first, by the sheet's number, where a sheet has art."""
    report: Report

    @property
    def works(self) -> bool:
        """Whether no finding is an error."""
        return all(each.severity is not Severity.ERROR for each in self.report.findings)


def plan_job(job: Job, machine: Machine, progress: Progress = lambda _: None) -> Work:
    """Nets folded up and checked, pieces on sheets, toolpaths, drawings.

    `progress` is told how many more pieces are placed. Raises PlacementError for a piece that no
    sheet can hold, JobError for stock that the machine must not touch.
    """
    from cutlayers.checks.job import check_boxes, check_lying, told

    for name in dict.fromkeys(name for order in job.orders for name in order.stocks):
        refuse_hazards(machine, job.stocks[name])
    placing = place_pieces(pieces_of(job), machine, job.sheets, progress)
    sheets = placing.sheets
    inks, about_art = plan_ink(job, sheets, machine)
    checked = check_boxes(job)
    sides: list[Side] = []
    findings: list[Finding] = [*placing.findings, *told(checked), *check_lying(sheets), *about_art]
    for sheet in sheets:
        title = f"{job.title}, sheet {sheet.number} of {len(sheets)}: {sheet.stock.name}"
        worked, found = sides_of(f"sheet-{sheet.number}", title, sheet, machine)
        sides.extend(worked)
        findings.extend(found)
    cards = tuple(
        load_card(machine, stock, {stroke.operation for sheet in each for stroke in sheet.strokes})
        for stock, each in by_stock(sheets)
    )
    report = Report(
        title=job.title,
        unit=job.unit,
        machine=machine.title,
        units_in_files=units_in_files(machine),
        sheets=tuple(side.row for side in sides),
        load_cards=cards,
        stocks=stock_rows(sheets),
        findings=tuple(dict.fromkeys([*card_findings(cards), *findings])),
    )
    return Work(job, checked, sheets, tuple(sides), inks, report)


def render(work: Work, machine: Machine, progress: Progress = lambda _: None) -> dict[str, bytes]:
    """The files of a planned job, name → content; `progress` is told 1 for each side."""
    from cutlayers.guide.sheet import job_sheet
    from cutlayers.pictures.folded import draw_usual

    files: dict[str, bytes] = {}
    for side in work.sides:
        files |= side_files(side, machine)
        progress(1)
    for sheet in work.sheets:
        if sheet.number in work.inks:
            ink = work.inks[sheet.number]
            files |= print_files(f"sheet-{sheet.number}", work.report.title, sheet, ink, machine)
    views = {order.name: draw_usual(order.box) for order in work.job.orders}
    names = file_names(views)
    for name, drawn in views.items():
        files[f"folded-{names[name]}.png"] = _folded_picture(name, drawn)
    files[GUIDE] = job_sheet(work.job, machine, work.report, checked=work.checked, views=views)
    report = replace(work.report, files=tuple(sorted((*files, REPORT, "report.txt"))))
    files[REPORT] = report_json(report).encode()
    files["report.txt"] = report_text(report).encode()
    return files


def side_files(side: Side, machine: Machine) -> dict[str, bytes]:
    """The files of one side, name → content: those for the machine and the picture."""
    files = machine_files(side.name, side.drawing, machine)
    return {**files, f"{side.name}.png": sheet_picture(side.picture)}


def sides_of(
    name: str, title: str, sheet: Sheet, machine: Machine
) -> tuple[list[Side], list[Finding]]:
    """The sides of a sheet in the order in which they are worked, and what was found.

    `name` is the stem of the front's files, `title` what is written on its picture.
    """
    material = material_for(machine, sheet.stock).material
    machine = tuned(machine, material)
    marks = [path for mark in sheet.marks for path in mark.paths]
    front = plan_toolpaths(sheet.strokes, machine)
    sides = [(name, title, front, marks)]
    back = plan_back(sheet.strokes, machine, sheet.width, sheet.height)
    if back is not None:
        mirror = turned_over(
            machine.operations[Operation.SCORE].scoring.turn, sheet.width, sheet.height
        )
        mirrored = [path.transformed(mirror) for path in marks]
        sides.insert(0, (f"{name}-back", f"{title}, back, worked first", back, mirrored))
    worked = []
    for file, heading, plan, side_marks in sides:
        drawing = machine_drawing(heading, sheet, plan, side_marks, machine)
        load = load_table(plan, machine, material.name if material else None)
        row = sheet_row(file, sheet, plan, drawing, load)
        worked.append(Side(file, drawing, picture_drawing(drawing, plan, machine), row))
    return worked, [finding for _, _, plan, _ in sides for finding in plan.findings]


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


def sheet_picture(drawing: Drawing) -> bytes:
    """A sheet for people, as PNG."""
    from cutlayers.pictures.png import write_png
    from cutlayers.pictures.sheet import sheet_scene

    return write_png(sheet_scene(drawing), PICTURE_WIDTH)


def _folded_picture(name: str, views: Sequence[DrawnView]) -> bytes:
    from cutlayers.pictures.folded import views_scene
    from cutlayers.pictures.png import write_png

    return write_png(views_scene(name, views, ground=WHITE), PICTURE_WIDTH)


def units_in_files(machine: Machine) -> str:
    """In which unit the numbers in the files are, in words."""
    if machine.svg.units == "mm":
        return "mm"
    return f"mm in DXF, px of 1/{machine.svg.pixels_per_inch} inch in SVG"
