"""The chain from strokes to toolpaths, written once, readable top to bottom."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.findings import Finding
from cutlayers.machine import Machine, Method, Tool
from cutlayers.paths import Path
from cutlayers.strokes import Operation, Stroke
from cutlayers.toolpaths.kerf import take_up_kerf
from cutlayers.toolpaths.model import Plan, Toolpath


def plan_toolpaths(strokes: Sequence[Stroke], machine: Machine) -> Plan:
    """Plan the work of one sheet.

    Strokes are in sheet coordinates (mm, y up, lower left corner the origin).
    """
    toolpaths: list[Toolpath] = []
    by_hand: list[Stroke] = []
    findings: list[Finding] = []
    for operation in Operation:
        for source, method in _sources(operation, machine):
            mine = tuple(stroke for stroke in strokes if stroke.operation is source)
            tool = _tool(source, method, machine)
            if tool is None:
                by_hand.extend(mine)
                continue
            worked, found = take_up_kerf(mine, tool.kerf)
            findings.extend(found)
            for stroke in worked:
                paths: tuple[Path, ...] = (stroke.path,)
                if source is Operation.PERFORATE or method is Method.PERFORATE:
                    perforation = machine.operations[Operation.PERFORATE].perforation
                    paths = _dashes(stroke.path, perforation.cut, perforation.tie)
                toolpaths.extend(
                    Toolpath(operation, tool, path, stroke.part, stroke.name) for path in paths
                )
    return Plan(tuple(toolpaths), tuple(by_hand), tuple(findings))


def _sources(operation: Operation, machine: Machine) -> list[tuple[Operation, Method]]:
    """The operations whose strokes are worked on the layer of this one."""
    sources = [(operation, machine.operations[operation].method)]
    if sources[0][1] is Method.DRAW:
        sources = []
    if operation is Operation.DRAW:
        sources += [
            (other, Method.DRAW)
            for other in Operation
            if machine.operations[other].method is Method.DRAW
        ]
    return sources


def _tool(source: Operation, method: Method, machine: Machine) -> Tool | None:
    plan = machine.operations[source]
    if method is Method.PERFORATE:
        plan = machine.operations[Operation.PERFORATE]
    elif method is Method.DRAW:
        plan = machine.operations[Operation.DRAW]
    return None if plan.tool is None else machine.tools[plan.tool]


def _dashes(path: Path, cut: float, tie: float) -> tuple[Path, ...]:
    count = int((path.length - tie) // (cut + tie))
    if count < 1:
        return ()
    tie = (path.length - count * cut) / (count + 1)
    return tuple(
        path.part(tie + i * (cut + tie), tie + i * (cut + tie) + cut) for i in range(count)
    )
