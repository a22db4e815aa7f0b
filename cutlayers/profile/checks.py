"""What the tables of a profile must be to one another: tools, operations, bed, marks, layers.

Each function yields the problems of one matter; nothing is put right on the way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from cutlayers.geometry.strokes import Operation
from cutlayers.profile.card_settings import Material, MaterialUse
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.operations import Method, OperationPlan, Perforation
from cutlayers.profile.output import RegisterPlan
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.profile.written import WrittenOperation
from cutlayers.reading.tables import declared
from cutlayers.reading.values import ValueRefused, read_choice
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Allowed, Place, Refusal, Span
from cutlayers.telling.written import shown

ALMOST = 0.8
"""Likeness (0…1) from which a free name is taken for a slip: `pases`, `kerfs`, `notes`."""

_CUTTING = (ToolType.DRAG_BLADE, ToolType.LASER, ToolType.WHEEL)
_TOOLS_FOR: Mapping[Operation, tuple[ToolType, ...]] = {
    Operation.DRAW: (ToolType.PEN, ToolType.LASER),
    Operation.SCORE: (ToolType.STYLUS, ToolType.WHEEL, ToolType.LASER),
    Operation.PERFORATE: _CUTTING,
    Operation.CUT: _CUTTING,
}
_METHODS_FOR: Mapping[Operation, tuple[Method, ...]] = {
    Operation.DRAW: (Method.BY_HAND,),
    Operation.SCORE: (Method.PERFORATE, Method.DRAW, Method.TICKS, Method.BY_HAND),
    Operation.PERFORATE: (Method.DRAW, Method.BY_HAND),
    Operation.CUT: (),
}
_TYPES_WITH: Mapping[str, tuple[ToolType, ...]] = {
    "kerf": (ToolType.LASER, ToolType.WHEEL),
    "offset": (ToolType.DRAG_BLADE,),
    "overcut": _CUTTING,
    "corner_angle_deg": (ToolType.DRAG_BLADE,),
    "swivel": (ToolType.DRAG_BLADE,),
    "rest_angle_deg": (ToolType.DRAG_BLADE,),
    "sharpest_deg": (ToolType.DRAG_BLADE,),
    "finest": _CUTTING,
    "line_width": (ToolType.PEN,),
    "smallest_letters": (ToolType.PEN,),
}
_REQUIRED: Mapping[ToolType, tuple[str, str]] = {
    ToolType.LASER: (
        "kerf",
        "cut a square, measure it and its hole; the kerf is half of what differs",
    ),
    ToolType.DRAG_BLADE: ("offset", "it is printed on the blade's package, often 0.25 mm"),
}


def operation_problems(
    operation: Operation,
    asked: WrittenOperation,
    tools: Mapping[str, Tool],
    table: Mapping[str, object],
) -> Iterator[Refusal]:
    """Whether this operation can be done this way, with this tool; `table` is the file's own."""
    place: Place = ("operations", operation.value)
    methods = _METHODS_FOR[operation]
    types = _listed(_TOOLS_FOR[operation])
    if asked.method is not None and asked.method not in methods:
        words: Allowed = tuple(str(method) for method in methods) or f"a tool: {types}"
        yield _not(words, str(asked.method), (*place, "as"))
    elif asked.method is not None and asked.tool is not None:
        yield Refusal((*place, "as"), "stands beside tool; an operation has one or the other")
    elif asked.method is None and asked.tool is None and operation is Operation.CUT:
        yield Refusal((*place, "tool"), f"is missing; cut needs a {types}", "missing")
    if asked.method is not None and "passes" in table:
        yield Refusal((*place, "passes"), "is of no use without a tool; leave it out")
    if asked.tool is not None:
        yield from _tool_problems_of(operation, asked.tool, place, tools)
    if asked.scoring is not None and operation is not Operation.SCORE:
        yield Refusal((*place, "scoring"), "is of no use here: nothing is scored")
    if asked.bridges is not None:
        if operation is not Operation.CUT:
            yield Refusal((*place, "bridges"), "is of no use here: nothing is cut out")
        if not asked.bridges.count and not asked.bridges.spacing:
            yield Refusal((*place, "bridges"), "asks for none; give a count or a spacing")
    if asked.perforation is not None:
        perforates = operation is Operation.PERFORATE or asked.method is Method.PERFORATE
        if not perforates:
            yield Refusal((*place, "perforation"), "is of no use here: nothing is perforated")
        yield from _row_problems(asked.perforation, (*place, "perforation"))


def _tool_problems_of(
    operation: Operation, name: str, place: Place, tools: Mapping[str, Tool]
) -> Iterator[Refusal]:
    """Whether there is a tool of that name, and whether it can do the operation."""
    try:
        read_choice(name, list(tools))
    except ValueRefused as error:
        yield error.refusal.under(*(*place, "tool"))
        return
    kind = tools[name].type
    if kind not in _TOOLS_FOR[operation]:
        types = _listed(_TOOLS_FOR[operation])
        repair = ' or as = "perforate"' if operation is Operation.SCORE else ""
        sentence = f"is {shown(name)}, a {kind}; {operation} needs a {types}{repair}"
        yield Refusal((*place, "tool"), sentence)


def _row_problems(row: Perforation, place: Place) -> Iterator[Refusal]:
    if row.minimum_tie > row.tie:
        yield Refusal(
            (*place, "minimum_tie"),
            f"is {row.minimum_tie:g} mm, more than the tie itself",
            "value",
            found=row.minimum_tie,
            allowed=Span(most=row.tie, unit="mm"),
        )


