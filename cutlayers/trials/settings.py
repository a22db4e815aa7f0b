"""Settings: which one cuts clean. A ladder of the same small shape, a layer for each rung."""

from __future__ import annotations

import math

from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Transform
from cutlayers.trials.ladder import dial_of, resolved, setting_rungs, step_of
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
)
from cutlayers.trials.refusing import misread, refuse_apart, unread
from cutlayers.trials.statistics import Estimate, rung_mean

STEPS = 8
COLUMNS = 4
PITCH, ROW = 30.0, 36.0
SIZE = 22.0

FORMULA = (
    "cutting begins half a step below the mean of the first clean rungs, harm half a step above "
    "the mean of the last good ones; interval by Student's t over the spread, never less than the "
    "step leaves"
)


def _rungs(setup: Setup) -> tuple[str, tuple[float, ...]]:
    return setting_rungs(setup, Operation.CUT, STEPS)


def sheet(setup: Setup) -> TrialSheet:
    """The shapes in rows, each on a layer with the number of its rung."""
    name, rungs = _rungs(setup)
    machine = setup.machine
    rows = math.ceil(len(rungs) / COLUMNS)
    width = PITCH * min(COLUMNS, len(rungs)) - (PITCH - SIZE)
    parts = [Part(heading(setup, f"Cut: {name}", width, rows * ROW + 3.0), machine)]
    for index, value in enumerate(rungs):
        row, column = divmod(index, COLUMNS)
        x, y = PITCH * column, ROW * (rows - 1 - row)
        text = f"{index + 1}: {value:g}"
        parts.append(Part(label(machine, text, (x + SIZE / 2, y), "middle"), machine))
        move = Transform.translation(x, y + 6.0)
        shapes = tuple(stroke.transformed(move) for stroke in _shape())
        parts.append(Part(shapes, machine, index + 1, f"{name} {value:g}"))
    return as_sheet(setup, parts)


def _shape() -> tuple[Stroke, ...]:
    """A tile with a round corner, a sharp one, a hole and a narrow slot: what tears first."""
    square = ((0.0, 0.0), (SIZE, 0.0), (SIZE, SIZE), (0.0, SIZE))
    hole = Path.circle((7.0, 14.0), 2.5).reversed()
    slot = Path.rectangle(10.0, 2.0, (8.0, 5.0)).reversed()
    wedge = Path.polygon(((13.0, 11.0), (16.0, 19.0), (19.0, 11.0))).reversed()
    return (
        cut(hole, StrokePart.OPENING, "hole"),
        cut(slot, StrokePart.OPENING, "slot"),
        cut(_anticlockwise(wedge), StrokePart.OPENING, "wedge"),
        cut(rounded(square, (0.0, 6.0, 0.0, 2.0)), StrokePart.OUTLINE, "tile"),
    )


def _anticlockwise(path: Path) -> Path:
    """An opening runs clockwise."""
    return path if path.area < 0 else path.reversed()


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The first rung that is clean, and the last before harm."""
    name, rungs = _rungs(setup)
    return (
        ReadingSpec(
            "first",
            f"the lowest {name} whose tile and all its openings come out clean",
            "",
            rungs[0],
            rungs[-1],
            rungs=rungs,
            times=3,
        ),
        ReadingSpec(
            "last",
            f"the highest {name} that does no harm: no torn corners, no scorched edge, no deep "
            "marks in the mat",
            "",
            rungs[0],
            rungs[-1],
            rungs=rungs,
            needed=False,
            times=3,
        ),
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    name, rungs = _rungs(setup)
    layer = setup.machine.operations[Operation.CUT].layer
    list_ = ", ".join(f"{layer}-{i + 1} = {value:g}" for i, value in enumerate(rungs))
    return (
        f"Every tile is a layer (and a colour) of its own. In the machine's program set {name} for "
        f"each: {list_}. Leave all other settings as you use them.",
        "Cut, lift the card carefully, and see which tiles and openings come out by themselves.",
        "Note the number after the colon of the first tile that is clean in all its openings, and "
        "of the last one that shows no harm.",
        "Card differs from sheet to sheet: do it on three, and give every reading.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The middle between where cutting begins and where harm does, on the card in hand."""
    name, rungs = _rungs(setup)
    dial = dial_of(setup, Operation.CUT, STEPS)
    step = step_of(rungs)
    firsts, lasts = read.get("first", ()), read.get("last", ())
    if not firsts:
        raise unread("first", "read the first clean tile, first=…")
    for what, values in (("first", firsts), ("last", lasts)):
        refuse_apart(what, values, step, 3, "another card, or a worn blade?")
    if lasts and min(lasts) < max(firsts) - 1e-9:
        raise misread(
            "last",
            min(lasts),
            f"is below first, {max(firsts):g}: no {name} both cuts and does no harm",
            "change the blade, its length or the speed, and try again",
        )
    begins = rung_mean(firsts, step)
    if lasts:
        ends = rung_mean(lasts, step)
        value = (begins.value + ends.value) / 2
        found = Estimate(value, math.hypot(begins.half, ends.half) / 2)
        formula = f"the middle of the window; {FORMULA}"
    else:
        # Where cutting begins, and as much more as that is uncertain, up to where the dial stops.
        enough = begins.value - step / 2 + begins.half
        found = Estimate(math.ceil(enough / dial - 1e-9) * dial, begins.half)
        formula = f"where cutting begins plus its interval; {FORMULA}"
    remarks = []
    if min(firsts) == rungs[0]:
        remarks.append("the first rung cut already; a ladder from lower down would say more")
    key = ("materials", str(setup.material), "cut", name)
    result = Result(key, found.value, found.half, "", formula, 2, dial)
    return Outcome((result,), (), tuple(remarks))


def resolve(setup: Setup) -> Setup:
    """The setup with its ladder spelled out."""
    return resolved(setup, Operation.CUT, STEPS)


TRIAL = Trial("settings", "Which setting cuts clean", sheet, readings, steps, estimate, resolve)
