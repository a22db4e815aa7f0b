"""What the machine is to do: paths of a tool, in the order in which they are worked."""

from __future__ import annotations

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.tools import Tool
from cutlayers.telling.findings import Finding


@frozen
class Toolpath:
    """One path that a tool follows without lifting.

    `operation` is the layer it belongs to; the tool may be that of another operation, as where
    scores are worked as fine perforation. `path` is what the holder's axis follows, so the
    width of the tool and the trailing of its tip are already taken up. `part` and `name` are
    those of the stroke it came from. `turn` is 1 in the first pass over the layer, 2 in the second.
    """

    operation: Operation
    tool: Tool
    path: Path
    part: Part
    name: str
    turn: int = 1


@frozen
class PerforatedLine:
    """What became of a line worked by short cuts.

    `length`, `cut` and `tie` are mm; `tie` is the shortest. `cuts_per_inch` is what the trade
    calls TPI, and `tie_share` the part of the line that still holds, 0…1.
    """

    operation: Operation
    name: str
    length: float
    cuts: int
    cut: float
    tie: float
    cuts_per_inch: float
    tie_share: float


@frozen
class WorkedLine:
    """One line of a layer: a stroke with the width of the tool taken up, to be followed whole
    or, where there are any, in `pieces`, which lie along it from its start on.

    Of a closed stroke the last piece may run on past its start. A `lead` is a straight way in
    through the waste; such a line begins at its own start.
    """

    stroke: Stroke
    pieces: tuple[Path, ...] = ()
    lead: Path | None = None


@frozen
class WorkedLayer:
    """The lines of one operation with one tool, in no order yet.

    The tool goes over all of them, and then over all again, `passes` times. A `hook` in the waste
    comes before the first: it sets a trailing blade straight.
    """

    operation: Operation
    tool: Tool
    lines: tuple[WorkedLine, ...]
    passes: int = 1
    hook: Path | None = None


@frozen
class Worked:
    """One side of one sheet worked out, not yet ordered: all that a check needs to know.

    Guaranteed: layers stand as the operations do, draw, score, perforate, cut. Each stroke is a
    line of a layer, or is among `by_hand`, or is named by a finding; none is dropped in silence.
    `by_hand` holds the strokes that are not worked as they should be: those left out, and scores
    that are only drawn or ticked to be scored by hand.
    """

    layers: tuple[WorkedLayer, ...]
    by_hand: tuple[Stroke, ...] = ()
    perforated: tuple[PerforatedLine, ...] = ()
    findings: tuple[Finding, ...] = ()


@frozen
class Plan:
    """All toolpaths of one side of one sheet, and what was told with `Worked`.

    Guaranteed: toolpaths stand in working order, draw, score, perforate, cut, one group for each
    operation; within the cuts, what lies inside a piece comes before the piece's outline.
    """

    toolpaths: tuple[Toolpath, ...]
    by_hand: tuple[Stroke, ...] = ()
    perforated: tuple[PerforatedLine, ...] = ()
    findings: tuple[Finding, ...] = ()

    def of(self, operation: Operation) -> tuple[Toolpath, ...]:
        """The toolpaths of one operation, in working order."""
        return tuple(each for each in self.toolpaths if each.operation is operation)
