"""Squareness: whether the machine's bed is square and true to scale.

Four crosses are made at the corners of a rectangle; its sides and diagonals are measured. With x
and y scales a and b and a skew s, a side of W becomes a·W, one of H becomes b·H, and the diagonals
become √((aW)² + (bH)² ± 2·aW·bH·sin s): the law of cosines.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Stroke
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import Correction
from cutlayers.trials.layout import SPACE, as_sheet, drawn, label
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
from cutlayers.trials.refusing import misread, too_small, unread
from cutlayers.trials.statistics import least_squares

CROSS = 5.0
READING_ERROR = 0.15
"""mm; standard deviation of one length read with a ruler, at the least."""

CREDIBLE = 1.0
"""mm a reading may lie off the others."""

MOST_OFF = 0.05
"""No bed is off by more; it is a slip of the ruler or another length."""

ROUNDS = 4
"""Steps of Newton's way; errors shrink by a hundred times and more with each."""

SIDES = {
    "bottom": "from cross 1 to cross 2",
    "top": "from cross 3 to cross 4",
    "left": "from cross 1 to cross 3",
    "right": "from cross 2 to cross 4",
    "rising": "from cross 1 to cross 4",
    "falling": "from cross 2 to cross 3",
}

FORMULA = (
    "least squares over all lengths, sides a·W and b·H, diagonals by the law of cosines (Gauss and "
    "Newton's method); interval by Student's t over what is left"
)


def _sheet_size(setup: Setup) -> tuple[float, float]:
    if setup.sheet is not None:
        return setup.sheet
    bed = setup.machine.bed
    for size in ((297.0, 420.0), (304.8, 304.8), (210.0, 297.0), (148.0, 210.0)):
        if size[0] <= bed.width and size[1] <= bed.height:
            return size
    return bed.width, bed.height


def _sides(setup: Setup) -> tuple[float, float]:
    """Width and height of the rectangle, whole centimetres, as large as the card allows."""
    width, height = _sheet_size(setup)
    edge = setup.machine.bed.margin + SPACE + CROSS
    sides = tuple(math.floor((side - 2 * edge) / 10.0) * 10.0 for side in (width, height))
    if min(sides) < 50.0:
        raise too_small(width, height, "too small to measure", "take a larger one")
    return sides[0], sides[1]


