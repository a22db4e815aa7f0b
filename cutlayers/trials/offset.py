"""Who leads a drag blade round its corners, and its offset and overcut.

Corners: the same large star twice, as bare lines and led round its corners by the file. A machine
that leads the blade by itself makes the first one sharp and swings the second one's corners twice;
one that follows every line as it is makes the second one sharp and rounds the first one's tips.

Stars, where the file leads: the same star, cut for one blade offset after the other. With an offset
that is too small its tips come out round and its inner corners run over; with one too large the
tips get ears.

Squares: cut with one overcut after the other. Too short, and a corner holds the square.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.profile.driving import leading
from cutlayers.profile.editing import Key, Value
from cutlayers.profile.machine import Machine
from cutlayers.profile.tools import Tool, ToolType
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
from cutlayers.trials.refusing import misread, refuse_apart, unread, unsuited
from cutlayers.trials.statistics import rung_mean

BARE, LED = 1.0, 2.0
"""The numbers of the large stars: as bare lines, and led round its corners by the file."""

USUAL_OFFSET = 0.25
"""mm; of many small blades, where the profile says 0. Common practice, no source."""

RUNGS, OFFSET_STEP, OVERCUT_STEP = 9, 0.05, 0.1
PITCH, ROW = 20.0, 25.0
STARS = 62.0
"""mm; where the rows of stars begin, over the squares."""
CORNERS = STARS + 2 * ROW + 12.0
"""mm; where the row of large stars begins, over the others."""
OUTER, INNER, POINTS = 8.0, 3.4, 6
LARGE = 1.5
"""How much larger the stars are that tell who leads."""
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
    return tool


def _led(tool: Tool) -> Tool:
    """The blade as the file leads it round its corners."""
    return replace(tool, swivel="path", offset=tool.offset or USUAL_OFFSET)


def _offsets(setup: Setup) -> tuple[float, ...]:
    """Ten offsets in steps of a twentieth of a millimetre, the present one among them."""
    lowest = max(1, round(_blade(setup).offset / OFFSET_STEP) - RUNGS // 2)
    return tuple(round((lowest + i) * OFFSET_STEP, 3) for i in range(RUNGS + 1))


def _overcuts() -> tuple[float, ...]:
    return tuple(round(i * OVERCUT_STEP, 3) for i in range(RUNGS + 1))


def sheet(setup: Setup) -> TrialSheet:
    """The two large stars over the rows of small ones, where the file leads, and of squares; each
    with its value."""
    tool, machine = _blade(setup), setup.machine
    width = COLUMNS * PITCH
    base = CORNERS if tool.swivel == "path" else STARS
    large = LARGE * OUTER
    parts = [
        Part(heading(setup, "Blade", width, base + 2 * large + 22.0), machine),
        Part(label(machine, "corners: the sharp star", (0.0, base + 2 * large + 12.0)), machine),
        Part(label(machine, "overcut: the first free square", (0.0, 2 * ROW - 1.0)), machine),
    ]
    for number, led in ((BARE, replace(tool, swivel="machine")), (LED, _led(tool))):
        x, y = width * (number - 0.5) / 2, base + large + 8.0
        parts.append(_number(setup, f"{number:g}", x, y - large - 6.0))
        parts.append(_star(machine, led, x, y, LARGE, "corners"))
    if tool.swivel == "path":
        text = "offset: the sharpest star"
        parts.append(Part(label(machine, text, (0.0, STARS + 2 * ROW + 2.0)), machine))
        for index, value in enumerate(_offsets(setup)):
            x, y = _cell(index, STARS)
            parts.append(_number(setup, f"{value:.2f}", x, y - OUTER - 5.0))
            parts.append(_star(machine, replace(tool, offset=value), x, y, 1.0, "star"))
    for index, value in enumerate(_overcuts()):
        x, y = _cell(index, 0.0)
        square = Path.rectangle(SQUARE, SQUARE, (x - SQUARE / 2, y - SQUARE / 2))
        parts.append(_number(setup, f"{value:.2f}", x, y - SQUARE / 2 - 5.0))
        shape = cut(square, StrokePart.SLIT, "square")
        parts.append(Part((shape,), _with(machine, replace(tool, overcut=value))))
    return as_sheet(setup, parts)


def _cell(index: int, base: float) -> tuple[float, float]:
    """The middle of a shape, in two rows."""
    row, column = divmod(index, COLUMNS)
    return PITCH * (column + 0.5), base + ROW * (1.5 - row)


def _number(setup: Setup, text: str, x: float, y: float) -> Part:
    return Part(label(setup.machine, text, (x, y), "middle", 3.0), setup.machine)


def _with(machine: Machine, tool: Tool) -> Machine:
    return replace(machine, tools={**machine.tools, tool.name: tool})


def _star(machine: Machine, tool: Tool, x: float, y: float, size: float, name: str) -> Part:
    """Six tips of about 46° and six inner corners, about (x, y)."""
    points = []
    for index in range(2 * POINTS):
        angle = math.pi / 2 + index * math.pi / POINTS
        radius = size * (INNER if index % 2 else OUTER)
        points.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
    return Part((cut(Path.polygon(points), StrokePart.SLIT, name),), _with(machine, tool))


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The sharp one of the large stars, the best small one, and the first free square."""
    tool = _blade(setup)
    offsets = tuple(round(i * OFFSET_STEP, 3) for i in range(round(2.0 / OFFSET_STEP) + 1))
    corners = ReadingSpec(
        "corners",
        "the number of the large star whose tips and inner corners are sharp",
        "",
        BARE,
        LED,
        rungs=(BARE, LED),
        needed=False,
    )
    offset = ReadingSpec(
        "offset",
        "the number of the small star with the sharpest tips and corners",
        "mm",
        offsets[0],
        offsets[-1],
        rungs=offsets,
        needed=False,
        times=3,
    )
    overcut = ReadingSpec(
        "overcut",
        "the smallest number whose square comes out without a thread holding it",
        "mm",
        0.0,
        _overcuts()[-1],
        rungs=_overcuts(),
        needed=False,
        times=3,
    )
    return (corners, offset, overcut) if tool.swivel == "path" else (corners, overcut)


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    tool = _blade(setup)
    follows = (
        "then note corners only: this sheet has told all it can, and the next has the stars that "
        "find the offset"
    )
    if tool.swivel == "path":
        follows = "then go on with the small stars"
    return (
        "Set the machine's program as is said above, as far as it lets you, and as you mean to "
        "keep it for every job. Cut the sheet with the settings that you use for this card, "
        "the blade out by half to one thickness more than the card.",
        "Lift out the two large stars and look at their tips and inner corners, best with a "
        "magnifying glass. Star 1 is cut by its bare lines. If it is sharp and star 2 has little "
        "hooks or ears at its corners, the machine leads the blade round them by itself: note "
        "corners=1, and find the blade's offset by the machine's own setting.",
        "Star 2 is led round its corners by the file. If it is sharp and star 1 has round tips and "
        f"crooked sides, the file has to lead: note corners=2, {follows}. If neither is sharp, the "
        "blade is blunt or its offset far off.",
        *(
            (
                "Each small star is cut for another blade offset and needs no setting of its own. "
                "Tips that are round ask for more offset, tips with little ears for less. Note "
                "the number under the sharpest star.",
            )
            if tool.swivel == "path"
            else ()
        ),
        "Lift the card: the squares that have enough overcut fall out or come with a touch. Note "
        "the smallest number whose square does.",
        "One look may err by a step. Cut the sheet three times, or let two other people look, and "
        "give every reading.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """Who leads; the mean of the best offsets; the largest of the overcuts that were enough."""
    tool = _blade(setup)
    corners = read.get("corners", ())
    offsets, overcuts = read.get("offset", ()), read.get("overcut", ())
    if not (corners or offsets or overcuts):
        advice = "read which large star is sharp, corners=…, the best small one, offset=…, or the "
        raise unread("corners", f"{advice}first free square, overcut=…")
    if len(set(corners)) > 1:
        raise misread("corners", corners[-1], "contradicts the one before", "look again")
    by_machine = corners[0] == BARE if corners else tool.swivel == "machine"
    if offsets and by_machine:
        reason = "says nothing where the machine leads the blade round its corners by itself"
        raise misread(
            "offset", offsets[0], reason, "leave it out, and find it by the machine's own setting"
        )
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
    more: list[tuple[Key, Value]] = []
    if corners:
        leads = replace(tool, swivel="machine") if by_machine else _led(tool)
        more.append((("tools", tool.name, "swivel"), leads.swivel))
        if offsets:
            leads = replace(leads, offset=results[0].rounded)
        elif leads.offset != tool.offset:
            more.append((("tools", tool.name, "offset"), leads.offset))
        remarks.append(leading(leads))
        if tool.swivel == "machine" and not by_machine:
            remarks.append("run the trial again: its sheet now has the stars that find the offset")
    return Outcome(tuple(results), tuple(more), tuple(remarks))


TRIAL = Trial(
    "offset", "Who leads the blade, and how far it trails", sheet, readings, steps, estimate
)
