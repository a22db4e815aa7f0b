"""`cutlayers align`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.align import BY_RULER, BY_SCAN
from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import (
    job_argument,
    json_option,
    overwrite_option,
    print_json,
    profile_option,
    read_inputs,
)
from cutlayers.cli.progress import laying_bar

if TYPE_CHECKING:
    from collections.abc import Callable

    from cutlayers import AlignedSheet, Job, Layout, Machine
    from cutlayers.align.fit import Model
    from cutlayers.align.match import Alignment
    from cutlayers.align.reliability import Reliability
    from cutlayers.geometry.transforms import Point
    from cutlayers.telling.lengths import Unit


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
@click.option(
    "--anyway",
    is_flag=True,
    help="Believe marks that stand as printers do not print them, and write lines that the "
    "machine does not get to.",
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
    anyway: bool,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Correct a printed sheet's cut files for where its register marks really are.

    Give each mark's place (--mark), measured by ruler or with the machine's pointer, or a scan of
    the sheet (--scan). Writes sheet-N-aligned files, their origin where yours was. A scale beyond
    0.7 %, or a distortion beyond 0.3 %, is taken for a mark that was misread, unless you say
    --anyway. Beside each figure stands how far cuts and scores would lie off if it were wrong.
    """
    from cutlayers import align_sheet, files_read, marks_in_scan, render_aligned, write
    from cutlayers.telling.findings import Severity
    from cutlayers.telling.words import lines_of

    if bool(marks) == bool(scan):
        raise click.UsageError("give either --mark for each mark, or --scan")
    job, machine = read_inputs(job_file, profile_name)
    layout = _laid(job_file, job, machine, number)
    if scan is None:
        found, page = _measured(marks, job.unit), None
    else:
        found, page = marks_in_scan(layout, number, scan, dpi)
    believed = limit or (BY_SCAN if scan else BY_RULER)
    there = align_sheet(layout, number, found, page, model=model, limit=believed, anyway=anyway)
    findings = there.findings
    if not anyway and any(each.severity is Severity.ERROR for each in findings):
        for line in (*lines_of(findings, job.unit), "nothing was written"):
            click.echo(line, err=True)
        click.get_current_context().exit(1)
    folder = output or Path(job_file.stem)
    files = render_aligned(there, machine)
    inputs = [*files_read(job_file, profile_name), *([scan] if scan else [])]
    write(files, folder, inputs=inputs, overwrite=overwrite, label=f"align sheet-{number}")
    if as_json:
        print_json(_as_values(there, sorted(files)))
        return
    click.echo(_as_text(there, job.unit))
    for line in lines_of(findings, job.unit):
        click.echo(line, err=True)
    click.echo(f"{', '.join(sorted(files))} in {folder}")


def _laid(job_file: Path, job: Job, machine: Machine, number: int) -> Layout:
    """The job laid out as `cutlayers make` lays it, with marks on its sheet of that number."""
    from cutlayers import lay_out
    from cutlayers.telling.errors import AlignError
    from cutlayers.telling.refusals import Refusal, Span

    with laying_bar(job) as bar:
        layout = lay_out(job, machine, progress=bar.update)
    sheets = layout.sheets
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
    if not sheets[number - 1].marks:
        raise AlignError(
            Refusal(
                reason="its sheets have no register marks",
                file=str(job_file),
                advice="choose a shape for them in the profile's [register]",
            )
        )
    return layout


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


def _as_text(aligned: AlignedSheet, unit: Unit) -> str:
    from cutlayers.telling.lengths import MM_PER
    from cutlayers.telling.tables import table

    def say(*millimetres: float) -> str:
        digits = 3 if unit == "in" else 2
        return ", ".join(f"{each / MM_PER[unit] + 0.0:.{digits}f}" for each in millimetres)

    def off(millimetres: float) -> str:
        return f"{say(millimetres)} {unit}"

    alignment, known = aligned.alignment, aligned.reliability
    fit = alignment.fit
    marks = [("mark", "printed at", "found at", "off by", "if misread, cuts and scores off by")]
    for (number, place), residual, wrong in zip(
        alignment.marks, fit.residuals, known.if_wrong, strict=True
    ):
        row = (
            str(number + 1),
            say(*aligned.printed[number]),
            say(*place),
            off(residual),
            off(wrong),
        )
        marks.append(row)
    figures = aligned.figures
    rows = [("print", "", "if not so, cuts and scores off by")]
    rows += [
        (name, f"{100 * (true + figure.value):.2f} %", off(figure.at_work))
        for name, true, figure in (
            ("scaled across", 1.0, figures.across),
            ("scaled up", 1.0, figures.up),
            ("larger across than up", 0.0, figures.unequal),
            ("sheared", 0.0, figures.shear),
        )
    ]
    rows.append(("turned", f"{fit.rotation_deg:.2f}°", ""))
    lines = [*table(marks, right=(1, 2, 3, 4)), "", *table(rows, right=(1, 2)), ""]
    lines.append(_spared(alignment, known, off))
    if alignment.left_out:
        names = ", ".join(str(number + 1) for number in alignment.left_out)
        lines.append(f"left out, since it does not fit the rest: mark {names}")
    return "\n".join(lines)


def _spared(alignment: Alignment, known: Reliability, off: Callable[[float], str]) -> str:
    """How well the readings check each other, and what follows where they do not."""
    taken = 2 * len(alignment.marks)
    spare = known.to_spare
    line = f"{taken} readings, of which {alignment.fit.model} takes {taken - spare}: "
    line += "none to spare" if not spare else f"{spare} to spare"
    unchecked = [
        f"the {axis} of mark {alignment.marks[index][0] + 1}" for index, axis in known.unchecked
    ]
    if not unchecked:
        return f"{line}, and each is checked by the others"
    return (
        f"{line}. Nothing checks {' and '.join(unchecked)}: where one is wrong by {off(1.0)}, cuts "
        f"and scores lie up to {off(known.unseen)} off. Measure a fourth mark, or these twice"
    )


def _as_values(aligned: AlignedSheet, files: list[str]) -> dict[str, object]:
    alignment = aligned.alignment
    fit, t = alignment.fit, alignment.fit.transform
    known, figures = aligned.reliability, aligned.figures
    rows = zip(alignment.marks, fit.residuals, known.if_wrong, known.redundancy, strict=True)
    return {
        "model": fit.model,
        "matrix": [[t.xx, t.xy, t.dx], [t.yx, t.yy, t.dy]],
        "scale_across": fit.scale_across,
        "scale_up": fit.scale_up,
        "rotation_deg": fit.rotation_deg,
        "shear_deg": fit.shear_deg,
        "at_work_mm": {
            "scale_across": figures.across.at_work,
            "scale_up": figures.up.at_work,
            "unequal_scale": figures.unequal.at_work,
            "shear": figures.shear.at_work,
            "unchecked_reading_of_1_mm": known.unseen,
        },
        "readings": 2 * len(alignment.marks),
        "readings_to_spare": known.to_spare,
        "marks": [
            {
                "mark": number + 1,
                "found": list(place),
                "residual_mm": residual,
                "at_work_mm": wrong,
                "redundancy": list(shares),
            }
            for (number, place), residual, wrong, shares in rows
        ],
        "left_out": [number + 1 for number in alignment.left_out],
        "files": files,
    }
