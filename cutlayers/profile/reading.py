"""The profile file: the user's machine, its tools, and how files must be written for it.

`profile_table.py` defines the file; here is what its tables say together: which tool may do
which operation, what is taken where nothing is said. What leaves is a plain `Machine`.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

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
from cutlayers.profile.machine import (
    LOOKS,
    Bed,
    Bridges,
    Correction,
    DxfSettings,
    FilesPlan,
    Machine,
    Material,
    MaterialUse,
    Method,
    OperationPlan,
    Perforation,
    PrintSettings,
    RegisterPlan,
    Scoring,
    SvgSettings,
    Tool,
    ToolType,
)
from cutlayers.profile.search import FoundProfile, find_profile, list_profiles
from cutlayers.profile.tables import (
    MaterialTable,
    MaterialUseTable,
    OperationTable,
    PerforationTable,
    ProfileTable,
    ToolTable,
)
from cutlayers.reading.table_model import problems_of, tidy
from cutlayers.reading.toml_file import Problem, read_toml, refusal
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import ProfileError
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


def read_profile(path: Path) -> Machine:
    """Read and check a profile file; the machine's name is the file's.

    Raises ProfileError with one complete line for each problem.
    """
    return profile_from(read_toml(path, "profile", ProfileError), str(path), path.stem)


def profile_from(table: dict[str, Any], file: str, name: str) -> Machine:
    """The machine in a table already read; `file` is named in messages.

    Raises ProfileError.
    """
    try:
        model = ProfileTable.model_validate(table)
    except ValidationError as error:
        problems = problems_of(error, profile_schema())
        raise ProfileError(refusal(file, problems)) from None
    operations, problems = _plans(model)
    problems = [
        *bed_problems(model.bed),
        *(problem for tool in model.tools.items() for problem in tool_problems(*tool)),
        *problems,
        *layer_problems(operations.values(), model.register_),
        *register_problems(model.register_, model.bed),
        *format_problems(model.files.formats),
        *(
            problem
            for material in model.materials.items()
            for problem in material_problems(*material, operations, model.tools)
        ),
    ]
    if problems:
        raise ProfileError(refusal(file, problems))
    return Machine(
        name=name,
        title=model.title,
        bed=Bed(**model.bed.model_dump()),
        tools={name: _tool(name, tool) for name, tool in model.tools.items()},
        operations=operations,
        register=RegisterPlan(**model.register_.model_dump()),
        printing=PrintSettings(**model.print_.model_dump()),
        dxf=DxfSettings(**model.dxf.model_dump()),
        svg=SvgSettings(**model.svg.model_dump()),
        files=FilesPlan(model.files.formats, model.files.split),
        tool_change_s=model.tool_change_s,
        correction=Correction(**model.correction.model_dump()),
        materials={name: _material(name, table) for name, table in model.materials.items()},
    )


def _tool(name: str, table: ToolTable) -> Tool:
    given = table.model_dump(exclude_none=True)
    return Tool(name=name, **given)


def _material(name: str, table: MaterialTable) -> Material:
    given = {operation: getattr(table, operation.value) for operation in Operation}
    uses = {operation: _use(use) for operation, use in given.items() if use is not None}
    return Material(name, table.grammage, table.contains, table.note, uses)


def _use(table: MaterialUseTable) -> MaterialUse:
    return MaterialUse(
        tool=table.tool,
        passes=table.passes,
        kerf=table.kerf,
        perforation=Perforation(**table.perforation.model_dump()) if table.perforation else None,
        tested_on=table.tested_on,
        note=table.note,
        settings=dict(table.model_extra or {}),
    )


def _plans(model: ProfileTable) -> tuple[dict[Operation, OperationPlan], list[Problem]]:
    """A plan for every operation, in working order, and what is wrong with the tables."""
    tables = {operation: getattr(model.operations, operation.value) for operation in Operation}
    problems = [
        problem
        for operation, table in tables.items()
        for problem in operation_problems(operation, table, model.tools)
    ]
    ways: dict[Operation, tuple[Method, str | None]] = {}
    for operation, table in tables.items():
        try:
            ways[operation] = _way(operation, table, model)
        except ValueRefused as error:
            problems.append(Problem(("operations", operation.value, "tool"), str(error)))
            ways[operation] = (Method.BY_HAND, None)
    for operation, (method, _tool) in ways.items():
        helper = _HELPERS.get(method)
        if helper is not None and ways[helper][0] is not Method.TOOL:
            place = ("operations", operation.value, "as")
            sentence = f'is "{method}", but {helper} has no tool; give operations.{helper}.tool'
            problems.append(Problem(place, sentence))
    rows = _perforation(model.operations.perforate)
    plans = {}
    for operation, (method, tool) in ways.items():
        table = tables[operation] or OperationTable()
        colour, dxf_colour = LOOKS[operation]
        plans[operation] = OperationPlan(
            operation=operation,
            method=method,
            tool=tool,
            passes=table.passes,
            layer=table.layer or operation.value,
            colour=table.colour or colour,
            dxf_colour=table.dxf_colour or dxf_colour,
            perforation=Perforation(**table.perforation.model_dump())
            if table.perforation
            else rows,
            scoring=Scoring(**table.scoring.model_dump()) if table.scoring else Scoring(),
            bridges=Bridges(**table.bridges.model_dump(exclude_none=True))
            if table.bridges
            else None,
        )
    return plans, [*problems, *tie_problems(plans, model.tools)]


def _way(
    operation: Operation, table: OperationTable | None, model: ProfileTable
) -> tuple[Method, str | None]:
    """Method and tool of one operation, as written or by default."""
    if table is not None and table.as_ is not None:
        return table.as_, None
    if table is not None and table.tool is not None:
        return Method.TOOL, table.tool
    if operation is Operation.PERFORATE:
        return _way(Operation.CUT, model.operations.cut, model)
    own = {Operation.DRAW: ToolType.PEN, Operation.SCORE: ToolType.STYLUS}.get(operation)
    names = [name for name, tool in model.tools.items() if tool.type == own]
    if len(names) > 1:
        raise ValueRefused(f"is missing; say which: {' or '.join(shown(name) for name in names)}")
    return (Method.TOOL, names[0]) if names else (Method.BY_HAND, None)


def _perforation(table: OperationTable | None) -> Perforation:
    given: PerforationTable | None = table.perforation if table else None
    return Perforation(**given.model_dump()) if given else Perforation()


def profile_schema() -> dict[str, Any]:
    """JSON Schema of the profile file, for editors; "unit" tells what a bare number means."""
    schema: dict[str, Any] = tidy(ProfileTable.model_json_schema())
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "cutlayers profile",
        **schema,
    }
