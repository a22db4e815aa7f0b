"""Kerf: how wide a laser or wheel cuts.

Combs: a window is cut and divided by parallel cuts. Pushed to one side, the strips leave a gap
that is as wide as all the parallel cuts together: the window grows by half a kerf on both sides,
each strip shrinks by a whole one, so the gap is (cuts) × (kerf), the window's two ends counted.

Notches: a tongue 10 mm wide comes out a kerf narrower, a notch of 10 − 2κ mm a kerf wider; so it
goes in where κ is at most the kerf. Each notch is marked with its κ.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.strokes import Stroke
from cutlayers.geometry.transforms import Transform
from cutlayers.trials.layout import as_sheet, cut, drawn, heading, label
from cutlayers.trials.model import (
    Outcome,
    Part,
    Readings,
    ReadingSpec,
    Result,
    Setup,
    Trial,
    TrialSheet,
    cuts_by_width,
    cutting_tool,
)
from cutlayers.trials.refusing import misread, refuse_apart, unread, unsuited
from cutlayers.trials.statistics import WITHIN_STEP, least_squares

WINDOW, DEPTH, GAP = 100.0, 18.0, 11.0
STRIPS = {"A": 10, "B": 20, "C": 10}
"""Strips in each comb; C stands upright, to show whether both directions cut alike."""

CUTS = {name: strips + 1 for name, strips in STRIPS.items()}
TONGUE, TONGUE_LENGTH, NOTCH_DEPTH, WALL = 10.0, 24.0, 12.0, 1.6
STEP = 0.05
"""mm of kerf from one notch to the next."""
SCALE = 10
"""mm of scale drawn beside each gap."""

READING_ERROR = 0.1
"""mm; standard deviation of one gap read with a ruler or calliper, at the least."""

CREDIBLE = 0.6
"""mm; a gap that lies further off the others was misread, or a strip is missing."""

WIDEST = 2.0
"""mm; the widest kerf that a profile takes."""

FORMULA = (
    "kerf = sum(cuts × gap) / sum(cuts²), least squares of gap = cuts × kerf; interval by "
    "Student's t over the readings' spread"
)


def _notches(setup: Setup) -> tuple[float, ...]:
    """What the notches are marked with: half a millimetre of kerf, the present one among it."""
    lowest = max(0, round((cutting_tool(setup).kerf - 0.25) / STEP))
    return tuple(round(STEP * (lowest + index), 2) for index in range(11))


def _check(setup: Setup) -> None:
    tool = cutting_tool(setup)
    if not cuts_by_width(tool):
        raise unsuited(
            setup.machine,
            ("tools", tool.name, "type"),
            f'is "{tool.type}", which takes no width of card away',
            f"its trial is 'cutlayers trial offset {setup.options}'",
            found=tool.type.value,
        )


def sheet(setup: Setup) -> TrialSheet:
    """Three combs, and a tongue with notches."""
    _check(setup)
    machine = setup.machine
    tool = cutting_tool(setup)
    # The trial measures the kerf, so nothing is taken up for it.
    bare = replace(machine, tools={**machine.tools, tool.name: replace(tool, kerf=0.0)})
    width = WINDOW + GAP + DEPTH
    upright = Transform.translation(width, 8.0) @ Transform.rotation(90.0)
    strokes = (
        *heading(setup, "Kerf", width, WINDOW + 15.0),
        *_moved(_comb(setup, "A"), Transform.translation(0.0, 79.0)),
        *_moved(_comb(setup, "B"), Transform.translation(0.0, 43.0)),
        *_moved(_comb(setup, "C"), upright),
        *_moved(_tongue(setup), Transform.translation(0.0, -20.0)),
    )
    return as_sheet(setup, [Part(strokes, bare)])


def _moved(strokes: Iterable[Stroke], motion: Transform) -> list[Stroke]:
    return [stroke.transformed(motion) for stroke in strokes]


def _comb(setup: Setup, name: str) -> tuple[Stroke, ...]:
    """One comb with its name and scale, the window's lower left corner at the origin."""
    pitch = WINDOW / STRIPS[name]
    cuts = [
        cut(Path.line((pitch * i, 0.0), (pitch * i, DEPTH)), StrokePart.SLIT, f"comb {name}")
        for i in range(1, STRIPS[name])
    ]
    window = cut(Path.rectangle(WINDOW, DEPTH), StrokePart.SLIT, f"comb {name}")
    ticks = [
        Path.line((WINDOW - i, DEPTH + 1.5), (WINDOW - i, DEPTH + (4.5 if i % 5 == 0 else 3.0)))
        for i in range(SCALE + 1)
    ]
    text = f"{name}   {CUTS[name]} cuts"
    return (
        *cuts,
        window,
        *drawn(setup.machine, ticks, f"scale {name}"),
        *label(setup.machine, text, (0.0, DEPTH + 2.0)),
        *label(setup.machine, "mm", (WINDOW - SCALE - 1.5, DEPTH + 1.5), "end", 2.5),
    )


