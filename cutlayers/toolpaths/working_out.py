"""The first stage: what each layer's tool is to follow, and whether it can, in no order yet.

Cheap, and all that a check of a job needs: shared borders, the room for a kerf, bridges, rows of
cuts, scores that are too short, and what is finer than the tool.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Method, OperationPlan, Perforation
from cutlayers.profile.tools import Tool
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, details
from cutlayers.telling.quantities import count as count_of
from cutlayers.telling.quantities import length, lengths
from cutlayers.toolpaths.bridges import bridge, left_of
from cutlayers.toolpaths.kerf import take_up_kerf
from cutlayers.toolpaths.model import PerforatedLine, Worked, WorkedLayer, WorkedLine
from cutlayers.toolpaths.perforation import End, PerforatedRow, perforate
from cutlayers.toolpaths.places import Lines
from cutlayers.toolpaths.score import end_ticks, pull_back
from cutlayers.toolpaths.second_side import AXIS_OF, back_of, is_for_back, turned_over
from cutlayers.toolpaths.shared import cut_shared_once, is_outline, sharing
from cutlayers.toolpaths.small_features import small_features


def work_out(strokes: Sequence[Stroke], machine: Machine) -> Worked:
    """Work out the front of one sheet.

    Strokes are in sheet coordinates (mm, y up, lower left corner the origin). Scores that the
    profile gives to the back are left out here: `work_out_back` has them. Raises NetError where
    pieces overlap.
    """
    groups = sharing(strokes)
    once = cut_shared_once(strokes, groups)
    cuts = Lines(each.path for each in once if each.operation is Operation.CUT)
    side = _Side(machine, cuts, [each for each in strokes if is_outline(each)])
    front = [stroke for stroke in once if not is_for_back(stroke, machine)]
    cutter = side.tool(machine.operations[Operation.CUT])
    if cutter is not None:
        side.findings += small_features(front, cutter)
        if groups and cutter.kerf:
            side.findings.append(_kerf_shared(sum(map(len, groups)), cutter.kerf))
    if len(front) < len(once):
        side.findings.append(_turn_note(len(once) - len(front), machine))
    for operation in Operation:
        _work_out_layer(operation, front, side)
    return side.worked()


def work_out_back(
    strokes: Sequence[Stroke], machine: Machine, width: float, height: float
) -> Worked | None:
    """Work out the back of a sheet of the given size: the scores worked from there, mirrored.

    `strokes` are those of the whole sheet, seen from the front, as for `work_out`; the register
    marks of the back are those of the front moved by `turned_over`. The back is worked before
    the front. None where no stroke is for the back.
    """
    back = [stroke for stroke in strokes if is_for_back(stroke, machine)]
    if not back:
        return None
    mirror = turned_over(machine.operations[Operation.SCORE].scoring.turn, width, height)
    cuts = (each.path.transformed(mirror) for each in strokes if each.operation is Operation.CUT)
    side = _Side(machine, Lines(cuts))
    _work_out_layer(Operation.SCORE, back_of(back, mirror), side)
    return side.worked()


@dataclass(slots=True)
class _Side:
    """One side while it is worked out, with the nominal cuts of the sheet, which say where the
    card has free edges, and the outlines of its pieces as they are drawn."""

    machine: Machine
    cuts: Lines
    outlines: Sequence[Stroke] = ()
    layers: list[WorkedLayer] = field(default_factory=list)
    by_hand: list[Stroke] = field(default_factory=list)
    perforated: list[PerforatedLine] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def tool(self, how: OperationPlan) -> Tool | None:
        """The tool of an operation, if it is worked with one of its own."""
        return None if how.tool is None else self.machine.tools[how.tool]

    def add(self, operation: Operation, tool: Tool, lines: Iterable[WorkedLine]) -> None:
        """Add the layer of an operation."""
        passes = self.machine.operations[operation].passes
        self.layers.append(WorkedLayer(operation, tool, tuple(lines), passes))

    def worked(self) -> Worked:
        """What has been worked out."""
        return Worked(
            tuple(self.layers), tuple(self.by_hand), tuple(self.perforated), tuple(self.findings)
        )


def _work_out_layer(operation: Operation, strokes: Sequence[Stroke], side: _Side) -> None:
    """Work out all that belongs on the layer of one operation."""
    how = side.machine.operations[operation]
    mine = [stroke for stroke in strokes if stroke.operation is operation]
    perforating = side.machine.operations[Operation.PERFORATE]
    tool = side.tool(perforating if how.method is Method.PERFORATE else how)
    if tool is None:
        side.by_hand += mine
        return
    if operation is Operation.DRAW:
        mine += _drawn_for_hand(strokes, side)
    if not mine:
        return
    if operation is Operation.PERFORATE or how.method is Method.PERFORATE:
        _perforate(operation, tool, mine, how.perforation, side)
    elif operation is Operation.SCORE:
        ready, found = pull_back(mine, side.cuts, how.scoring.pull_back)
        side.findings += found
        side.add(operation, tool, map(WorkedLine, ready))
    elif operation is Operation.CUT:
        _cut(tool, mine, how, side)
    else:
        side.add(operation, tool, map(WorkedLine, mine))


def _drawn_for_hand(strokes: Sequence[Stroke], side: _Side) -> list[Stroke]:
    """Lines of other operations that are drawn, whole or as ticks, and left to the hand."""
    drawn: list[Stroke] = []
    for stroke in strokes:
        how = side.machine.operations[stroke.operation]
        if how.method is Method.TICKS:
            drawn += end_ticks([stroke], how.scoring.tick)
        elif how.method is Method.DRAW:
            drawn.append(stroke)
    return drawn


def _perforate(
    operation: Operation,
    tool: Tool,
    strokes: Sequence[Stroke],
    how: Perforation,
    side: _Side,
) -> None:
    if tool.kerf >= min(how.cut, how.minimum_tie):
        # A material may bring a kerf of its own, wider than the rows of the profile allow.
        side.by_hand += strokes
        side.findings.append(_rows_too_fine(operation, tool, how))
        return
    lines = []
    for stroke in strokes:
        ends = (stroke.path.start, stroke.path.end)
        row = perforate(stroke.path, how, *(_row_end(stroke, end, side) for end in ends))
        if row is None:
            side.findings.append(_unperforated(stroke, how))
            continue
        side.perforated.append(_figures(operation, stroke, row, how))
        lines.append(WorkedLine(stroke, row.cuts(tool.kerf)))
    side.add(operation, tool, lines)


def _row_end(stroke: Stroke, point: Point, side: _Side) -> End:
    """A tear line runs out in a cut at a free edge, to start the tear; elsewhere it ends in a
    tie. A score worked as a row must hold, not tear, so it has ties at both ends."""
    tears = stroke.operation is Operation.PERFORATE
    return End.CUT if tears and side.cuts.touch(point) else End.TIE


def _cut(tool: Tool, strokes: Sequence[Stroke], how: OperationPlan, side: _Side) -> None:
    lines, found = take_up_kerf(strokes, tool.kerf)
    side.findings += found
    pieces: list[tuple[Path, ...]] = [()] * len(lines)
    if how.bridges is not None:
        places, found = bridge(side.outlines, lines, how.bridges, tool.kerf)
        side.findings += found
        gap = how.bridges.width + tool.kerf
        pieces = [
            left_of(line.path, at, gap) if at else ()
            for line, at in zip(lines, places, strict=True)
        ]
    side.add(Operation.CUT, tool, map(WorkedLine, lines, pieces))


def _figures(
    operation: Operation, stroke: Stroke, row: PerforatedRow, how: Perforation
) -> PerforatedLine:
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
    """A line is too short for a row of cuts.

    Measured: the length of a line to be worked by short cuts, against one `cut` and two of
    `minimum_tie`.

    Why: a row needs a tie at each end, or its cut runs out through the edge. A line that does not
    hold them is left whole, so at the table it neither tears nor folds where it should.

    Cure: shorten `cut` or `minimum_tie` of the perforation in the profile, or score the line by
    hand.

    Source: common practice, no source.
    """
    return Finding(
        "too-short-to-perforate",
        Severity.WARNING,
        stroke.found_at(stroke.path.point_at(stroke.path.length / 2)),
        (length(stroke.path.length),),
        at_least(length(how.cut + 2 * how.minimum_tie)),
    )


def _rows_too_fine(operation: Operation, tool: Tool, how: Perforation) -> Finding:
    """Cuts or ties of a row are no longer than the kerf is wide.

    Measured: the `cut` and the `minimum_tie` of a row, both against the kerf of its tool.

    Why: each cut ends half a kerf beyond its path on both sides. Cuts no longer than the kerf would
    be mere dots, and ties no longer than it would be burnt away: the row would be one long cut. The
    lines are left out, since a sheet that falls apart on the machine is worse.

    Cure: lengthen `cut` and `minimum_tie` of the perforation in the profile.

    Source: a round tool of the kerf's width; geometry, no source.
    """
    return Finding(
        "row-finer-than-kerf",
        Severity.ERROR,
        Subject(operation=operation.value),
        lengths(how.cut, how.minimum_tie),
        at_least(*lengths(tool.kerf, tool.kerf)),
    )


def _kerf_shared(pieces: int, kerf: float) -> Finding:
    """Pieces that share a border are smaller by what the kerf takes from it.

    Measured: by how much a piece comes out smaller at each border that it shares, half of the kerf;
    a piece between two others is smaller by all of it. Also how many pieces share borders.

    Why: a border between two pieces is cut once, in the middle, and a beam or wheel takes its strip
    from both of them. There is nothing else that it could be taken from.

    Cure: set `gap` under `[sheets]` to the kerf or more, so that each piece is cut beside its own
    border. Where a few tenths of a millimetre do not matter, leave it.

    Source: a round tool of the kerf's width; geometry, no source.
    """
    return Finding(
        "kerf-shared",
        Severity.WARNING,
        Subject(operation=Operation.CUT.value),
        (length(kerf / 2),),
        details=details(pieces=count_of(pieces), kerf=length(kerf)),
    )


def _turn_note(count: int, machine: Machine) -> Finding:
    """Some folds are scored from the back of the sheet.

    Measured: how many folds towards you the sheet has, where the profile says that such folds are
    scored from the back.

    Why: a score presses the card into a bead on its other side, and a fold closes well only over
    its bead. Scored from the wrong side, the outer ply is stretched and may crack.

    Cure: nothing is wrong. Work the back first, turn the sheet over about the axis told, then work
    the front. To score all from one side, set `valleys` under `scoring` to "front" in the profile.

    Source: print trade practice, from memory.
    """
    turn = machine.operations[Operation.SCORE].scoring.turn
    return Finding(
        "second-side",
        Severity.NOTE,
        Subject(operation=Operation.SCORE.value),
        (count_of(count),),
        details=details(axis=AXIS_OF[turn]),
    )
