"""What to load into the machine for a stock, and what to say where its settings are those of
another card, or none are known."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import Stock
from cutlayers.profile.card_settings import MaterialUse
from cutlayers.profile.cautions import cautions
from cutlayers.profile.coupon import what_to_look_for
from cutlayers.profile.driving import driving
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import material_for, tuned
from cutlayers.profile.operations import Method, OperationPlan
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.sentences.settings import HowFound, settings_in_words

HEAD = ("order", "operation", "tool", "holder", "passes", "settings", "tested", "note")
"""Heads of the columns of `SetupSheet.rows`."""


@frozen
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


@frozen
class SetupSheet:
    """What to load for one stock, in working order; `by_hand` are the operations without a tool."""

    stock: str
    material: str | None
    how: HowFound
    steps: tuple[LoadStep, ...]
    by_hand: tuple[str, ...]
    cautions: tuple[str, ...]
    driving: tuple[str, ...] = ()
    """What the program that drives the machine must be told."""
    coupon: tuple[str, ...] = ()
    """What to look for on what is cut first, where there is a coupon."""
    grammage: float | None = None
    """g/m² of the stock, where it is known."""
    nearest_g_m2: float | None = None
    """Weight of the material, where it is the nearest to the stock's."""

    @property
    def in_words(self) -> str:
        """Whose settings they are, without a stop."""
        return settings_in_words(
            self.how, self.stock, self.material, self.grammage, self.nearest_g_m2
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


def setup_sheet(
    machine: Machine, stock: Stock, operations: Collection[Operation], *, coupon: bool = False
) -> SetupSheet:
    """What to load to do these operations on this stock, and what to look for if a `coupon` is cut
    first. Raises JobError as `material_for`."""
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
    return SetupSheet(
        stock=stock.name,
        material=choice.material.name if choice.material else None,
        how=choice.how,
        steps=tuple(steps),
        by_hand=tuple(by_hand),
        cautions=cautions(ToolType(step.type) for step in steps),
        driving=driving(
            (fit.tools[step.tool] for step in steps),
            fit.files.order,
            max((step.passes for step in steps), default=1),
        )
        if steps
        else (),
        coupon=what_to_look_for(_cutter(fit)) if coupon else (),
        grammage=choice.grammage,
        nearest_g_m2=choice.nearest_g_m2,
    )


def said_by_all(cards: Sequence[SetupSheet]) -> tuple[str, ...]:
    """What the setup sheets of several cards all say of driving and of care, so that it need be
    told once; nothing where there is one sheet alone."""
    if len(cards) < 2:
        return ()
    said = [(*card.driving, *card.cautions) for card in cards]
    return tuple(line for line in said[0] if all(line in other for other in said))


def _cutter(machine: Machine) -> Tool:
    return machine.tools[machine.operations[Operation.CUT].tool or ""]


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


def card_findings(cards: Sequence[SetupSheet]) -> tuple[Finding, ...]:
    """A warning for each stock that takes the nearest's settings, a note for each that has none."""
    found = []
    for card in cards:
        if card.how == "nearest":
            found.append(_nearest(card))
        elif card.how == "none":
            found.append(_without_settings(card))
    return tuple(found)


def _nearest(card: SetupSheet) -> Finding:
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
        "nearest-material",
        Severity.WARNING,
        Subject(stock=card.stock),
        details=details(
            material=card.material or "",
            material_g_m2=card.nearest_g_m2 or 0.0,
            stock_g_m2=card.grammage or 0.0,
        ),
    )


def _without_settings(card: SetupSheet) -> Finding:
    """The profile has no settings for a stock and nothing to guess them by.

    Measured: nothing. The profile has materials, but none of the stock's name, and either the stock
    or all of the materials lack a `grammage`, by which the nearest card would be found.

    Why: the setup sheet then says which tool goes in, but not how to set it.

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
