"""`cutlayers align`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import (
    files_read,
    job_argument,
    json_option,
    overwrite_option,
    print_json,
    profile_option,
    read_inputs,
)
from cutlayers.cli.progress import laying_bar

if TYPE_CHECKING:
    from cutlayers.align.fit import Model
    from cutlayers.align.match import Alignment
    from cutlayers.geometry.transforms import Point
    from cutlayers.job.order import Job
    from cutlayers.profile.machine import Machine
    from cutlayers.sheets.model import Sheet
    from cutlayers.telling.lengths import Unit

BY_RULER, BY_SCAN = 0.5, 0.1
"""mm; residuals that are believed by default: how well a ruler is read, and a scan."""


@click.command()
@job_argument
@profile_option
@click.option(
    "--sheet",
    "number",
    type=click.IntRange(min=1),
    default=1,
    show_default=True,
    metavar="N",
    help="Which sheet of the job lies on the machine.",
)
@click.option(
    "--mark",
    "marks",
    multiple=True,
    metavar="X,Y",
    help="Where a register mark's middle really is, from the lower left corner; once for each "
    "mark, in any order. Lengths as in the job file.",
)
@click.option(
    "--scan",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="A flatbed scan (PNG or JPEG) of the printed sheet, to find the marks in.",
)
@click.option("--dpi", type=float, metavar="N", help="Of the scan, where its file does not say.")
@click.option(
    "--model",
    type=click.Choice(["similarity", "axes", "affine"]),
    default="axes",
    show_default=True,
    help="similarity: moved, turned, scaled; axes: scaled differently across and up; "
    "affine: sheared as well.",
)
@click.option(
    "--limit",
    type=click.FloatRange(0.01, 5.0),
    metavar="MM",
    help=f"Largest residual at a mark that is believed; {BY_RULER:g} by ruler, {BY_SCAN:g} by "
    "scan if not given.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Where the files go; by default a folder with the job's name, where you are.",
)
@overwrite_option
@json_option
def align(
    job_file: Path,
    profile_name: str | None,
    number: int,
    marks: tuple[str, ...],
    scan: Path | None,
    dpi: float | None,
    model: Model,
    limit: float | None,
    output: Path | None,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Correct a printed sheet's cut files for where its register marks really are.

    Give each mark's place (--mark), measured by ruler or with the machine's pointer, or a scan of
    the sheet (--scan). Writes sheet-N-aligned files, their origin where yours was.
    """
    from cutlayers.align.correct import corrected_sheet, off_page
    from cutlayers.align.match import align as align_marks
    from cutlayers.making.files import machine_files
    from cutlayers.making.sides import draw_side, lay_sides, plan_side
    from cutlayers.telling.words import lines_of
    from cutlayers.writing.sets import Leave, write_set

    if bool(marks) == bool(scan):
        raise click.UsageError("give either --mark for each mark, or --scan")
    job, machine = read_inputs(job_file, profile_name)
    sheet = _laid(job_file, job, machine, number)
    if scan is None:
        found, page = _measured(marks, job.unit), (sheet.width, sheet.height)
    else:
        found, page = _scanned(scan, dpi, sheet, machine)
    nominal = [mark.centre for mark in sheet.marks]
    alignment = align_marks(nominal, found, model, limit or (BY_SCAN if scan else BY_RULER))
    there = corrected_sheet(sheet, alignment, page)
    title = f"{job.title}, sheet {number}, aligned: {sheet.stock.name}"
    sides = lay_sides(f"sheet-{number}-aligned", title, there, machine)
    findings = [finding for side in sides for finding in side.worked.findings]
    findings += off_page(there)
    folder = output or Path(job_file.stem)
    files: dict[str, bytes] = {}
    for side in map(draw_side, map(plan_side, sides)):
        files |= machine_files(side.name, side.drawing, machine)
    inputs = [*files_read(job_file, profile_name), *([scan] if scan else [])]
    write_set(folder, files, f"align sheet-{number}", Leave(inputs, overwrite))
    if as_json:
        print_json(_as_values(alignment, sorted(files)))
        return
    click.echo(_as_text(alignment, nominal))
    for line in lines_of(findings, job.unit):
        click.echo(line, err=True)
    click.echo(f"{', '.join(sorted(files))} in {folder}")


