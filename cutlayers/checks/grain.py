"""Do the main folds run along the grain?

Measured: the length of the main folds that runs across the grain of the card and the length that
runs along it, as the piece lies on its sheet. It is told where more than 1.25 times as much runs
across: a square tray has as much of the one as of the other, whichever way it is turned. Nothing
is told where the job does not say which way the grain runs. Tubes are another matter: see
`cutlayers explain grain-of-tube`.

Why: the fibres of card lie mostly one way. Along them a fold is crisp and easy; across them it is
stiff, springs back, and may crack on the outside, most of all in thick or coated card. A card that
is folded once, and a tray with long sides, lie better with it.

Cure: turn the piece a quarter turn on its sheet, by `grain` of the piece in the job: a word for all
its blanks, or a table with a word for each, `grain = { base = "along", lid = "across" }`; or score
those folds twice. To find the grain of a card, bend it both ways: it gives more easily where it
bends along the grain.

Source: print trade practice, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cutlayers.geometry.transforms import Point
from cutlayers.net.main_folds import main_folds
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.net.tube import tube_creases
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import length

MORE = 1.25
"""How much more fold must run the wrong way than the right one before it matters: a square tray
has as much of the one as of the other, whichever way it is turned."""


def check_grain(net: Net, grain: Point) -> tuple[Finding, ...]:
    """A warning where the folds of a net run the wrong way to the grain.

    `grain` is the direction of the fibres in the flat net's coordinates, of any length.
    """
    creases = tube_creases(net)
    if creases:
        return _tube(net, creases, grain)
    across, along = _lengths(main_folds(net), grain)
    return _told("grain", net, across, along)


def _tube(net: Net, creases: Iterable[Hinge], grain: Point) -> tuple[Finding, ...]:
    """Does the grain run round a tube?

    Measured: the length of the creases round a tube (those between its walls, and that of its glue
    tab) that runs along the grain of the card, and the length that runs across it, as the piece
    lies on its sheet. It is told where more than 1.25 times as much runs along. Nothing is told
    where the job does not say which way the grain runs.

    Why: card is stiff along its fibres and bows across them, with every change of the air's
    dampness most of all. In a tube the panels are held at two sides by their creases, so what
    stiffens them is grain that runs from crease to crease, round the tube and across the upright
    creases. With the grain upright the panels bow out, the mouth gapes, and tuck flaps fit badly.

    Cure: turn the piece a quarter turn on its sheet, by `grain = "across"` of the piece in the
    job, or `grain.NET = "across"` where the box has several blanks, and score well: these folds
    then run across the fibres. To find the grain of a card, bend it both ways: it gives more easily
    where it bends along the grain.

    Source: common practice for folding cartons, from memory.
    """
    across, along = _lengths(creases, grain)
    return _told("grain-of-tube", net, along, across)


def _told(code: str, net: Net, wrong: float, right: float) -> tuple[Finding, ...]:
    if wrong <= MORE * right:
        return ()
    measured = (length(wrong), length(right))
    return (Finding(code, Severity.WARNING, Subject(net=net.name), measured),)


def _lengths(hinges: Iterable[Hinge], grain: Point) -> tuple[float, float]:
    """How much of these folds runs across the grain, and how much along it, in mm."""
    size = math.hypot(*grain)
    along = across = 0.0
    for hinge in hinges:
        (x0, y0), (x1, y1) = hinge.edge.start, hinge.edge.end
        along += abs((x1 - x0) * grain[0] + (y1 - y0) * grain[1]) / size
        across += abs((x1 - x0) * grain[1] - (y1 - y0) * grain[0]) / size
    return across, along
