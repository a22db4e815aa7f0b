"""Offset and overcut of a drag blade.

Stars: the same star, cut for one blade offset after the other. With an offset that is too small
its tips come out round and its inner corners run over; with one too large the tips get ears.

Squares: cut with one overcut after the other. Too short, and a corner holds the square.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Transform
from cutlayers.profile.machine import Machine, Tool, ToolType
from cutlayers.trials.ladder import step_of
from cutlayers.trials.layout import as_sheet, cut, heading, label
from cutlayers.trials.model import (
    Outcome,
    Part,
    Readings,
    ReadingSpec,
    Result,
    Setup,
    Trial,
    TrialSheet,
    cutting_tool,
)
from cutlayers.trials.refusing import refuse_apart, unread, unsuited
from cutlayers.trials.statistics import rung_mean

RUNGS, OFFSET_STEP, OVERCUT_STEP = 9, 0.05, 0.1
PITCH, ROW = 20.0, 25.0
STARS = 62.0
"""mm; where the rows of stars begin, over the squares."""
OUTER, INNER, POINTS = 8.0, 3.4, 6
SQUARE = 9.0
COLUMNS = 5

OFFSET_FORMULA = (
    "mean of the best stars' offsets; interval by Student's t over their spread, and never less "
    "than the ladder's step leaves"
)


def _blade(setup: Setup) -> Tool:
    tool = cutting_tool(setup)
    if tool.type is not ToolType.DRAG_BLADE:
        raise unsuited(
            setup.machine,
            ("tools", tool.name, "type"),
            f'is "{tool.type}", which does not trail',
            f"its trial is 'cutlayers trial kerf {setup.options}'",
            found=tool.type.value,
        )
    if tool.swivel == "machine":
        raise unsuited(
            setup.machine,
            ("tools", tool.name, "swivel"),
            'is "machine": it is swung by the machine itself',
            "set its offset there, as the machine's manual says",
            found=tool.swivel,
        )
    return tool


def _offsets(setup: Setup) -> tuple[float, ...]:
    """Ten offsets in steps of a twentieth of a millimetre, the present one among them."""
    lowest = max(1, round(_blade(setup).offset / OFFSET_STEP) - RUNGS // 2)
    return tuple(round((lowest + i) * OFFSET_STEP, 3) for i in range(RUNGS + 1))


def _overcuts() -> tuple[float, ...]:
    return tuple(round(i * OVERCUT_STEP, 3) for i in range(RUNGS + 1))


def sheet(setup: Setup) -> TrialSheet:
    """Two rows of stars over two rows of squares, each with its value."""
    tool, machine = _blade(setup), setup.machine
    width = COLUMNS * PITCH
    parts = [
        Part(heading(setup, "Blade offset", width, STARS + 2 * ROW + 12.0), machine),
        Part(label(machine, "offset: the sharpest star", (0.0, STARS + 2 * ROW + 2.0)), machine),
        Part(label(machine, "overcut: the first free square", (0.0, 2 * ROW - 1.0)), machine),
    ]
    for index, value in enumerate(_offsets(setup)):
        x, y = _cell(index, STARS)
        star = cut(_star().transformed(Transform.translation(x, y)), StrokePart.SLIT, "star")
        parts.append(_number(setup, value, x, y - OUTER - 5.0))
        parts.append(Part((star,), _with(machine, replace(tool, offset=value))))
    for index, value in enumerate(_overcuts()):
        x, y = _cell(index, 0.0)
        square = Path.rectangle(SQUARE, SQUARE, (x - SQUARE / 2, y - SQUARE / 2))
        parts.append(_number(setup, value, x, y - SQUARE / 2 - 5.0))
        shape = cut(square, StrokePart.SLIT, "square")
        parts.append(Part((shape,), _with(machine, replace(tool, overcut=value))))
    return as_sheet(setup, parts)


def _cell(index: int, base: float) -> tuple[float, float]:
    """The middle of a shape, in two rows."""
    row, column = divmod(index, COLUMNS)
    return PITCH * (column + 0.5), base + ROW * (1.5 - row)


def _number(setup: Setup, value: float, x: float, y: float) -> Part:
    return Part(label(setup.machine, f"{value:.2f}", (x, y), "middle", 3.0), setup.machine)


def _with(machine: Machine, tool: Tool) -> Machine:
    return replace(machine, tools={**machine.tools, tool.name: tool})


def _star() -> Path:
    """Six tips of about 46° and six inner corners, about the origin."""
    points = []
    for index in range(2 * POINTS):
        angle = math.pi / 2 + index * math.pi / POINTS
        radius = INNER if index % 2 else OUTER
        points.append((radius * math.cos(angle), radius * math.sin(angle)))
    return Path.polygon(points)


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The best star and the first free square."""
    _blade(setup)
    offsets = tuple(round(i * OFFSET_STEP, 3) for i in range(round(2.0 / OFFSET_STEP) + 1))
    return (
        ReadingSpec(
            "offset",
            "the number of the star with the sharpest tips and corners",
            "mm",
            offsets[0],
            offsets[-1],
            rungs=offsets,
            needed=False,
            times=3,
        ),
        ReadingSpec(
            "overcut",
            "the smallest number whose square comes out without a thread holding it",
            "mm",
            0.0,
            _overcuts()[-1],
            rungs=_overcuts(),
            needed=False,
            times=3,
        ),
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _blade(setup)
    return (
        "Cut the sheet with the settings that you use for this card, the blade out by half to one "
        "thickness more than the card. Each star is cut for another blade offset and needs no "
        "setting of its own; if the machine's program has a blade offset as well, set it to 0.",
        "Lift the stars out and look at their tips and inner corners, best with a magnifying "
        "glass. Tips that are round ask for more offset, tips with little ears for less. Note the "
        "number under the sharpest star.",
        "Lift the card: the squares that have enough overcut fall out or come with a touch. Note "
        "the smallest number whose square does.",
        "One look may err by a step. Cut the sheet three times, or let two other people look, and "
        "give every reading.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The mean of the best offsets; the largest of the overcuts that were enough."""
    tool = _blade(setup)
    offsets, overcuts = read.get("offset", ()), read.get("overcut", ())
    if not offsets and not overcuts:
        advice = "read the best star, offset=…, or the first free square, overcut=…"
        raise unread("offset", advice)
    results, remarks = [], []
    for name, values, step in (
        ("offset", offsets, OFFSET_STEP),
        ("overcut", overcuts, OVERCUT_STEP),
    ):
        refuse_apart(name, values, step, 4, "look again")
    if offsets:
        rungs = _offsets(setup)
        found = rung_mean(offsets, step_of(rungs))
        key = ("tools", tool.name, "offset")
        results.append(Result(key, found.value, found.half, "mm", OFFSET_FORMULA))
        if min(offsets) == rungs[0] > 0.0 or max(offsets) == rungs[-1]:
            remarks.append("the best star is at the ladder's end; run the trial again after this")
    if overcuts:
        found = rung_mean(overcuts, OVERCUT_STEP)
        key = ("tools", tool.name, "overcut")
        text = "the largest of the smallest overcuts that were enough"
        results.append(Result(key, max(overcuts), found.half, "mm", text))
    return Outcome(tuple(results), (), tuple(remarks))


TRIAL = Trial("offset", "How far the blade trails", sheet, readings, steps, estimate)