def material_problems(material: Material, machine: Machine) -> Iterator[Refusal]:
    """Whether a material's tables go with the operations and their tools."""
    for operation, use in material.uses.items():
        place: Place = ("materials", material.name, operation.value)
        yield from _use_problems(use, place, machine.operations[operation], machine.tools)


def _use_problems(
    use: MaterialUse, place: Place, plan: OperationPlan, tools: Mapping[str, Tool]
) -> Iterator[Refusal]:
    operation = plan.operation
    keys = sorted(field.key for field in declared(MaterialUse))
    for key in use.settings:
        near = nearest(key, keys, ALMOST)
        if near:
            yield Refusal((*place, key), f"is nearly {near}; write that, or choose another name")
    if use.tool is not None:
        yield from _tool_problems_of(operation, use.tool, place, tools)
    tool = tools.get(use.tool or plan.tool or "")
    if use.kerf is not None and (
        operation is not Operation.CUT or tool is None or tool.type not in _TYPES_WITH["kerf"]
    ):
        yield Refusal((*place, "kerf"), f"belongs to a cut with a {_listed(_TYPES_WITH['kerf'])}")
    if use.perforation is not None:
        if operation is not Operation.PERFORATE and plan.method is not Method.PERFORATE:
            yield Refusal((*place, "perforation"), "is of no use here: nothing is perforated")
        yield from _row_problems(use.perforation, (*place, "perforation"))


def tie_problems(
    plans: Mapping[Operation, OperationPlan], tools: Mapping[str, Tool]
) -> Iterator[Refusal]:
    """A tie no wider than the kerf burns or wears away from both its ends, and a cut no longer
    than the kerf cannot be made."""
    tool = tools.get(plans[Operation.PERFORATE].tool or "")
    kerf = tool.kerf if tool else 0.0
    for operation, plan in plans.items():
        perforates = operation is Operation.PERFORATE or plan.method is Method.PERFORATE
        if not perforates or not kerf:
            continue
        rows = plan.perforation
        for key, size in (("minimum_tie", rows.minimum_tie), ("cut", rows.cut)):
            if size <= kerf:
                at = ("operations", operation.value, "perforation", key)
                sentence = f"is {size:g} mm"
                more = f"more than the kerf, {kerf:g} mm"
                yield Refusal(at, sentence, "value", found=size, allowed=more)


def tool_problems(tool: Tool, table: Mapping[str, object]) -> Iterator[Refusal]:
    """Whether a tool of this type has the keys it needs and no others; `table` is the file's."""
    for key, types in _TYPES_WITH.items():
        if key in table and tool.type not in types:
            sentence = f"does not belong to a {tool.type}, only to a {_listed(types)}"
            yield Refusal(("tools", tool.name, key), sentence)
    key, advice = _REQUIRED.get(tool.type, ("", ""))
    if key and key not in table:
        sentence = f"is missing; a {tool.type} needs it: {advice}"
        yield Refusal(("tools", tool.name, key), sentence, "missing")


def bed_problems(bed: Bed) -> Iterator[Refusal]:
    """Whether the margin leaves anything of the bed."""
    most = min(bed.width, bed.height) / 2
    if bed.margin >= most:
        less = f"less than {most:g} mm, half the bed's shorter side"
        sentence = f"is {bed.margin:g} mm"
        yield Refusal(("bed", "margin"), sentence, "value", found=bed.margin, allowed=less)


def register_problems(register: RegisterPlan, bed: Bed) -> Iterator[Refusal]:
    """Whether the marks lie whole within reach."""
    least = bed.margin + register.size / 2
    if register.shape != "none" and register.from_edge < least:
        yield Refusal(
            ("register", "from_edge"),
            f"is {register.from_edge:g} mm",
            "value",
            found=register.from_edge,
            allowed=Span(least, unit="mm"),
            about="the bed's margin and half the mark's size",
        )


def layer_problems(plans: Iterable[OperationPlan], register: RegisterPlan) -> Iterator[Refusal]:
    """DXF does not tell capitals from small letters in a layer's name."""
    owners = [(f"operations.{plan.operation}", plan.layer) for plan in plans]
    owners.append(("register", register.layer))
    # Layers named like their operation come first, so that the name which clashes is the one
    # that somebody wrote.
    owners.sort(key=lambda owner: owner[0].rpartition(".")[2] != owner[1])
    first: dict[str, str] = {}
    for owner, layer in owners:
        if layer.lower() in first:
            sentence = f"is {shown(layer)}, the layer of {first[layer.lower()]} already"
            yield Refusal((*owner.split("."), "layer"), f"{sentence}; each needs its own")
        first.setdefault(layer.lower(), owner)


def format_problems(formats: Sequence[str]) -> Iterator[Refusal]:
    """Whether a format is listed twice, and one of them is for the machine."""
    if formats and not {*formats} & {"dxf", "svg"}:
        yield Refusal(("files", "formats"), 'has nothing for the machine; add "dxf" or "svg"')
    for index, form in enumerate(formats):
        if form in formats[:index]:
            yield Refusal(("files", "formats", index), f"is {shown(form)}, which is listed already")


def _not(allowed: Allowed, value: object, place: Place) -> Refusal:
    return Refusal(place, fault="value", found=value, allowed=allowed)


def _listed(types: Iterable[ToolType]) -> str:
    *some, last = [str(kind) for kind in types]
    return f"{', '.join(some)} or {last}" if some else last
