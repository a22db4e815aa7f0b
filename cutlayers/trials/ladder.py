"""Ladders: rising settings to choose from, as the user asked for them or round what is known."""

from __future__ import annotations

import math
import re
from dataclasses import replace

from cutlayers.geometry.strokes import Operation
from cutlayers.telling.refusals import Span
from cutlayers.trials.model import Setup
from cutlayers.trials.refusing import option, unread

MOST_RUNGS = 10
LARGEST = 1e6
"""No setting of a machine is larger."""


def rungs_of(first: float, last: float, steps: int) -> tuple[float, ...]:
    """`steps` values from first to last, evenly apart, rounded where that keeps them apart.

    Raises TrialError.
    """
    _check_count(steps)
    if not max(abs(first), abs(last)) <= LARGEST:
        name, wrong = max((("--from", first), ("--to", last)), key=lambda each: abs(each[1]))
        raise option(name, wrong, allowed=Span(-LARGEST, LARGEST))
    if not first < last:
        reason = f"is {last:g} and --from is {first:g}"
        raise option("--to", last, reason, advice="--to must be more")
    step = (last - first) / (steps - 1)
    return tuple(_neat(first + index * step, step) for index in range(steps))


def _check_count(steps: int) -> None:
    if not 2 <= steps <= MOST_RUNGS:
        raise option("--steps", steps, allowed=Span(2, MOST_RUNGS))


def _neat(value: float, step: float) -> float:
    """Rounded to a tenth of the step, which no scale on a machine is finer than."""
    return round(value, max(0, 1 - math.floor(math.log10(step) + 1e-9))) + 0.0


def setting_rungs(setup: Setup, operation: Operation, steps: int) -> tuple[str, tuple[float, ...]]:
    """The name of the setting to try on an operation, and its rungs.

    Where nothing is said it is the material's first number, from 40 % less to 40 % more.

    Raises TrialError where nothing is known to start from.
    """
    material = setup.machine.materials.get(setup.material or "")
    use = material.uses.get(operation) if material else None
    numbers = {
        name: float(value)
        for name, value in (use.settings.items() if use else ())
        if not isinstance(value, str)
    }
    if setup.material is None:
        advice = "say which card these settings are for: --material NAME"
        raise unread("--material", advice)
    name = setup.setting or next(iter(numbers), None)
    if name is None:
        raise unread(
            "--setting",
            "say which setting of your machine to try, and from where to where: "
            "--setting force --from 10 --to 24 --steps 8",
        )
    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_-]*", name):
        raise option("--setting", name, allowed="a letter, then letters, digits, - or _")
    count = steps if setup.steps is None else setup.steps
    _check_count(count)
    if setup.first is None or setup.last is None:
        if name not in numbers:
            lacking = "--from" if setup.first is None else "--to"
            raise unread(lacking, f"nothing is known of {name} yet; give --from and --to")
        around = _rungs_round(numbers[name], count)
        first = setup.first if setup.first is not None else around[0]
        last = setup.last if setup.last is not None else around[-1]
        return name, rungs_of(first, last, count)
    return name, rungs_of(setup.first, setup.last, count)


def _rungs_round(middle: float, count: int) -> tuple[float, ...]:
    """Round numbers about a value, over about 40 % of it to both sides, none below 0."""
    raw = abs(middle) * 0.8 / (count - 1) or 1.0
    decade = 10.0 ** math.floor(math.log10(raw))
    step = min((part * decade for part in (1.0, 2.0, 5.0, 10.0)), key=lambda each: abs(each - raw))
    lowest = max(0, round(middle / step) - count // 2)
    return tuple(_neat((lowest + index) * step, step) for index in range(count))


def resolved(setup: Setup, operation: Operation, steps: int) -> Setup:
    """The setup with its ladder spelled out."""
    name, rungs = setting_rungs(setup, operation, steps)
    return replace(setup, setting=name, first=rungs[0], last=rungs[-1], steps=len(rungs))


def step_of(rungs: tuple[float, ...]) -> float:
    """How far apart the rungs are."""
    return (rungs[-1] - rungs[0]) / (len(rungs) - 1)
