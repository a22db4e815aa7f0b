"""The profile file: the user's machine, its tools, and how files must be written for it.

The dataclasses of `machine.py` and `output.py` say what each key may be; here is what its tables
say together: which tool may do which operation, what is taken where nothing is said.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from cutlayers.geometry.strokes import Operation
from cutlayers.profile.checks import (
    bed_problems,
    format_problems,
    layer_problems,
    material_problems,
    operation_problems,
    register_problems,
    tie_problems,
    tool_problems,
)
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import LOOKS, Method, OperationPlan, Perforation, Scoring
from cutlayers.profile.search import FoundProfile, find_profile, list_profiles
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.profile.written import WrittenOperation, WrittenOperations, profile_fields
from cutlayers.reading.tables import read_values
from cutlayers.reading.toml_file import parse_toml, read_toml
from cutlayers.reading.values import ValueRefused, readable
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.refusals import Refusal, within
from cutlayers.telling.written import shown

__all__ = [
    "FoundProfile",
    "find_profile",
    "list_profiles",
    "profile_from",
    "profile_schema",
    "read_profile",
]


_HELPERS = {
    Method.PERFORATE: Operation.PERFORATE,
    Method.DRAW: Operation.DRAW,
    Method.TICKS: Operation.DRAW,
}
"""The operation whose tool another one borrows."""


def read_profile(name_or_path: str | Path, folder: Path = Path()) -> Machine:
    """Read and check a profile; the machine's name is the file's.

    A name is looked for among the user's own profiles, then among those that come with the
    package; what ends in .toml or holds a folder is a file, a relative one from `folder`. Raises
    ProfileError where there is none, and with one complete line for each problem in it.
    """
    path = find_profile(name_or_path, folder)
    return profile_from(read_toml(path, "profile", ProfileError), str(path), path.stem)


def profile_in(text: str, path: Path) -> Machine:
    """The same of a text that is, or is to be, in the file at `path`. Raises ProfileError."""
    return profile_from(parse_toml(text, str(path)), str(path), path.stem)


def profile_from(table: dict[str, Any], file: str, name: str) -> Machine:
    """The machine in a table already read; `file` is named in messages.

    Raises ProfileError.
    """
    values, problems = read_values(profile_fields(), table, "mm")
    if problems:
        raise ProfileError(*within(file, problems))
    written: WrittenOperations = values.pop("operations")
    values.pop("trials", None)  # the diary is for the user alone
    operations, problems = _plans(written, values["tools"], table["operations"])
    machine = Machine(name=readable(name), operations=operations, **values)
    problems = [
        *bed_problems(machine.bed),
        *(
            problem
            for tool in machine.tools.values()
            for problem in tool_problems(tool, table["tools"][tool.name])
        ),
        *problems,
        *layer_problems(operations.values(), machine.register),
        *register_problems(machine.register, machine.bed),
        *format_problems(machine.files.formats),
        *(
            problem
            for material in machine.materials.values()
            for problem in material_problems(material, machine)
        ),
    ]
    if problems:
        raise ProfileError(*within(file, problems))
    return machine


def _plans(
    written: WrittenOperations, tools: Mapping[str, Tool], table: Mapping[str, Any]
) -> tuple[dict[Operation, OperationPlan], list[Refusal]]:
    """A plan for every operation, in working order, and what is wrong with the tables."""
    asked: dict[Operation, WrittenOperation | None] = {
        operation: getattr(written, operation.value) for operation in Operation
    }
    problems = [
        problem
        for operation, each in asked.items()
        if each is not None
        for problem in operation_problems(operation, each, tools, table[operation.value])
    ]
    ways: dict[Operation, tuple[Method, str | None]] = {}
    for operation in asked:
        try:
            ways[operation] = _way(operation, asked, tools)
        except ValueRefused as error:
            problems.append(error.refusal.under("operations", operation.value, "tool"))
            ways[operation] = (Method.BY_HAND, None)
    for operation, (method, _tool) in ways.items():
        helper = _HELPERS.get(method)
        if helper is not None and ways[helper][0] is not Method.TOOL:
            place = ("operations", operation.value, "as")
            sentence = f'is "{method}", but {helper} has no tool; give operations.{helper}.tool'
            problems.append(Refusal(place, sentence))
    rows = (written.perforate.perforation if written.perforate else None) or Perforation()
    plans = {}
    for operation, (method, tool) in ways.items():
        each = asked[operation] or WrittenOperation()
        colour, dxf_colour = LOOKS[operation]
        plans[operation] = OperationPlan(
            operation=operation,
            method=method,
            tool=tool,
            passes=each.passes,
            layer=each.layer or operation.value,
            colour=each.colour or colour,
            dxf_colour=each.dxf_colour or dxf_colour,
            perforation=each.perforation or rows,
            scoring=each.scoring or Scoring(),
            bridges=each.bridges,
        )
    return plans, [*problems, *tie_problems(plans, tools)]


def _way(
    operation: Operation,
    asked: Mapping[Operation, WrittenOperation | None],
    tools: Mapping[str, Tool],
) -> tuple[Method, str | None]:
    """Method and tool of one operation, as written or by default."""
    each = asked[operation]
    if each is not None and each.method is not None:
        return each.method, None
    if each is not None and each.tool is not None:
        return Method.TOOL, each.tool
    if operation is Operation.PERFORATE:
        return _way(Operation.CUT, asked, tools)
    own = {Operation.DRAW: ToolType.PEN, Operation.SCORE: ToolType.STYLUS}.get(operation)
    names = [name for name, tool in tools.items() if tool.type == own]
    if len(names) > 1:
        raise ValueRefused(f"is missing; say which: {' or '.join(shown(name) for name in names)}")
    return (Method.TOOL, names[0]) if names else (Method.BY_HAND, None)


def profile_schema() -> dict[str, Any]:
    """JSON Schema of the profile file, for editors; "unit" tells what a bare number means."""
    from cutlayers.reading.schema import file_schema

    return file_schema(profile_fields(), "cutlayers profile", "A whole profile.", "mm")
