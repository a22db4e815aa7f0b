"""Register: how far the machine's work lands from what was printed.

Scales are printed, the card is laid into the machine by its register marks, and a cross is made
over the middle of each scale. Where the cross lies on the scale is the shift there. The shift of
the whole card is their mean; what is left is a turn and a change of size, which are told.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Point
from cutlayers.lettering.single_stroke import letter
from cutlayers.profile.machine import Machine
from cutlayers.sheets.register import register_marks
from cutlayers.telling.errors import TrialError
from cutlayers.telling.refusals import Refusal
from cutlayers.trials.layout import SPACE, as_sheet, drawn
from cutlayers.trials.model import (
    Outcome,
    Part,
    Readings,
    ReadingSpec,
    Result,
    Setup,
    Trial,
    TrialSheet,
)
from cutlayers.trials.refusing import misread, too_small, unread, unsuited
from cutlayers.trials.statistics import least_squares

NAMES = ("1", "2", "3", "4", "5")
REACH = 3.0
"""mm of scale to each side."""
FINE = 0.5
CROSS, OVER = 4.0, 7.5
"""Arms of the crosses: two are short, two run over their scales."""
MOST = 5.0
"""mm; more is no shift but another mark, or a card the wrong way up."""

READING_ERROR = 0.1
CREDIBLE = 0.8
"""mm a reading may lie off the others."""

MOST_SCALE = 0.01
"""A printer is off by half a hundredth at most; more is a print that was fitted to the page."""

FORMULA = (
    "mean over the places, a turn and a change of size taken out by least squares (a similarity "
    "of the plane for small angles); interval by Student's t over what is left"
)


def _sheet_size(setup: Setup) -> tuple[float, float]:
    bed = setup.machine.bed
    if setup.sheet is not None:
        return setup.sheet
    for size in ((210.0, 297.0), (148.0, 210.0), (210.0, 148.0)):
        if size[0] <= bed.width and size[1] <= bed.height:
            return size
    return bed.width, bed.height


def _places(setup: Setup) -> dict[str, Point]:
    """Four places towards the corners, well inside the marks, and one off the middle."""
    width, height = _sheet_size(setup)
    register = setup.machine.register
    inner = max(
        register.from_edge + register.size / 2 + register.keep_out + REACH + SPACE,
        setup.machine.bed.margin + REACH + 2 * SPACE,
    )
    if min(width, height) < 2 * inner + 30.0:
        raise too_small(
            width, height, "too small for five scales inside the marks", "take a larger card"
        )
    return {
        "1": (inner, inner),
        "2": (width - inner, inner),
        "3": (inner, height - inner),
        "4": (width - inner, height - inner),
        "5": (width / 2, height / 2),
    }


def _check(setup: Setup) -> None:
    if setup.machine.register.shape == "none":
        raise unsuited(
            setup.machine,
            ("register", "shape"),
            'is "none": there are no register marks to try',
            "choose a shape for them",
            found="none",
        )


def sheet(setup: Setup) -> TrialSheet:
    """Crosses for the machine; scales and register marks for the printer."""
    _check(setup)
    machine = setup.machine
    width, height = _sheet_size(setup)
    strokes: list[Stroke] = []
    printed: list[Stroke] = []
    for name, (x, y) in _places(setup).items():
        cross = [
            Path.line((x - OVER, y), (x + CROSS, y)),
            Path.line((x, y - OVER), (x, y + CROSS)),
        ]
        strokes += drawn(machine, cross, f"cross {name}")
        printed += [_ink(path, f"scale {name}") for path in _scale(name, x, y)]
    marks = register_marks(width, height, machine.register)
    printed += [_ink(path, "register mark") for mark in marks for path in mark.paths]
    # Laid out by hand: the marks are where they are in every job, so nothing is moved.
    as_sheet(setup, [Part(tuple(strokes), machine)])
    paths = tuple(path for mark in marks for path in mark.paths)
    return TrialSheet(width, height, (Part(tuple(strokes), machine),), tuple(printed), paths)


def _ink(path: Path, name: str) -> Stroke:
    return Stroke(Operation.DRAW, path, StrokePart.MARK, name)


def _scale(name: str, x: float, y: float) -> list[Path]:
    """Two graduated lines left of and under the cross, numbered in mm, and the place's name."""
    lines: list[Path] = []
    base = CROSS + 1.5
    count = round(REACH / FINE)
    for index in range(-count, count + 1):
        at = index * FINE
        long = 3.0 if index == 0 else 2.0 if index % 2 == 0 else 1.2
        lines.append(Path.line((x + at, y - base), (x + at, y - base - long)))
        lines.append(Path.line((x - base, y + at), (x - base - long, y + at)))
    lines += letter("-", 2.5, (x - REACH, y - base - 6.5), "middle")
    lines += letter("0", 2.5, (x, y - base - 6.5), "middle")
    lines += letter("+", 2.5, (x + REACH, y - base - 6.5), "middle")
    lines += letter("+", 2.5, (x - base - 5.5, y + REACH - 1.2), "middle")
    lines += letter("0", 2.5, (x - base - 5.5, y - 1.2), "middle")
    lines += letter("-", 2.5, (x - base - 5.5, y - REACH - 1.2), "middle")
    lines += letter(name, 5.0, (x + CROSS + 2.0, y + CROSS), "start")
    return lines


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """Two readings at each place."""
    _check(setup)
    return tuple(
        ReadingSpec(
            f"{axis}{name}",
            f"at {name}, where the {line} line of the cross meets the scale {side} ({more} is +)",
            "mm",
            -MOST,
            MOST,
            needed=False,
        )
        for name in NAMES
        for axis, line, side, more in (
            ("x", "upright", "below it", "right"),
            ("y", "level", "left of it", "up"),
        )
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _check(setup)
    apart = _sheet_size(setup)[0] - 2 * setup.machine.register.from_edge
    made = "drawn" if setup.tool(Operation.DRAW) else "cut"
    return (
        "Print print.pdf (or print.png) at 100 %, without 'fit to page', on the card. Measure "
        f"between the middles of the two lower register marks: it must be {apart:g} mm.",
        "Lay the card into the machine by its register marks, as you do for every printed job, and "
        f"run the machine's file: a cross is {made} over the middle of each scale.",
        "At each number read how far the upright line lies right (+) or left (−) of 0 on the scale "
        "below it, and the level line above (+) or under (−) 0 on the scale to its left, in tenths "
        "of a millimetre. The short ticks are half millimetres.",
        "Three places are enough for a value; all five make a good one.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The shift of the whole card by least squares, a turn and a change of size taken out."""
    _check(setup)
    places = _places(setup)
    whole = [name for name in NAMES if read.get(f"x{name}") and read.get(f"y{name}")]
    half = [name for name in NAMES if bool(read.get(f"x{name}")) != bool(read.get(f"y{name}"))]
    if half:
        lacking = next(f"{axis}{half[0]}" for axis in "xy" if not read.get(f"{axis}{half[0]}"))
        both = f"place {half[0]} needs both, x{half[0]}=… and y{half[0]}=…"
        raise unread(lacking, both)
    if len(whole) < 3:
        lacking = next(f"x{name}" for name in NAMES if name not in whole)
        advice = "read both scales at three places at least, such as x1=0.2 y1=-0.1 …"
        raise unread(lacking, advice)
    cx = math.fsum(places[name][0] for name in whole) / len(whole)
    cy = math.fsum(places[name][1] for name in whole) / len(whole)
    rows, values, names = [], [], list[str]()
    for name in whole:
        x, y = places[name][0] - cx, places[name][1] - cy
        for axis, row in (("x", [1.0, 0.0, -y, x]), ("y", [0.0, 1.0, x, y])):
            for value in read[f"{axis}{name}"]:
                rows.append(row)
                values.append(value)
                names.append(f"{axis}{name}")
    fit = least_squares(rows, values, READING_ERROR)
    shift_x, shift_y, turn, scale = fit.estimates
    worst = max(range(len(values)), key=lambda i: abs(fit.residuals[i]))
    if abs(fit.residuals[worst]) > CREDIBLE:
        off = f"lies {abs(fit.residuals[worst]):.1f} mm off what the other places say together"
        raise misread(names[worst], values[worst], off, "read it again")
    if abs(scale.value) > MOST_SCALE:
        raise TrialError(
            Refusal(
                reason=f"the work is {100 * scale.value:+.1f} % larger than the print",
                found=round(scale.value, 4),
                advice="print again at 100 %, without 'fit to page'",
            )
        )
    remarks = []
    if abs(turn.value) > turn.half:
        remarks.append(
            f"the work is also turned by {math.degrees(turn.value):+.2f}° "
            f"(± {math.degrees(turn.half):.2f}°): lay the card in straighter"
        )
    if abs(scale.value) > scale.half:
        remarks.append(
            f"the work is also {100 * scale.value:+.2f} % (± {100 * scale.half:.2f} %) larger than "
            "the print: see the trial squareness for the machine, and the printer's own size"
        )
    results = tuple(
        Result(("register", key), each.value, each.half, "mm", FORMULA, 2)
        for key, each in (("shift_x", shift_x), ("shift_y", shift_y))
    )
    return Outcome(results, (), tuple(remarks))


def bare(machine: Machine) -> Machine:
    """The machine without a shift beside its marks."""
    return replace(machine, register=replace(machine.register, shift_x=0.0, shift_y=0.0))


TRIAL = Trial(
    "register", "How far work lands from print", sheet, readings, steps, estimate, bare=bare
)
