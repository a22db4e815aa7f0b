"""What of a sheet the tools get to, and how far beyond its line a tool goes.

Terms: the *axis* of a holder is what a machine moves, and what must keep the margin of its bed. A
trailing blade's axis runs `offset` ahead of the tip and swings about corners at that distance; a
beam or wheel runs half a kerf beside the piece. An overcut stays on its line.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.profile.machine import Machine
from cutlayers.profile.tools import Tool
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import length
from cutlayers.toolpaths.model import Worked, WorkedLayer

ROUNDING = 1e-6
"""mm."""


def reach(machine: Machine, width: float, height: float) -> Bounds:
    """What of a sheet the axis of a tool gets to, in mm. Files are moved back by the shift between
    print and work, so what lies there is moved on by it."""
    edge, register = machine.bed.margin, machine.register
    return (
        edge + max(0.0, register.shift_x),
        edge + max(0.0, register.shift_y),
        width - edge + min(0.0, register.shift_x),
        height - edge + min(0.0, register.shift_y),
    )


def beside_pieces(machine: Machine) -> float:
    """mm of the reach that the axes of the machine's tools need beside the pieces.

    A blade that the machine itself swings needs it as well.
    """
    names = {plan.tool for plan in machine.operations.values()} - {None}
    return max((_beside(machine.tools[name]) for name in names if name), default=0.0)


def _beside(tool: Tool) -> float:
    return tool.offset + tool.kerf / 2


def out_of_reach(
    worked: Worked, machine: Machine, width: float, height: float
) -> Iterator[Finding]:
    """Lines lie where the machine's tools do not get to.

    Measured: how near to an edge of the sheet, or how far beyond it, the axis of a tool would have
    to go for the outermost line of a layer. Allowed is the `margin` of the bed, to which the shift
    between print and work is added on the sides that it is away from.

    Why: a machine stops at the end of its way, or runs against it and loses count of where it is.
    The line is then missing or out of place, and so may be all lines after it.

    Cure: measure the marks from the corner that the machine counts from, and check that none of the
    numbers was taken for another's; on a scan, the whole sheet has to be in the picture. Else lay
    or print the sheet anew, so that the print lies where it was planned. If the machine does get
    there, lower `margin` under `[bed]` in the profile.

    Source: the axis of a trailing blade runs the blade's offset ahead of its tip; geometry.
    """
    left, bottom, right, top = reach(machine, width, height)
    for layer in worked.layers:
        if not layer.lines:
            continue
        x0, y0, x1, y1 = _axis_bounds(layer)
        sides = (
            (x0, x0 - left, left),
            (y0, y0 - bottom, bottom),
            (width - x1, right - x1, width - right),
            (height - y1, top - y1, height - top),
        )
        beyond, near, least = min((spare, near, least) for near, spare, least in sides)
        if beyond < -ROUNDING:
            yield Finding(
                "out-of-reach",
                Severity.ERROR,
                Subject(operation=layer.operation.value),
                (length(near),),
                at_least(length(least)),
            )


def _axis_bounds(layer: WorkedLayer) -> Bounds:
    """What the axis of a layer's tool may get to, whichever way its lines are followed."""
    paths = [path for line in layer.lines for path in (line.stroke.path, line.lead) if path]
    x0, y0, x1, y1 = union_bounds(path.bounds for path in paths)
    ahead = layer.tool.offset if layer.tool.trails else 0.0
    around = (x0 - ahead, y0 - ahead, x1 + ahead, y1 + ahead)
    return union_bounds([around, *([layer.hook.bounds] if layer.hook else [])])
