"""Which of the profile's materials a stock is, and what to load into the machine for it.

A stock that names no material and has none of its own name gets the one nearest by grammage,
and everything that comes of it says that it is a guess.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import Stock
from cutlayers.profile.cautions import cautions
from cutlayers.profile.machine import (
    Machine,
    Material,
    MaterialUse,
    Method,
    OperationPlan,
    ToolType,
)
from cutlayers.telling.errors import JobError
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.sentences.settings import HowFound, settings_in_words
from cutlayers.telling.written import shown

HEAD = ("order", "operation", "tool", "holder", "passes", "settings", "tested", "note")
"""Heads of the columns of `LoadCard.rows`."""

_NAMED_HAZARD = re.compile(r"(?<![a-z])(pvc|vinyl)(?![a-z])", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Choice:
    """The material taken for a stock, and how it was found.

    The grammages in g/m² are the stock's own, and that of the material where it is a guess.
    """

    material: Material | None
    how: HowFound
    grammage: float | None = None
    guessed_by: float | None = None


@dataclass(frozen=True, slots=True)
class LoadStep:
    """One operation: what to put where and how to set it. Texts are empty where nothing is said."""

    order: int
    operation: str
    layer: str
    colour: str
    """#RRGGBB"""
    tool: str
    type: str
    holder: str
    passes: int
    settings: str
    tested_on: str
    """A day, 2026-03-01."""
    note: str


@dataclass(frozen=True, slots=True)
class LoadCard:
    """What to load for one stock, in working order; `by_hand` are the operations without a tool."""

    stock: str
    material: str | None
    how: HowFound
    steps: tuple[LoadStep, ...]
    by_hand: tuple[str, ...]
    cautions: tuple[str, ...]
    grammage: float | None = None
    """g/m² of the stock, where it is known."""
    guessed_by: float | None = None
    """g/m² of the material, where that is a guess."""

    @property
    def in_words(self) -> str:
        """Whose settings they are, without a stop."""
        return settings_in_words(
            self.how, self.stock, self.material, self.grammage, self.guessed_by
        )

    @property
    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The steps as texts, under HEAD."""
        return tuple(
            (
                str(step.order),
                step.operation,
                step.tool,
                step.holder or "-",
                str(step.passes),
                step.settings or "-",
                step.tested_on or "-",
                step.note or "-",
            )
            for step in self.steps
        )


def material_for(machine: Machine, stock: Stock) -> Choice:
    """The material that a stock names, that has its name, or that is nearest to it in weight.

    The nearest is the one with the smallest ratio of grammages; of two alike, the lighter.

    Raises JobError where the stock names a material that the profile has not.
    """
    known = machine.materials
    if stock.material is not None and stock.material not in known:
        raise JobError(
            Refusal(
                ("stock", stock.name, "material"),
                f"is {shown(stock.material)}, which the profile {machine.name} has not",
                "unknown",
                found=stock.material,
                allowed=tuple(known),
                nearest=nearest(stock.material, known),
            )
        )
    own = known.get(stock.material or stock.name)
    if own is not None:
        return Choice(own, "named")
    weighed = {each.name: each.grammage for each in known.values() if each.grammage is not None}
    if stock.grammage is None or not weighed:
        return Choice(None, "none", stock.grammage)
    weight = stock.grammage
    best = min(weighed, key=lambda name: (abs(math.log(weighed[name] / weight)), weighed[name]))
    return Choice(known[best], "guessed", weight, weighed[best])


def tuned(machine: Machine, material: Material | None) -> Machine:
    """The machine with a material's own tools, passes, kerf and rows in place of the general."""
    if material is None:
        return machine
    operations = dict(machine.operations)
    tools = dict(machine.tools)
    for operation, use in material.uses.items():
        plan = _with_use(operations[operation], use)
        operations[operation] = plan
        if use.kerf is not None and plan.tool is not None:
            tools[plan.tool] = replace(tools[plan.tool], kerf=use.kerf)
    return replace(machine, operations=operations, tools=tools)


def _with_use(plan: OperationPlan, use: MaterialUse) -> OperationPlan:
    if use.tool is not None:
        plan = replace(plan, tool=use.tool, method=Method.TOOL)
    if use.passes is not None:
        plan = replace(plan, passes=use.passes)
    if use.perforation is not None:
        plan = replace(plan, perforation=use.perforation)
    return plan


def refuse_hazards(machine: Machine, stock: Stock) -> None:
    """Refuse what gives off poison under a laser, if any operation of the machine uses one.

    A mark counts on the stock and on the profile's material for it; so does a name with the
    word pvc or vinyl in it. Raises JobError.
    """
    material = material_for(machine, stock)
    named = material.material if material.how == "named" else None
    marks = [
        *_hazards(stock.name, stock.contains),
        *(_hazards(named.name, named.contains) if named else ()),
    ]
    if not marks:
        return
    fit = tuned(machine, named)
    lasers = [
        plan.tool for plan in fit.operations.values() if _type(fit, plan.tool) is ToolType.LASER
    ]
    if lasers:
        raise JobError(
            Refusal(
                ("stock", stock.name),
                f"is marked {', '.join(dict.fromkeys(marks))}, and {shown(lasers[0])} is a laser: "
                "chlorine in it becomes hydrogen chloride, which is toxic and eats metal",
                "value",
                found=list(dict.fromkeys(marks)),
                advice="take another stock, or a machine with a blade",
            )
        )


