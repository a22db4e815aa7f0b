"""Score: which setting folds best, along and across the grain, to both sides."""

from __future__ import annotations

import math

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.geometry.transforms import Transform
from cutlayers.profile.operations import Method
from cutlayers.trials.ladder import dial_of, resolved, setting_rungs, step_of
from cutlayers.trials.layout import CAP, Block, cut, in_rows, label
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
LONG, BROAD = 28.0, 11.0
APART_MM = 3.0
"""mm between two strips."""
NAME = 2.5
"""Cap height in mm of the names over the strips."""

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
    """A block for each rung: two strips that fold along the sheet's height, two across it."""
    name, rungs = _rungs(setup)
    blocks = [_block(setup, index, value, f"{name} {value:g}") for index, value in enumerate(rungs)]
    return in_rows(setup, f"Score: {name}", blocks)


def _block(setup: Setup, index: int, value: float, title: str) -> Block:
    machine = setup.machine
    places = _places()
    high = LONG + NAME + APART_MM + CAP + 1.5
    labels = [*label(machine, f"{value:g}", (0.0, high - CAP))]
    outlines: list[Stroke] = []
    scores: list[Stroke] = []
    for way, (x, y, turned) in places.items():
        top = y + (LONG if turned else BROAD) / 2
        labels += label(machine, way, (x, top + 1.0), "middle", NAME)
        for stroke in _strip(turned, way):
            placed = stroke.transformed(Transform.translation(x, y))
            (scores if stroke.operation is Operation.SCORE else outlines).append(placed)
    parts = (
        Part(tuple(labels), machine),
        Part(tuple(outlines), machine),
        Part(tuple(scores), machine, index + 1, title),
    )
    return Block(parts, LONG + 2 * (APART_MM + BROAD), high)


def _places() -> dict[str, tuple[float, float, bool]]:
    """Where the middle of each strip lies in its block, and whether the strip stands upright."""
    upright = LONG + APART_MM + BROAD / 2
    return {
        "MA": (LONG / 2, LONG - BROAD / 2, False),
        "VA": (LONG / 2, BROAD / 2, False),
        "MX": (upright, LONG / 2, True),
        "VX": (upright + APART_MM + BROAD, LONG / 2, True),
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
            f"the {name} over the best {fold} fold marked {way}, its line running {run}",
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
        f"The scores of each group of four strips are a layer (and a colour) of their own. Set "
        f"{name} for each: {list_}. Write the number of its group on each strip before you take "
        "it out.",
        "Fold every strip by hand, sharply, by a half turn: MA and MX away from you (mountain), "
        "VA and VX towards you (valley). Open it and fold it again.",
        "Of each of the four kinds find the strip that folds straight and lies flat without "
        "cracking the surface, and note its number. A crack means too much; a fold that wanders, "
        "too little.",
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
    dial = dial_of(setup, Operation.SCORE, STEPS)
    result = Result(key, found.value, found.half, "", FORMULA, 2, dial)
    return Outcome((result,), (), tuple(remarks))


def resolve(setup: Setup) -> Setup:
    """The setup with its ladder spelled out."""
    _check(setup)
    return resolved(setup, Operation.SCORE, STEPS)


TRIAL = Trial("score", "Which setting folds best", sheet, readings, steps, estimate, resolve)
