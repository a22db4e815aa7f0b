"""The files of a trial: for the machine, for the printer, and for the person who does it."""

from __future__ import annotations

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.machine import Machine, SvgSettings
from cutlayers.make import machine_files, sheet_picture
from cutlayers.materials import load_card, material_for, refuse_hazards, tuned
from cutlayers.stock import Stock
from cutlayers.strokes import Operation
from cutlayers.trials.instructions import instructions
from cutlayers.trials.layout import draw_sheet
from cutlayers.trials.model import Setup, Trial, TrialSheet

PRINT_DENSITY = 300
"""Pixels per inch of the picture to print."""


def set_up(machine: Machine, wanted: Setup, trial: Trial) -> Setup:
    """A setup with the material's own tools and the ladder spelled out.

    Raises JobError for a card that a laser must not meet, TrialError where the trial makes no
    sense.
    """
    from dataclasses import replace

    stock = _stock(wanted)
    refuse_hazards(machine, stock)
    choice = material_for(machine, stock)
    fit = tuned(machine, choice.material if choice.how == "named" else None)
    return trial.resolve(replace(wanted, machine=trial.bare(fit)))


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
    files[f"{trial.kind}.png"] = sheet_picture(picture)
    if sheet.printed:
        files |= _print_files(title, sheet)
    used = {stroke.operation for part in sheet.parts for stroke in part.strokes}
    load = load_card(machine, _stock(setup), [each for each in Operation if each in used])
    names = sorted(name for name in files if not name.endswith(".png"))
    page = instructions(trial, setup, picture, load, names)
    files["instructions.html"] = page.encode()
    return files


def _print_files(title: str, sheet: TrialSheet) -> dict[str, bytes]:
    """What is printed first, at true size, as SVG and as a picture."""
    from cutlayers.formats.png import write_png
    from cutlayers.formats.svg import write_svg

    paths = tuple(stroke.path for stroke in sheet.printed)
    layer = Layer("print", "to be printed", "#000000", 7, paths)
    svg = write_svg(Drawing(title, sheet.width, sheet.height, (layer,)), SvgSettings())
    width_px = round(sheet.width / 25.4 * PRINT_DENSITY)
    return {"print.svg": svg, "print.png": write_png(svg, width_px)}