def sheet(setup: Setup) -> TrialSheet:
    """Four crosses with their numbers."""
    machine = setup.machine
    width, height = _sheet_size(setup)
    wide, high = _sides(setup)
    strokes: list[Stroke] = []
    for number, (x, y) in enumerate(((0.0, 0.0), (wide, 0.0), (0.0, high), (wide, high)), 1):
        cross = [
            Path.line((x - CROSS, y), (x + CROSS, y)),
            Path.line((x, y - CROSS), (x, y + CROSS)),
        ]
        strokes += drawn(machine, cross, f"cross {number}")
        inward = (x + 4.0 if x == 0.0 else x - 4.0, y + 4.0 if y == 0.0 else y - 9.0)
        strokes += label(machine, str(number), inward, "start" if x == 0.0 else "end", 5.0)
    title = f"Square {wide:g} × {high:g} mm"
    strokes += label(machine, title, (wide / 2, high / 2), "middle", 7.0)
    return as_sheet(replace(setup, sheet=(width, height)), [Part(tuple(strokes), machine)])


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """Two sides each way, two diagonals."""
    wide, high = _sides(setup)
    slant = math.hypot(wide, high)
    lengths = {"bottom": wide, "top": wide, "left": high, "right": high}
    return tuple(
        ReadingSpec(
            name,
            f"{where} (about {lengths.get(name, slant):.0f} mm)",
            "mm",
            lengths.get(name, slant) * (1 - MOST_OFF),
            lengths.get(name, slant) * (1 + MOST_OFF),
            needed=False,
            times=2,
        )
        for name, where in SIDES.items()
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    wide, high = _sides(setup)
    return (
        "Run the sheet: four small crosses with numbers, 1 and 2 below, 3 and 4 above. This file "
        "is written without any correction that the profile holds.",
        f"Measure between the middles of the crosses with a steel ruler, to a tenth or two of a "
        f"millimetre: the sides should be {wide:g} and {high:g} mm, both diagonals "
        f"{math.hypot(wide, high):.1f} mm.",
        "Measure all six lengths twice, turning the ruler round in between: single errors of a "
        "few tenths of a millimetre are larger than most beds'.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """Scales and skew by least squares."""
    wide, high = _sides(setup)
    given = [(name, value) for name in SIDES for value in read.get(name, ())]
    names = {name for name, _ in given}
    if not names & {"bottom", "top"} or not names & {"left", "right"}:
        lacking = "left" if names & {"bottom", "top"} else "bottom"
        advice = "read a side each way: bottom=… or top=…, and left=… or right=…"
        raise unread(lacking, advice)
    if not names >= {"rising", "falling"}:
        lacking = "falling" if "rising" in names else "rising"
        raise unread(lacking, "read both diagonals: rising=… and falling=…")
    a, b, sine = 1.0, 1.0, 0.0
    for _ in range(ROUNDS):
        rows = [_slopes(name, wide, high, a, b, sine) for name, _ in given]
        off = [value - _length(name, wide, high, a, b, sine) for name, value in given]
        fit = least_squares(rows, off, READING_ERROR)
        a, b, sine = (
            old + each.value for old, each in zip((a, b, sine), fit.estimates, strict=True)
        )
    worst = max(range(len(given)), key=lambda i: abs(fit.residuals[i]))
    if abs(fit.residuals[worst]) > CREDIBLE:
        name, value = given[worst]
        told = f"contradicts the other lengths by {abs(fit.residuals[worst]):.1f} mm: no bed, "
        raise misread(name, value, f"{told}however skew, makes these together", "measure it again")
    half_a, half_b, half_sine = (each.half for each in fit.estimates)
    skew = math.degrees(math.asin(sine))
    half_skew = math.degrees(half_sine) / math.cos(math.radians(skew))
    remarks = []
    if abs(a - 1) <= half_a and abs(b - 1) <= half_b and abs(skew) <= half_skew:
        remarks.append("no error that the ruler could tell from none; better leave apply = false")
    elif not setup.machine.correction.apply:
        remarks.append(
            "later files undo this once you say so: cutlayers profile set "
            f"{setup.profile} correction.apply true"
        )
    results = (
        Result(("correction", "x_scale"), a, half_a, "", FORMULA, 5),
        Result(("correction", "y_scale"), b, half_b, "", FORMULA, 5),
        Result(("correction", "skew_deg"), skew, half_skew, "°", FORMULA, 3),
    )
    return Outcome(results, (), tuple(remarks))


def _length(name: str, wide: float, high: float, a: float, b: float, sine: float) -> float:
    width, height = a * wide, b * high
    if name in ("bottom", "top"):
        return width
    if name in ("left", "right"):
        return height
    sign = 1.0 if name == "rising" else -1.0
    return math.sqrt(width**2 + height**2 + sign * 2 * width * height * sine)


def _slopes(name: str, wide: float, high: float, a: float, b: float, sine: float) -> list[float]:
    """How a length changes with the x scale, the y scale and the sine of the skew."""
    width, height = a * wide, b * high
    if name in ("bottom", "top"):
        return [wide, 0.0, 0.0]
    if name in ("left", "right"):
        return [0.0, high, 0.0]
    sign = 1.0 if name == "rising" else -1.0
    slant = _length(name, wide, high, a, b, sine)
    return [
        wide * (width + sign * height * sine) / slant,
        high * (height + sign * width * sine) / slant,
        sign * width * height / slant,
    ]


def bare(machine: Machine) -> Machine:
    """The machine without a correction of its movement."""
    return replace(machine, correction=Correction())


TRIAL = Trial(
    "squareness", "Whether the bed is square", sheet, readings, steps, estimate, bare=bare
)
