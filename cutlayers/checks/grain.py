"""Do the main folds run along the grain?

Measured: the length of the main folds that runs across the grain of the card and the length that
runs along it, as the piece lies on its sheet. It is told where more than 1.25 times as much runs
across: a square tray has as much of the one as of the other, whichever way it is turned. Nothing
is told where the job does not say which way the grain runs.

Why: the fibres of card lie mostly one way. Along them a fold is crisp and easy; across them it is
stiff, springs back, and may crack on the outside, most of all in thick or coated card.

Cure: turn the piece a quarter turn on its sheet, by `grain` of the piece in the job; or score
those folds twice. To find the grain of a card, bend it both ways: it gives more easily where it
bends along the grain.

Source: print trade practice, from memory.
"""

from __future__ import annotations

import math

from cutlayers.geometry.transforms import Point
from cutlayers.net.main_folds import main_folds
from cutlayers.net.model import Net
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import length

MORE = 1.25
"""How much more fold must run across the grain than along it before it matters: a square tray
has as much of the one as of the other, whichever way it is turned."""


def check_grain(net: Net, grain: Point) -> tuple[Finding, ...]:
    """A warning where the main folds of a net run across the grain.

    `grain` is the direction of the fibres in the flat net's coordinates, of any length.
    """
    size = math.hypot(*grain)
    along = across = 0.0
    for hinge in main_folds(net):
        (x0, y0), (x1, y1) = hinge.edge.start, hinge.edge.end
        run = (x1 - x0) * grain[0] + (y1 - y0) * grain[1]
        aside = (x1 - x0) * grain[1] - (y1 - y0) * grain[0]
        along += abs(run) / size
        across += abs(aside) / size
    if across <= MORE * along:
        return ()
    return (
        Finding(
            "grain",
            Severity.WARNING,
            Subject(net=net.name),
            (length(across), length(along)),
        ),
    )
