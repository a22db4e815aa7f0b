"""The chain from strokes to toolpaths, written once, readable from top to bottom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.profile.machine import Machine, Method, OperationPlan, Perforation, Tool
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, details
from cutlayers.telling.quantities import count as count_of
from cutlayers.telling.quantities import length, lengths
from cutlayers.toolpaths.blade import (
    final_direction,
    holder_path,
    overcut,
    rest_direction,
    trails,
)
from cutlayers.toolpaths.bridges import bridge
from cutlayers.toolpaths.kerf import take_up_kerf
from cutlayers.toolpaths.load import HOME
from cutlayers.toolpaths.model import PerforatedLine, Plan, Toolpath
from cutlayers.toolpaths.order import in_order
from cutlayers.toolpaths.perforation import End, Row, perforate
from cutlayers.toolpaths.places import Lines
from cutlayers.toolpaths.score import end_ticks, pull_back
from cutlayers.toolpaths.second_side import AXIS_OF, back_of, is_for_back, turned_over
from cutlayers.toolpaths.shared import cut_shared_once
from cutlayers.toolpaths.small_features import small_features


def plan_toolpaths(strokes: Sequence[Stroke], machine: Machine) -> Plan:
    """Plan the front of one sheet.

    Strokes are in sheet coordinates (mm, y up, lower left corner the origin). Scores that the
    profile gives to the back are left out here: `plan_back` has them.
    """
    once = cut_shared_once(strokes)
    work = _Work(machine, Lines(each.path for each in once if each.operation is Operation.CUT))
    front = [stroke for stroke in once if not is_for_back(stroke, machine)]
    cutter = work.tool(machine.operations[Operation.CUT])
    if cutter is not None:
        work.findings += small_features(front, cutter)
    if len(front) < len(once):
        work.findings.append(_turn_note(len(once) - len(front), machine))
    for operation in Operation:
        _plan_layer(operation, front, work)
    return work.plan()


def plan_back(
    strokes: Sequence[Stroke], machine: Machine, width: float, height: float
) -> Plan | None:
    """Plan the back of a sheet of the given size: the scores worked from there, mirrored.

    `strokes` are those of the whole sheet, seen from the front, as for `plan_toolpaths`; the
    register marks of the back are those of the front moved by `turned_over`. The back is worked
    before the front. None where no stroke is for the back.
    """
    back = [stroke for stroke in strokes if is_for_back(stroke, machine)]
    if not back:
        return None
    mirror = turned_over(machine.operations[Operation.SCORE].scoring.turn, width, height)
    cuts = [stroke.path.transformed(mirror) for stroke in strokes if _is_cut(stroke)]
    work = _Work(machine, Lines(cuts))
    _plan_layer(Operation.SCORE, back_of(back, mirror), work)
    return work.plan()


@dataclass(slots=True)
class _Work:
    """A plan while it is being made: what is done so far, where the tools are, and the nominal
    cuts of the sheet, which say where the card has free edges."""

    machine: Machine
    cuts: Lines
    toolpaths: list[Toolpath] = field(default_factory=list)
    by_hand: list[Stroke] = field(default_factory=list)
    perforated: list[PerforatedLine] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    here: Point = HOME
    pointing: dict[str, Point] = field(default_factory=dict)

    def tool(self, how: OperationPlan) -> Tool | None:
        """The tool of an operation, if it is worked with one of its own."""
        return None if how.tool is None else self.machine.tools[how.tool]

    def follow(self, operation: Operation, tool: Tool, stroke: Stroke, tip: Path) -> None:
        """Add the path on which the tool's holder leads its tip along `tip`."""
        path = tip
        if trails(tool):
            path = holder_path(tip, tool, self.pointing.get(tool.name, rest_direction(tool)))
            self.pointing[tool.name] = final_direction(tip)
        self.toolpaths.append(Toolpath(operation, tool, path, stroke.part, stroke.name))
        self.here = tip.end

    def plan(self) -> Plan:
        """What has been done."""
        return Plan(
            tuple(self.toolpaths),
            tuple(self.by_hand),
            tuple(self.perforated),
            tuple(self.findings),
        )


