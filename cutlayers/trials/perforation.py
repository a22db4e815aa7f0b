"""Perforation: which ties still hold and tear clean. A ladder of tear lines."""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.strokes import Part as StrokePart
from cutlayers.profile.editing import Key
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Perforation
from cutlayers.telling.refusals import Span
from cutlayers.trials.ladder import rungs_of, step_of
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
from cutlayers.trials.refusing import misread, option, refuse_apart, unread, unsuited
from cutlayers.trials.statistics import Estimate, rung_mean

STEPS = 8
FIRST, LAST = 0.4, 1.8
LEAST_SHARE = 0.6
"""What part of a tie a fitted row may go down to; common practice."""

WIDE, HIGH = 52.0, 22.0
COLUMN, ROW = 58.0, 30.0
COLUMNS = 2

FORMULA = (
    "the middle between the means of the narrowest ties that hold and the widest that tear; "
    "interval by Student's t over the spread, never less than the step leaves"
)


def _operation(machine: Machine) -> Operation:
    """Scores that are made by short cuts are tried where nothing else perforates."""
    if machine.operations[Operation.PERFORATE].tool is None:
        raise unsuited(
            machine,
            ("operations", "perforate", "tool"),
            "is missing: nothing perforates",
            "name a tool there",
        )
    return Operation.PERFORATE


def _rungs(setup: Setup) -> tuple[float, ...]:
    machine = setup.machine
    _operation(machine)
    first, last = setup.first, setup.last
    tool = setup.tool(Operation.PERFORATE)
    kerf = tool.kerf if tool else 0.0
    if first is None:
        first = max(FIRST, round(2 * kerf + 0.1, 1))
    if first * LEAST_SHARE <= kerf:
        raise option(
            "--from",
            first,
            f"is {first:g} mm, a tie that burns away: the kerf is {kerf:g} mm",
            Span(round(kerf / LEAST_SHARE + 0.05, 2), unit="mm"),
        )
    last = first + LAST - FIRST if last is None else last
    return rungs_of(first, last, STEPS if setup.steps is None else setup.steps)


def sheet(setup: Setup) -> TrialSheet:
    """Strips with a tear line along the middle, each with its tie."""
    machine = setup.machine
    how = machine.operations[Operation.PERFORATE]
    rungs = _rungs(setup)
    rows = -(-len(rungs) // COLUMNS)
    width = COLUMN * COLUMNS - (COLUMN - WIDE)
    cuts = f"cuts of {how.perforation.cut:g} mm"
    parts = [
        Part(heading(setup, f"Tear lines, {cuts}", width, rows * ROW + 3.0), machine),
    ]
    for index, tie in enumerate(rungs):
        row, column = divmod(index, COLUMNS)
        x, y = COLUMN * column, ROW * (rows - 1 - row)
        fitted = replace(how.perforation, tie=tie, minimum_tie=tie * LEAST_SHARE)
        strokes: tuple[Stroke, ...] = (
            *label(machine, f"{tie:g}", (x + 3.0, y + 3.5)),
            Stroke(
                Operation.PERFORATE,
                Path.line((x, y + HIGH / 2), (x + WIDE, y + HIGH / 2)),
                StrokePart.FOLD,
                f"tear line {tie:g}",
            ),
            cut(Path.rectangle(WIDE, HIGH, (x, y)), StrokePart.OUTLINE, f"strip {tie:g}"),
        )
        parts.append(Part(strokes, _with(machine, fitted)))
    return as_sheet(setup, parts)


def _with(machine: Machine, row: Perforation) -> Machine:
    plan = replace(machine.operations[Operation.PERFORATE], perforation=row)
    return replace(machine, operations={**machine.operations, Operation.PERFORATE: plan})


def readings(setup: Setup) -> tuple[ReadingSpec, ...]:
    """The narrowest tie that holds, the widest that tears."""
    rungs = _rungs(setup)
    return (
        ReadingSpec(
            "holds",
            "the smallest number whose strip stays in one piece when it is bent to and fro once "
            "and shaken",
            "mm",
            rungs[0],
            rungs[-1],
            rungs=rungs,
            times=3,
        ),
        ReadingSpec(
            "tears",
            "the largest number whose strip tears along the line, by hand and without leaving it",
            "mm",
            rungs[0],
            rungs[-1],
            rungs=rungs,
            times=3,
        ),
    )


def steps(setup: Setup) -> tuple[str, ...]:
    """What to do."""
    _rungs(setup)
    return (
        "Make the sheet with the settings that you use for this card, and lift the strips off.",
        "Hold each strip at one end and bend it along its tear line once to and fro, then shake "
        "it. Note the smallest number that stays in one piece: holds.",
        "Tear each strip along its line. Note the largest number that tears clean: tears.",
        "Make three sheets, some along and some across the grain, and give every reading.",
    )


def estimate(setup: Setup, read: Readings) -> Outcome:
    """The tie between what holds and what tears, for this card if one was named."""
    rungs = _rungs(setup)
    step = step_of(rungs)
    holds, tears = read.get("holds", ()), read.get("tears", ())
    if not holds or not tears:
        raise unread("tears" if holds else "holds", "read both: holds=… and tears=…")
    for what, values in (("holds", holds), ("tears", tears)):
        refuse_apart(what, values, step, 3, "try again")
    low, high = rung_mean(holds, step), rung_mean(tears, step)
    if high.value < low.value - 1e-9:
        raise misread(
            "tears",
            high.value,
            f"is less than what holds, {low.value:g} mm: no tie does both",
            "take shorter or longer cuts and try again",
        )
    found = Estimate((low.value + high.value) / 2, math.hypot(low.half, high.half) / 2)
    place = _place(setup)
    how = setup.machine.operations[Operation.PERFORATE].perforation
    tie = Result((*place, "tie"), found.value, found.half, "mm", FORMULA, 2)
    least = min(low.value, tie.rounded)
    more: list[tuple[Key, float]] = [
        ((*place, "cut"), how.cut),
        ((*place, "minimum_tie"), round(least, 2)),
    ]
    return Outcome((tie,), tuple(more))


def _place(setup: Setup) -> Key:
    if setup.material:
        return ("materials", setup.material, "perforate", "perforation")
    return ("operations", "perforate", "perforation")


def resolve(setup: Setup) -> Setup:
    """The setup with its ladder spelled out."""
    rungs = _rungs(setup)
    return replace(setup, first=rungs[0], last=rungs[-1], steps=len(rungs))


TRIAL = Trial("perforation", "Which ties tear clean", sheet, readings, steps, estimate, resolve)