def _tongue(setup: Setup) -> tuple[Stroke, ...]:
    """A plate with a notch for each mark, and under it the tongue to try in them."""
    marks = _notches(setup)
    pitch = TONGUE + WALL
    width = pitch * len(marks) + WALL
    points = [(0.0, 0.0), (width, 0.0), (width, 22.0)]
    for index, mark in reversed(list(enumerate(marks))):
        middle, half = WALL + pitch * index + TONGUE / 2, (TONGUE - 2 * mark) / 2
        points += [
            (middle + half, 22.0),
            (middle + half, 22.0 - NOTCH_DEPTH),
            (middle - half, 22.0 - NOTCH_DEPTH),
            (middle - half, 22.0),
        ]
    points.append((0.0, 22.0))
    plate = cut(Path.polygon(points), StrokePart.SLIT, "notches")
    body = Path.rectangle(TONGUE, TONGUE_LENGTH, (0.0, 27.0))
    tongue = cut(body, StrokePart.SLIT, "tongue")
    texts = [
        stroke
        for index, mark in enumerate(marks)
        for stroke in label(
            setup.machine, f"{mark:.2f}", (WALL + pitch * index + TONGUE / 2, 4.0), "middle", 2.5
        )
    ]
    return (
        *texts,
        *label(setup.machine, "S   tongue for the notches", (TONGUE + 4.0, 37.0)),
        tongue,
        plate,
    )


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The gaps of the combs, and the tightest notch."""
    _check(setup)
    gaps = tuple(
        ReadingSpec(
            name,
            f"the gap of comb {name} ({CUTS[name]} cuts)",
            "mm",
            0.0,
            WIDEST * CUTS[name],
            needed=False,
            times=2,
        )
        for name in STRIPS
    )
    notch = ReadingSpec(
        "S",
        "the mark of the tightest notch that the tongue still slides into",
        "mm",
        0.0,
        WIDEST,
        rungs=tuple(round(STEP * index, 2) for index in range(round(WIDEST / STEP))),
        needed=False,
    )
    return (*gaps, notch)


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _check(setup)
    return (
        "Cut the sheet with the settings that you use for this card. The lines have no kerf taken "
        "up, so do not let the machine's program do that either.",
        "Leave the card lying flat. In comb A push all strips to the left until they touch; the "
        "gap that opens at the right end is as wide as all the cuts together. Read it, in tenths "
        "of a millimetre, on the scale above or with a calliper.",
        "Push the strips together again and read once more; then do the same with B and C (push "
        "C's strips down). Two readings of each make a good result.",
        "Try the tongue S in the notches, flat on the table, from the left. Note the mark of the "
        "last notch that it slides into without force.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The kerf by least squares; the notch agrees with it, or stands in for it."""
    _check(setup)
    gaps = [(name, gap) for name in STRIPS for gap in read.get(name, ())]
    marks = read.get("S", ())
    step = STEP
    if not gaps and not marks:
        raise unread("A", "read at least one of the gaps A, B, C, or the notch S")
    if gaps:
        fit = least_squares([[CUTS[name]] for name, _ in gaps], [g for _, g in gaps], READING_ERROR)
        (found,) = fit.estimates
        value, half, formula = found.value, found.half, FORMULA
        for (name, gap), off in zip(gaps, fit.residuals, strict=True):
            if abs(off) > CREDIBLE:
                raise misread(
                    name,
                    gap,
                    f"contradicts the others: {CUTS[name]} cuts of {value:.3f} mm leave "
                    f"{CUTS[name] * value:.2f} mm",
                    "read it again",
                )
        for mark in marks:
            if not mark - step - half <= value <= mark + 2 * step + half:
                raise misread(
                    "S",
                    mark,
                    f"contradicts the gaps: they make the kerf {value:.3f} mm, the notch says "
                    f"{mark:g} to {mark + step:g} mm",
                    "read both again",
                )
    else:
        value, half = math.fsum(marks) / len(marks) + step / 2, WITHIN_STEP * step
        refuse_apart("S", marks, step, 2, "try them again")
        half += (max(marks) - min(marks)) / 2
        formula = "the middle between the notch and the next; 95 % of that step to both sides"
    if value <= 0.0:
        name, read_as = (gaps or [("S", marks[0])])[0]
        advice = "were the strips pushed together?"
        raise misread(name, read_as, "makes no kerf", advice)
    if value > WIDEST:
        name, read_as = (gaps or [("S", marks[0])])[0]
        wide = f"makes a kerf of {value:.2f} mm, more than {WIDEST:g} mm"
        raise misread(name, read_as, wide, "read again")
    remarks = []
    if half > 0.1 * value and half > 0.02:
        remarks.append("the interval is wide; read each gap twice, and B above all")
    key = (
        ("materials", setup.material, "cut", "kerf")
        if setup.material
        else ("tools", cutting_tool(setup).name, "kerf")
    )
    return Outcome((Result(key, value, half, "mm", formula),), (), tuple(remarks))


TRIAL = Trial("kerf", "How wide the cut is", sheet, readings, steps, estimate)
