"""A sheet that was printed, worked out anew for where its register marks really are."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cutlayers.align import BY_RULER
from cutlayers.align.correct import corrected_sheet, work_of
from cutlayers.align.find import find_marks
from cutlayers.align.fit import Model
from cutlayers.align.match import Alignment, align
from cutlayers.align.reliability import Figures, Reliability
from cutlayers.align.scan import LARGEST_MEGABYTES, read_scan
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.making.files import machine_files
from cutlayers.making.sides import LaidSide, draw_side, lay_sides, plan_side
from cutlayers.making.stages import Layout
from cutlayers.profile.machine import Machine
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.sheets.register import INK_WIDTH
from cutlayers.telling.errors import AlignError
from cutlayers.telling.findings import Finding
from cutlayers.telling.refusals import in_unit, within


@frozen
class AlignedSheet:
    """A sheet as it lies on the machine. `printed` are all its marks as they were to be printed,
    `work` the outermost points of its lines, all in mm; `sides` are worked out, in no order yet."""

    alignment: Alignment
    printed: tuple[Point, ...]
    work: tuple[Point, ...]
    sides: tuple[LaidSide, ...]

    @property
    def figures(self) -> Figures:
        """How the print differs from true size."""
        return self.alignment.figures(self.printed, self.work)

    @property
    def reliability(self) -> Reliability:
        """How well the marks that were found check each other."""
        return self.alignment.reliability(self.printed, self.work)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is to be said against its lines where they lie now."""
        return tuple(finding for side in self.sides for finding in side.worked.findings)


def align_sheet(
    layout: Layout,
    number: int,
    found: Sequence[Point],
    page: tuple[float, float] | None = None,
    *,
    model: Model = "axes",
    limit: float = BY_RULER,
    anyway: bool = False,
) -> AlignedSheet:
    """The sheet of that number, from 1, moved to where its register marks were `found`: their
    middles in mm from its lower left corner, y up, in any order.

    `page` is the width and height in mm of what they were measured on, the sheet's own if it is not
    given. `model` says how a print may differ: "similarity" (moved, turned, scaled), "axes" (scaled
    differently across and up) or "affine" (sheared as well); `limit` is the largest residual in mm
    that is believed. Raises AlignError where the marks cannot be those of the sheet, or unless they
    are to be believed `anyway`, where they stand as no printer prints them.
    """
    sheet = layout.sheets[number - 1]
    printed, work = tuple(mark.centre for mark in sheet.marks), tuple(work_of(sheet))
    try:
        alignment = align(printed, found, model, limit, work, anyway=anyway)
    except AlignError as error:
        raise AlignError(*in_unit(layout.job.unit, error.refusals)) from None
    there = corrected_sheet(sheet, alignment, page or (sheet.width, sheet.height))
    title = f"{layout.job.title}, sheet {number}, aligned: {sheet.stock.name}"
    sides = lay_sides(f"sheet-{number}-aligned", title, there, layout.machine, unit=layout.job.unit)
    return AlignedSheet(alignment, printed, work, sides)


def marks_in_scan(
    layout: Layout, number: int, scan: Path, dpi: float | None = None
) -> tuple[list[Point], tuple[float, float]]:
    """The middles of a sheet's register marks in a flatbed scan (PNG or JPEG) of it, as
    `align_sheet` takes them, and the scan's width and height, all in mm.

    `dpi` overrules what the file says. Raises AlignError, naming the file, for one that is no such
    picture, or in which fewer than three marks are found.
    """
    marks, register = layout.sheets[number - 1].marks, layout.machine.register
    try:
        content = read_user_file(scan, LARGEST_MEGABYTES)
    except ValueRefused as refused:
        raise AlignError(refused.refusal.within(str(scan))) from None
    unit = layout.job.unit
    try:
        picture = read_scan(content, str(scan), dpi)
    except AlignError as error:
        raise AlignError(*in_unit(unit, error.refusals)) from None
    try:
        found = find_marks(picture, marks, register.shape == "dot", INK_WIDTH)
    except AlignError as error:
        raise AlignError(*within(str(scan), error.refusals)) from None
    return [place for _, place in found], (picture.width, picture.height)


def render_aligned(aligned: AlignedSheet, machine: Machine) -> dict[str, bytes]:
    """The files of an aligned sheet for the machine, name → content."""
    files: dict[str, bytes] = {}
    for side in map(draw_side, map(plan_side, aligned.sides)):
        files |= machine_files(side.name, side.drawing, machine)
    return files