def _hazards(name: str, contains: Iterable[str]) -> list[str]:
    return [*contains, *(word.lower() for word in _NAMED_HAZARD.findall(name))]


def _type(machine: Machine, tool: str | None) -> ToolType | None:
    return None if tool is None else machine.tools[tool].type


def load_card(machine: Machine, stock: Stock, operations: Collection[Operation]) -> LoadCard:
    """What to load to do these operations on this stock. Raises JobError as `material_for`."""
    choice = material_for(machine, stock)
    fit = tuned(machine, choice.material)
    uses: Mapping[Operation, MaterialUse] = choice.material.uses if choice.material else {}
    steps: list[LoadStep] = []
    by_hand: list[str] = []
    for operation in Operation:
        if operation not in operations:
            continue
        worked = _worked_as(fit, operation)
        if worked is None:
            by_hand.append(operation.value)
            continue
        steps.append(_step(len(steps) + 1, fit, operation, worked, uses))
    return LoadCard(
        stock=stock.name,
        material=choice.material.name if choice.material else None,
        how=choice.how,
        steps=tuple(steps),
        by_hand=tuple(by_hand),
        cautions=cautions(ToolType(step.type) for step in steps),
        grammage=choice.grammage,
        guessed_by=choice.guessed_by,
    )


def _worked_as(machine: Machine, operation: Operation) -> OperationPlan | None:
    """The plan whose tool does an operation: its own, or that of perforate or draw."""
    plan = machine.operations[operation]
    if plan.method is Method.PERFORATE:
        plan = machine.operations[Operation.PERFORATE]
    elif plan.method not in (Method.TOOL, Method.BY_HAND):
        plan = machine.operations[Operation.DRAW]
    return plan if plan.tool is not None else None


def _step(
    order: int,
    machine: Machine,
    operation: Operation,
    worked: OperationPlan,
    uses: Mapping[Operation, MaterialUse],
) -> LoadStep:
    plan = machine.operations[operation]
    tool = machine.tools[worked.tool or ""]
    use = uses.get(operation) or uses.get(worked.operation) or MaterialUse()
    how = "" if plan.method in (Method.TOOL, Method.PERFORATE) else ", to be worked by hand"
    drawn = plan.layer if not how else worked.layer
    return LoadStep(
        order=order,
        operation=operation.value + how,
        layer=drawn,
        colour=plan.colour if not how else worked.colour,
        tool=tool.name,
        type=tool.type.value,
        holder=tool.holder or "",
        passes=worked.passes if how else plan.passes,
        settings=", ".join(f"{name} {_plain(value)}" for name, value in use.settings.items()),
        tested_on=use.tested_on.isoformat() if use.tested_on else "",
        note=use.note or "",
    )


def _plain(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def card_findings(cards: Sequence[LoadCard]) -> tuple[Finding, ...]:
    """A warning for each stock whose settings are guessed, a note for each that has none."""
    found = []
    for card in cards:
        if card.how == "guessed":
            found.append(_guessed(card))
        elif card.how == "none":
            found.append(_without_settings(card))
    return tuple(found)


def _guessed(card: LoadCard) -> Finding:
    """The settings for a stock are those of the card nearest to it in weight.

    Measured: the weight of the stock in g/m² and that of the material in the profile nearest to it;
    the profile has none of the stock's own name.

    Why: settings that suit one card may leave the next one uncut, or burn it. Coating, colour and
    the share of recycled fibre matter as much as weight does.

    Cure: try the settings on a scrap of the very card first. When you know which are right, name
    them by `material` of the stock in the job, or note them in the profile under [materials.NAME];
    `cutlayers trial` finds them. Stay with a laser while it runs, and keep the fumes drawn off.

    Source: common practice, no source.
    """
    return Finding(
        "guessed-material",
        Severity.WARNING,
        Subject(stock=card.stock),
        details=details(
            material=card.material or "",
            material_g_m2=card.guessed_by or 0.0,
            stock_g_m2=card.grammage or 0.0,
        ),
    )


def _without_settings(card: LoadCard) -> Finding:
    """The profile has no settings for a stock and nothing to guess them by.

    Measured: nothing. The profile has materials, but none of the stock's name, and either the stock
    or all of the materials lack a `grammage`, by which the nearest card would be found.

    Why: the load card then says which tool goes in, but not how to set it.

    Cure: give the stock its `grammage` in the job, or name its settings by `material`; note your
    tested settings in the profile under [materials.NAME].

    Source: common practice, no source.
    """
    return Finding(
        "no-settings",
        Severity.NOTE,
        Subject(stock=card.stock),
        details=details(lacking="stock" if card.grammage is None else "profile"),
    )
