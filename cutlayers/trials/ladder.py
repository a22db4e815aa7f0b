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

    Where nothing is said it is the material's first number, from 40 % less to 40 % more. All rungs
    are what the dial takes.

    Raises TrialError where nothing is known to start from, and for a dial without so many steps.
    """
    name, rungs, _ = _ladder(setup, operation, steps)
    return name, rungs


def dial_of(setup: Setup, operation: Operation, steps: int) -> float:
    """The step in which the machine's setting can be changed: as the user said, or as fine as the
    numbers that are known of it. Raises TrialError as `setting_rungs`."""
    return _ladder(setup, operation, steps)[2]


def _ladder(setup: Setup, operation: Operation, steps: int) -> tuple[str, tuple[float, ...], float]:
    """Name, rungs and dial."""
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
    if setup.dial is not None and not 0.0 < setup.dial <= LARGEST:
        raise option("--dial", setup.dial, allowed="more than 0")
    known = [numbers[name]] if name in numbers else []
    said = [each for each in (setup.first, setup.last) if each is not None]
    dial = setup.dial or min(map(_place, known + said), default=1.0)
    if setup.first is None or setup.last is None:
        if name not in numbers:
            lacking = "--from" if setup.first is None else "--to"
            raise unread(lacking, f"nothing is known of {name} yet; give --from and --to")
        around = _rungs_round(numbers[name], count, dial)
        first = setup.first if setup.first is not None else around[0]
        last = setup.last if setup.last is not None else around[-1]
    else:
        first, last = setup.first, setup.last
    rungs = rungs_of(first, last, count)
    on_dial = _on_dial(rungs, dial)
    while setup.dial is None and len(set(on_dial)) < count:
        dial /= 10.0
        on_dial = _on_dial(rungs, dial)
    if len(set(on_dial)) < count:
        most = len(set(on_dial))
        raise option("--steps", count, f"is {count}, but a dial in steps of {dial:g} has {most}")
    return name, on_dial, dial


def _place(value: float) -> float:
    """The last decimal place of a number as people write it: 0.1 of 2.5, 1 of 20."""
    _, _, decimals = f"{value:.6f}".rstrip("0").partition(".")
    return 10.0 ** -len(decimals)


def _on_dial(rungs: tuple[float, ...], dial: float) -> tuple[float, ...]:
    return tuple(round(round(each / dial) * dial, 6) + 0.0 for each in rungs)


def _rungs_round(middle: float, count: int, dial: float) -> tuple[float, ...]:
    """Round numbers about a value, over about 40 % of it to both sides, none below 0."""
    raw = max(abs(middle) * 0.8 / (count - 1), dial)
    decade = 10.0 ** math.floor(math.log10(raw))
    step = min((part * decade for part in (1.0, 2.0, 5.0, 10.0)), key=lambda each: abs(each - raw))
    step = max(1, round(step / dial)) * dial
    lowest = max(0, round(middle / step) - count // 2)
    return tuple(_neat((lowest + index) * step, step) for index in range(count))


def resolved(setup: Setup, operation: Operation, steps: int) -> Setup:
    """The setup with its ladder spelled out."""
    name, rungs, dial = _ladder(setup, operation, steps)
    return replace(setup, setting=name, first=rungs[0], last=rungs[-1], steps=len(rungs), dial=dial)


def step_of(rungs: tuple[float, ...]) -> float:
    """How far apart the rungs are."""
    return (rungs[-1] - rungs[0]) / (len(rungs) - 1)