def _laid(job_file: Path, job: Job, machine: Machine, number: int) -> Sheet:
    """The sheet of that number, laid out as `cutlayers make` lays it."""
    from cutlayers import lay_out
    from cutlayers.telling.errors import AlignError
    from cutlayers.telling.refusals import Refusal, Span

    with laying_bar(job) as bar:
        sheets = lay_out(job, machine, progress=bar.update).sheets
    if number > len(sheets):
        many = "1 sheet" if len(sheets) == 1 else f"{len(sheets)} sheets"
        raise AlignError(
            Refusal(
                ("--sheet",),
                f"is {number}, but the job has {many}",
                "value",
                file=str(job_file),
                found=number,
                allowed=Span(1, len(sheets)),
            )
        )
    sheet = sheets[number - 1]
    if not sheet.marks:
        raise AlignError(
            Refusal(
                reason="its sheets have no register marks",
                file=str(job_file),
                advice="choose a shape for them in the profile's [register]",
            )
        )
    return sheet


def _measured(marks: tuple[str, ...], unit: Unit) -> list[Point]:
    from cutlayers.telling.errors import LengthError
    from cutlayers.telling.lengths import parse_length
    from cutlayers.telling.refusals import Refusal
    from cutlayers.telling.written import shown

    found = []
    for text in marks:
        parts = text.split(",")
        if len(parts) != 2:
            allowed = "two lengths such as 12.1,11.8"
            raise RefusedUsage(Refusal(("--mark",), fault="value", found=text, allowed=allowed))
        try:
            x, y = (parse_length(part, unit) for part in parts)
        except LengthError as error:
            reason = f"is {shown(text)}: {error}"
            raise RefusedUsage(Refusal(("--mark",), reason, "value", found=text)) from None
        found.append((x, y))
    return found


def _scanned(
    path: Path, dpi: float | None, sheet: Sheet, machine: Machine
) -> tuple[list[Point], tuple[float, float]]:
    from cutlayers.align.find import find_marks
    from cutlayers.align.scan import LARGEST_MEGABYTES, read_scan
    from cutlayers.reading.user_files import read_user_file
    from cutlayers.reading.values import ValueRefused
    from cutlayers.sheets.register import INK_WIDTH
    from cutlayers.telling.errors import AlignError
    from cutlayers.telling.refusals import within

    try:
        content = read_user_file(path, LARGEST_MEGABYTES)
    except ValueRefused as refused:
        raise AlignError(refused.refusal.within(str(path))) from None
    scan = read_scan(content, str(path), dpi)
    try:
        marks = find_marks(scan, sheet.marks, machine.register.shape == "dot", INK_WIDTH)
    except AlignError as error:
        raise AlignError(*within(str(path), error.refusals)) from None
    return [place for _, place in marks], (scan.width, scan.height)


def _as_text(alignment: Alignment, nominal: list[Point]) -> str:
    from cutlayers.report.report import table

    fit = alignment.fit
    rows = [("mark", "printed at", "found at", "residual")]
    for (number, (x, y)), residual in zip(alignment.marks, fit.residuals, strict=True):
        ideal = nominal[number]
        rows.append(
            (
                str(number + 1),
                f"{ideal[0]:.2f}, {ideal[1]:.2f}",
                f"{x:.2f}, {y:.2f}",
                f"{residual:.3f} mm",
            )
        )
    lines = table(rows, right=(1, 2, 3))
    lines += [
        "",
        f"{fit.model}: scaled {fit.scale_across:.4f} across and {fit.scale_up:.4f} up, turned "
        f"{fit.rotation_deg:.3f}°, sheared {fit.shear_deg:.3f}°",
    ]
    if alignment.left_out:
        names = ", ".join(str(number + 1) for number in alignment.left_out)
        lines.append(f"left out, since it does not fit the rest: mark {names}")
    return "\n".join(lines)


def _as_values(alignment: Alignment, files: list[str]) -> dict[str, object]:
    fit, t = alignment.fit, alignment.fit.transform
    return {
        "model": fit.model,
        "matrix": [[t.xx, t.xy, t.dx], [t.yx, t.yy, t.dy]],
        "scale_across": fit.scale_across,
        "scale_up": fit.scale_up,
        "rotation_deg": fit.rotation_deg,
        "shear_deg": fit.shear_deg,
        "marks": [
            {"mark": number + 1, "found": list(place), "residual_mm": residual}
            for (number, place), residual in zip(alignment.marks, fit.residuals, strict=True)
        ],
        "left_out": [number + 1 for number in alignment.left_out],
        "files": files,
    }
