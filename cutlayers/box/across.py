"""Creases that go straight across a net with rings of hinges.

Where creases meet in a point none of them turns by itself, unless two that are in line turn
together: then all that lies beyond their line goes over as one sheet (a simple fold).
"""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.box.closing import Closure, reached
from cutlayers.net import Hinge, Net
from cutlayers.net.tube import parallel

SAME_LINE = 0.01
"""mm beside a line, within which creases are one."""


def straight_across(net: Net, goals: Mapping[Hinge, float]) -> list[tuple[Closure, ...]]:
    """The creases of several hinges that turn to one goal in degrees and part a net in two, those
    with the fewest panels beyond first: a closure for each hinge, the first with all of these."""
    lines: list[list[Hinge]] = []
    for hinge, goal in goals.items():
        in_line = (
            line
            for line in lines
            if goals[line[0]] == goal
            and parallel(hinge, line[0])
            and beside(hinge, line[0]) <= SAME_LINE
        )
        line = next(in_line, None)
        if line is None:
            lines.append([hinge])
        else:
            line.append(hinge)
    found = [_swinging(net, line) for line in lines if len(line) > 1]
    return sorted(filter(None, found), key=lambda swing: len(swing[0].panels))


def _swinging(net: Net, line: list[Hinge]) -> tuple[Closure, ...]:
    """What swings about a line; nothing where it does not part the net."""
    links = [(hinge.first, hinge.second) for hinge in net.hinges if hinge not in line]
    still = {*reached(net.root.name, links)}
    if any((hinge.first in still) == (hinge.second in still) for hinge in line):
        return ()
    first, *others = (each.second if each.first in still else each.first for each in line)
    own = reached(first, links)
    rest = [name for other in others for name in reached(other, links) if name not in own]
    panels = tuple(dict.fromkeys((*own, *rest)))
    return Closure(panels, line[0]), *(
        Closure((other,), hinge) for other, hinge in zip(others, line[1:], strict=True)
    )


def beside(one: Hinge, other: Hinge) -> float:
    """How far the start of one crease lies beside the line of another, in mm."""
    (x, y), (ux, uy) = other.edge.start, other.edge.direction_at(0.5)
    return abs(ux * (one.edge.start[1] - y) - uy * (one.edge.start[0] - x))
