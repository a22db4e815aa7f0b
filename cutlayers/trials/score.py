"""Score: which setting folds best, along and across the grain, to both sides."""

from __future__ import annotations

import math

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Transform
from cutlayers.profile.machine import Method
from cutlayers.trials.ladder import resolved, setting_rungs, step_of
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
from cutlayers.trials.refusing import refuse_apart, unread, unsuited
from cutlayers.trials.statistics import rung_mean

STEPS = 6
LONG, BROAD = 36.0, 14.0
COLUMN, ROW = 44.0, 17.0
STANDING = 18.0

WAYS = {
    "MA": ("mountain", "along the sheet's height"),
    "VA": ("valley", "along the sheet's height"),
    "MX": ("mountain", "across it"),
    "VX": ("valley", "across it"),
}
"""The four kinds of fold by the letters of their readings: mountain or valley, along or across."""

APART = 3
"""Steps; readings of one kind of fold further apart contradict each other."""

FORMULA = (
    "mean of the best rungs of all four folds; interval by Student's t over their spread, and "
    "never less than the ladder's step leaves"
)


def _check(setup: Setup) -> None:
    how = setup.machine.operations[Operation.SCORE]
    if how.method is Method.PERFORATE:
        raise unsuited(
            setup.machine,
            ("operations", "score", "as"),
            f'is "{how.method}": folds are made by short cuts',
            f"their trial is 'cutlayers trial perforation {setup.options}'",
            found=how.method.value,
        )
    if how.tool is None:
        raise unsuited(
            setup.machine,
            ("operations", "score", "as"),
            f'is "{how.method}": no tool scores',
            "only a tool that scores can be tried",
            found=how.method.value,
        )


def _rungs(setup: Setup) -> tuple[str, tuple[float, ...]]:
    _check(setup)
    return setting_rungs(setup, Operation.SCORE, STEPS)


def sheet(setup: Setup) -> TrialSheet:
    """A row for each rung: two strips that fold along the sheet's height, two that fold across."""
    name, rungs = _rungs(setup)
    machine = setup.machine
    top = len(rungs) * _row()
    width = 16.0 + 2 * COLUMN + 2 * STANDING
    parts = [Part(heading(setup, f"Score: {name}", width, top + 11.0), machine)]
    for way, (x, _) in _places().items():
        parts.append(Part(label(machine, way, (x, top + 2.0), "middle"), machine))
    for index, value in enumerate(rungs):
        y = (len(rungs) - 1 - index) * _row()
        parts.append(Part(label(machine, f"{value:g}", (0.0, y + LONG / 2 - 2.0)), machine))
        outlines: list[Stroke] = []
        scores: list[Stroke] = []
        for way, (x, turned) in _places().items():
            for stroke in _strip(turned, way):
                placed = stroke.transformed(Transform.translation(x, y + LONG / 2))
                (scores if stroke.operation is Operation.SCORE else outlines).append(placed)
        parts.append(Part(tuple(outlines), machine))
        parts.append(Part(tuple(scores), machine, index + 1, f"{name} {value:g}"))
    return as_sheet(setup, parts)


def _row() -> float:
    return LONG + 4.0


def _places() -> dict[str, tuple[float, bool]]:
    """Where the middle of each strip stands in its row, and whether the strip stands upright."""
    left = 16.0
    return {
        "MA": (left + LONG / 2, False),
        "VA": (left + COLUMN + LONG / 2, False),
        "MX": (left + 2 * COLUMN + BROAD / 2, True),
        "VX": (left + 2 * COLUMN + STANDING + BROAD / 2, True),
    }


def _strip(turned: bool, name: str) -> tuple[Stroke, ...]:
    """A strip about the origin with a score over its middle, upright where the strip lies level."""
    outline = Path.rectangle(LONG, BROAD, (-LONG / 2, -BROAD / 2))
    line = Path.line((0.0, -BROAD / 2), (0.0, BROAD / 2))
    turn = Transform.rotation(90.0 if turned else 0.0)
    # All lie on the front, whatever the profile does with valleys: the hand folds them both ways.
    score = Stroke(Operation.SCORE, line.transformed(turn), StrokePart.FOLD, name, Fold.MOUNTAIN)
    return cut(outline.transformed(turn), StrokePart.OUTLINE, name), score


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The best rung for each kind of fold."""
    name, rungs = _rungs(setup)
    return tuple(
        ReadingSpec(
            way,
            f"the {name} of the best {fold} fold in column {way}, its line running {run}",
            "",
            rungs[0],
            rungs[-1],
            rungs=rungs,
            needed=False,
        )
        for way, (fold, run) in WAYS.items()
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    name, rungs = _rungs(setup)
    layer = setup.machine.operations[Operation.SCORE].layer
    list_ = ", ".join(f"{layer}-{i + 1} = {value:g}" for i, value in enumerate(rungs))
    return (
        "Lay the card so that you know which way its fibres run (it bends more easily about a "
        "line along them), and note that on the sheet.",
        f"Every row's scores are a layer (and a colour) of their own. Set {name} for each: "
        f"{list_}. Then cut the strips out.",
        "Fold every strip by hand, sharply, by a half turn: columns MA and MX away from you "
        "(mountain), VA and VX towards you (valley). Open it and fold it again.",
        "In each column find the row that folds straight and lies flat without cracking the "
        "surface, and note its number. A crack means too much; a fold that wanders, too little.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """One setting for all folds, and how far the kinds of fold differ."""
    name, rungs = _rungs(setup)
    step = step_of(rungs)
    values = [value for way in WAYS for value in read.get(way, ())]
    if not values:
        raise unread(
            next(iter(WAYS)), f"read the best row of at least one column: {', '.join(WAYS)}"
        )
    for way in WAYS:
        refuse_apart(way, read.get(way, ()), step, APART, "fold them again")
    found = rung_mean(values, step)
    remarks = []
    along = [value for way in ("MA", "VA") for value in read.get(way, ())]
    across = [value for way in ("MX", "VX") for value in read.get(way, ())]
    if along and across:
        apart = math.fsum(along) / len(along) - math.fsum(across) / len(across)
        if abs(apart) >= 1.5 * step:
            remarks.append(
                f"folds along and across differ by {abs(apart):g}: one setting is a compromise; "
                "lay pieces so that their long folds run the better way"
            )
    key = ("materials", str(setup.material), "score", name)
    return Outcome((Result(key, found.value, found.half, "", FORMULA, 2),), (), tuple(remarks))


def resolve(setup: Setup) -> Setup:
    """The setup with its ladder spelled out."""
    _check(setup)
    return resolved(setup, Operation.SCORE, STEPS)


TRIAL = Trial("score", "Which setting folds best", sheet, readings, steps, estimate, resolve)
