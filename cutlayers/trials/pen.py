"""Pen: how wide its line is, and the smallest letters that can be read.

Blocks are hatched with lines further and further apart: a block is solid as long as the lines
are no further apart than they are wide, so the line is at least as wide as the last solid block's
number and less than the next one's.
"""

from __future__ import annotations

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.lettering.single_stroke import text_width
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.trials.layout import as_sheet, drawn, heading, label
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
from cutlayers.trials.refusing import refuse_apart, unread, unsuited
from cutlayers.trials.statistics import rung_mean

STEP = 0.1
SPACINGS = tuple(round(0.2 + STEP * index, 2) for index in range(12))
HEIGHTS = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0)
"""Cap heights; the nominal sizes of ISO 3098-1."""

BLOCK, PITCH, COLUMNS = 12.0, 17.0, 6
SAMPLE = "Soap bars 1289"

FORMULA = (
    "half a step above the mean of the last solid blocks; interval by Student's t over their "
    "spread, never less than the step leaves"
)


def _pen(setup: Setup) -> Tool:
    tool = setup.tool(Operation.DRAW)
    if tool is None or tool.type is not ToolType.PEN:
        raise unsuited(
            setup.machine,
            ("operations", "draw", "tool"),
            "is no pen: the machine does not draw with a pen",
            "name a tool of type pen there",
            found="" if tool is None else tool.name,
        )
    return tool


def sheet(setup: Setup) -> TrialSheet:
    """Two rows of hatched blocks over lines of lettering."""
    _pen(setup)
    machine = setup.machine
    width = PITCH * COLUMNS - (PITCH - BLOCK)
    letters = sum(2.2 * height for height in HEIGHTS)
    strokes = [*heading(setup, "Pen", width, letters + 2 * 21.0 + 14.0)]
    strokes += label(machine, "solid: the last block without paper", (0.0, letters + 46.0))
    for index, spacing in enumerate(SPACINGS):
        row, column = divmod(index, COLUMNS)
        x, y = PITCH * column, letters + 2.0 + 21.0 * (1 - row) + 7.0
        strokes += drawn(machine, _hatch(x, y, spacing), f"block {spacing:g}")
        strokes += label(machine, f"{spacing:.1f}", (x + BLOCK / 2, y - 5.5), "middle")
    y = letters
    for height in HEIGHTS:
        y -= 2.2 * height
        strokes += label(machine, f"{height:g}", (0.0, y))
        text = SAMPLE
        while text_width(text, height) > width - 14.0:
            text = text[:-1]
        strokes += label(machine, text, (14.0, y), cap=height)
    return as_sheet(setup, [Part(tuple(strokes), machine)])


def _hatch(x: float, y: float, spacing: float) -> list[Path]:
    """A block of parallel lines drawn in one go, to and fro."""
    count = round(BLOCK / spacing)
    points = []
    for index in range(count + 1):
        ends = [(x, y + index * spacing), (x + BLOCK, y + index * spacing)]
        points += ends if index % 2 == 0 else ends[::-1]
    return [Path.polyline(points)]


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The last solid block, the smallest letters."""
    _pen(setup)
    return (
        ReadingSpec(
            "solid",
            "the largest number whose block is solid, without paper showing between its lines",
            "mm",
            SPACINGS[0],
            SPACINGS[-1],
            rungs=SPACINGS,
            needed=False,
            times=3,
        ),
        ReadingSpec(
            "letters",
            "the smallest number whose letters you read easily at arm's length",
            "mm",
            HEIGHTS[0],
            HEIGHTS[-1],
            rungs=HEIGHTS,
            needed=False,
        ),
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _pen(setup)
    return (
        "Draw the sheet on the card and with the pen that you use, and let the ink dry.",
        "The blocks are hatched wider and wider. Note the number of the last one that is solid.",
        "Note the number of the smallest letters that you read easily at arm's length.",
        "Draw it three times, or let three people look, and give every reading.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The width of the line, and the letters that everybody could read."""
    tool = _pen(setup)
    solid, letters = read.get("solid", ()), read.get("letters", ())
    if not solid and not letters:
        advice = "read the last solid block, solid=…, or the smallest letters, letters=…"
        raise unread("solid", advice)
    results = []
    if solid:
        refuse_apart("solid", solid, STEP, 3, "look again")
        found = rung_mean(solid, STEP)
        key = ("tools", tool.name, "line_width")
        results.append(Result(key, found.value + STEP / 2, found.half, "mm", FORMULA, 2))
    if letters:
        key = ("tools", tool.name, "smallest_letters")
        results.append(Result(key, max(letters), None, "mm", "the largest of the readings"))
    return Outcome(tuple(results))


TRIAL = Trial("pen", "What the pen draws", sheet, readings, steps, estimate)
