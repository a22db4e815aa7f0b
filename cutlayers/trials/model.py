"""What a trial is made of, as plain values."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.profile.editing import Key, Value
from cutlayers.profile.machine import Machine
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.telling.shell import quoted

Readings = Mapping[str, tuple[float, ...]]
"""What was read, by name, each as often as it was read; lengths in mm."""


@frozen
class Setup:
    """For which machine a trial is, and what its maker may choose.

    `profile` and `material` are as the user named them; `setting`, `first`, `last` and `steps`
    describe a ladder where the trial has one to choose; `sheet` is the card's width and height.
    `dial` is the step in which the machine's setting can be changed, None where nobody said.
    """

    machine: Machine
    profile: str
    material: str | None = None
    sheet: tuple[float, float] | None = None
    setting: str | None = None
    first: float | None = None
    last: float | None = None
    steps: int | None = None
    dial: float | None = None

    def tool(self, operation: Operation) -> Tool | None:
        """The tool that an operation has of its own."""
        name = self.machine.operations[operation].tool
        return None if name is None else self.machine.tools[name]

    @property
    def options(self) -> str:
        """The choices as the command line takes them."""
        words = [f"--profile {quoted(self.profile)}"]
        if self.material is not None:
            words.append(f"--material {quoted(self.material)}")
        if self.sheet is not None:
            words.append(f"--sheet {quoted(f'{self.sheet[0]:g} x {self.sheet[1]:g} mm')}")
        if self.setting is not None:
            words.append(f"--setting {quoted(self.setting)}")
        if self.first is not None:
            words.append(f"--from {self.first:g}")
        if self.last is not None:
            words.append(f"--to {self.last:g}")
        if self.steps is not None:
            words.append(f"--steps {self.steps}")
        if self.dial is not None:
            words.append(f"--dial {self.dial:g}")
        return " ".join(words)


@frozen
class Part:
    """Strokes that are worked alike, by a machine set up for them.

    `rung`, counted from 1, gives them layers of their own, named after it, so that the machine's
    program can set each apart; `title` says for people what the layer is.
    """

    strokes: tuple[Stroke, ...]
    machine: Machine
    rung: int | None = None
    title: str = ""


@frozen
class TrialSheet:
    """A trial laid out on a card of its size: `width` and `height` in mm, lower left the origin.

    `printed` are strokes for the printer, under those for the machine; `marks` are the register
    marks, which are on both.
    """

    width: float
    height: float
    parts: tuple[Part, ...]
    printed: tuple[Stroke, ...] = ()
    marks: tuple[Path, ...] = ()


@frozen
class ReadingSpec:
    """One thing to read: its name, what to do, its unit, and what may come out.

    `rungs` are the only values there are, where it is read off a ladder. `times` is how often to
    read it, for an uncertainty worth the name.
    """

    name: str
    what: str
    unit: str
    minimum: float
    maximum: float
    rungs: tuple[float, ...] = ()
    needed: bool = True
    times: int = 1


@frozen
class Result:
    """One value found: where the profile keeps it, and half its 95 % interval.

    `half` is None for what is chosen rather than measured. `formula` says where the value and
    its interval come from. `dial` is the step in which the machine takes it, 0 where any value
    will do; of two that are as near the lower is taken, which does less harm.
    """

    key: Key
    value: float
    half: float | None
    unit: str
    formula: str = ""
    decimals: int = 3
    dial: float = 0.0

    @property
    def rounded(self) -> float:
        """The value as it is saved."""
        if self.dial:
            return round(math.ceil(self.value / self.dial - 0.5 - 1e-9) * self.dial, 6) + 0.0
        return round(self.value, self.decimals) + 0.0

    def __str__(self) -> str:
        text = f"{self.rounded:g}"
        if self.half is not None:
            text += f" ± {round(self.half, self.decimals):g}"
        return f"{text} {self.unit}".rstrip()


@frozen
class Outcome:
    """What the readings say; `more` are further values to be saved, `remarks` are for people."""

    results: tuple[Result, ...]
    more: tuple[tuple[Key, Value], ...] = ()
    remarks: tuple[str, ...] = ()


@frozen
class Trial:
    """One kind of trial. The functions raise TrialError where it makes no sense for a setup."""

    kind: str
    title: str
    sheet: Callable[[Setup], TrialSheet]
    readings: Callable[[Setup], tuple[ReadingSpec, ...]]
    steps: Callable[[Setup], tuple[str, ...]]
    """What to do, a sentence or two each."""
    estimate: Callable[[Setup, Readings], Outcome]
    resolve: Callable[[Setup], Setup] = lambda setup: setup
    """The setup with all choices spelled out, so that the profile may change before recording."""
    bare: Callable[[Machine], Machine] = lambda machine: machine
    """The machine without the correction that the trial is to find."""


def cutting_tool(setup: Setup) -> Tool:
    """The tool of cut, which every profile has."""
    tool = setup.tool(Operation.CUT)
    assert tool is not None, "profile.py guarantees a tool for cut"
    return tool


def cuts_by_width(tool: Tool) -> bool:
    """Whether a tool takes a width of card away."""
    return tool.type in (ToolType.LASER, ToolType.WHEEL)
