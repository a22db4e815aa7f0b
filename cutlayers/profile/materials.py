"""Which of the profile's materials a stock is, and the machine set for it.

A stock that names no material and has none of its own name gets the one nearest by grammage,
and everything that comes of it says so.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.job.stock import Stock
from cutlayers.profile.card_settings import Material, MaterialUse
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Method, OperationPlan
from cutlayers.profile.tools import ToolType
from cutlayers.telling.errors import JobError
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.sentences.settings import HowFound
from cutlayers.telling.written import shown

_NAMED_HAZARD = re.compile(r"(?<![a-z])(pvc|vinyl)(?![a-z])", re.IGNORECASE)


@frozen
class Choice:
    """The material taken for a stock, and how it was found.

    The grammages in g/m² are the stock's own, and that of the material where it is the nearest.
    """

    material: Material | None
    how: HowFound
    grammage: float | None = None
    nearest_g_m2: float | None = None


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
    return Choice(known[best], "nearest", weight, weighed[best])


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
