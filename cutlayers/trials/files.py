"""The files of a trial: for the machine, for the printer, and for the person who does it."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import Stock
from cutlayers.making.files import machine_files, picture_file
from cutlayers.pictures.sheet import sheet_scene
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import material_for, refuse_hazards, tuned
from cutlayers.profile.setup_sheet import setup_sheet
from cutlayers.telling.colours import BLACK
from cutlayers.trials.instructions import instructions
from cutlayers.trials.layout import as_it_goes_in, draw_sheet
from cutlayers.trials.model import Setup, Trial, TrialSheet

PRINT_LINE = 0.2
"""mm; fine enough to read tenths against, broad enough for any printer."""


def set_up(machine: Machine, wanted: Setup, trial: Trial) -> Setup:
    """A setup with the material's own tools and the ladder spelled out, its card turned by a
    quarter where only that goes into the machine.

    Raises JobError for a card that a laser must not meet, TrialError where the trial makes no
    sense.
    """
    stock = _stock(wanted)
    refuse_hazards(machine, stock)
    choice = material_for(machine, stock)
    fit = tuned(machine, choice.material if choice.how == "named" else None)
    sheet = wanted.sheet and as_it_goes_in(wanted.sheet, machine.bed)
    return trial.resolve(replace(wanted, machine=trial.bare(fit), sheet=sheet))


def _stock(setup: Setup) -> Stock:
    """The card as a stock; its size and thickness play no part here."""
    return Stock(setup.material or "your card", 0.3, setup.sheet or (210.0, 297.0))


def trial_files(trial: Trial, setup: Setup) -> dict[str, bytes]:
    """All files of a trial, name → content; see `set_up` for the setup."""
    machine = setup.machine
    sheet = trial.sheet(setup)
    card = f"{machine.name}, {setup.material}" if setup.material else machine.name
    title = f"{trial.title}: {card}"
    drawing, picture = draw_sheet(title, sheet, machine)
    files = machine_files(trial.kind, drawing, machine)
    files[f"{trial.kind}.png"] = picture_file(sheet_scene(picture))
    if sheet.printed:
        files |= _print_files(title, sheet, machine)
    used = {stroke.operation for part in sheet.parts for stroke in part.strokes}
    load = setup_sheet(machine, _stock(setup), [each for each in Operation if each in used])
    if setup.material is None:
        load = replace(load, how="unasked")
    names = sorted(name for name in files if not name.endswith(".png"))
    page = instructions(trial, setup, picture, load, names)
    files["instructions.html"] = page.encode()
    return files


def _print_files(title: str, sheet: TrialSheet, machine: Machine) -> dict[str, bytes]:
    """What is printed first, as for a printed job: as PDF and PNG, the printer's scale taken up."""
    from cutlayers.artwork.ink import Contour, InkLayer, Paint
    from cutlayers.formats.pdf import PrintPage, write_pdf
    from cutlayers.formats.print_png import write_print_png
    from cutlayers.sheets.artwork import print_correction

    lines = tuple(Contour.of(stroke.path) for stroke in sheet.printed)
    paint = Paint(lines, stroke=BLACK, line_width=PRINT_LINE)
    layer = InkLayer("scales", "scales and register marks", (paint,))
    onto_print = print_correction(sheet.width, sheet.height, machine.printing)
    pdf = write_pdf(PrintPage(title, sheet.width, sheet.height, (layer,), (), onto_print))
    return {"print.pdf": pdf, "print.png": write_print_png(pdf, machine.printing.dpi)}