def _plan_layer(operation: Operation, strokes: Sequence[Stroke], work: _Work) -> None:
    """Work all that belongs on the layer of one operation."""
    how = work.machine.operations[operation]
    mine = [stroke for stroke in strokes if stroke.operation is operation]
    perforating = work.machine.operations[Operation.PERFORATE]
    tool = work.tool(perforating if how.method is Method.PERFORATE else how)
    if tool is None:
        work.by_hand += mine
        return
    if operation is Operation.DRAW:
        mine += _drawn_for_hand(strokes, work)
    if not mine:
        return
    if operation is Operation.PERFORATE or how.method is Method.PERFORATE:
        _perforate(operation, tool, mine, how.perforation, work)
    elif operation is Operation.SCORE:
        ready, found = pull_back(mine, work.cuts, how.scoring.pull_back)
        work.findings += found
        _follow_all(operation, tool, ready, work)
    elif operation is Operation.CUT:
        _cut(tool, mine, how, work)
    else:
        _follow_all(operation, tool, mine, work)


def _drawn_for_hand(strokes: Sequence[Stroke], work: _Work) -> list[Stroke]:
    """Lines of other operations that are drawn, whole or as ticks, and left to the hand."""
    drawn: list[Stroke] = []
    for stroke in strokes:
        how = work.machine.operations[stroke.operation]
        if how.method is Method.TICKS:
            drawn += end_ticks([stroke], how.scoring.tick)
        elif how.method is Method.DRAW:
            drawn.append(stroke)
    return drawn


def _follow_all(operation: Operation, tool: Tool, strokes: Sequence[Stroke], work: _Work) -> None:
    for stroke in in_order(strokes, work.here):
        work.follow(operation, tool, stroke, stroke.path)


def _perforate(
    operation: Operation,
    tool: Tool,
    strokes: Sequence[Stroke],
    how: Perforation,
    work: _Work,
) -> None:
    if tool.kerf >= min(how.cut, how.minimum_tie):
        # A material may bring a kerf of its own, wider than the rows of the profile allow.
        work.by_hand += strokes
        work.findings.append(_rows_too_fine(operation, tool, how))
        return
    for stroke in in_order(strokes, work.here):
        row = perforate(stroke.path, how, *(_row_end(stroke, p, work) for p in _ends(stroke)))
        if row is None:
            work.findings.append(_unperforated(stroke, how))
            continue
        work.perforated.append(_figures(operation, stroke, row, how))
        for piece in row.cuts(tool.kerf):
            work.follow(operation, tool, stroke, piece)


def _ends(stroke: Stroke) -> tuple[Point, Point]:
    return stroke.path.start, stroke.path.end


def _row_end(stroke: Stroke, point: Point, work: _Work) -> End:
    """A tear line runs out in a cut at a free edge, to start the tear; elsewhere it ends in a
    tie. A score worked as a row must hold, not tear, so it has ties at both ends."""
    tears = stroke.operation is Operation.PERFORATE
    return End.CUT if tears and work.cuts.touch(point) else End.TIE


def _cut(tool: Tool, strokes: Sequence[Stroke], how: OperationPlan, work: _Work) -> None:
    moved, found = take_up_kerf(strokes, tool.kerf)
    work.findings += found
    for stroke in in_order(moved, work.here, tool.kerf / 2):
        tips: tuple[Path, ...] = (overcut(stroke.path, tool.overcut),)
        if how.bridges is not None and stroke.part is Part.OUTLINE and stroke.path.closed:
            bridged, found = bridge(stroke, how.bridges, tool.kerf)
            work.findings += found
            tips = bridged.cuts if bridged.at else tips
        for tip in tips:
            work.follow(Operation.CUT, tool, stroke, tip)


def _is_cut(stroke: Stroke) -> bool:
    return stroke.operation is Operation.CUT


def _figures(operation: Operation, stroke: Stroke, row: Row, how: Perforation) -> PerforatedLine:
    return PerforatedLine(
        operation,
        stroke.name,
        stroke.path.length,
        len(row.spans),
        how.cut,
        row.tie,
        row.cuts_per_inch,
        row.tie_share,
    )


def _unperforated(stroke: Stroke, how: Perforation) -> Finding:
    return Finding(
        "too-short-to-perforate",
        Severity.WARNING,
        stroke.found_at(stroke.path.point_at(stroke.path.length / 2)),
        (length(stroke.path.length),),
        at_least(length(how.cut + 2 * how.minimum_tie)),
    )


def _rows_too_fine(operation: Operation, tool: Tool, how: Perforation) -> Finding:
    return Finding(
        "row-finer-than-kerf",
        Severity.ERROR,
        Subject(operation=operation.value),
        lengths(how.cut, how.minimum_tie),
        at_least(*lengths(tool.kerf, tool.kerf)),
    )


def _turn_note(count: int, machine: Machine) -> Finding:
    turn = machine.operations[Operation.SCORE].scoring.turn
    return Finding(
        "second-side",
        Severity.NOTE,
        Subject(operation=Operation.SCORE.value),
        (count_of(count),),
        details=details(axis=AXIS_OF[turn]),
    )
