"""How thick card a net takes, by its own geometry: its folds, what stands beside them, its bends.

A *crease* is a fold that a tool works. The card of a net has a most where a fold is too sharp, a
panel too narrow to be folded, a tuck too short to be held, or a bend too tight for it; and a least
where a panel is so wide that it sags.

Sources: the trade's table for creasing grooves ends at 1.65 mm, and a groove is one and a half
calipers and the rule wide (die-making trade table); all else is common practice, no source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role
from cutlayers.net.stacking import FOLDED_OVER

CREASED = 1.65
"""mm; thicker board is not creased: the trade's table of grooves ends here."""

FOLDED_FLAT = 0.6
"""mm; of thicker card a fold right over splits on its outside. Folding cartons, which are glued
lying flat, are made of 0.2 to 0.6 mm (common practice, no source)."""

RULE = 0.7
"""mm; the width of the rule that makes a groove 1.5 calipers wider than itself."""

TUCK_CALIPERS = 10.0
"""A tuck shorter than so many calipers springs out, and splits its crease when it is pushed in
(common practice, no source: tucks of 12 to 20 mm go with card to about a millimetre)."""

STRETCH = 0.01
"""Share by which the outside of a bend may stretch; card keeps more as a kink (from memory)."""

SPAN = 500.0
"""A panel that is as many calipers wide between its folds sags (common practice, no source: boxes
100 mm wide are made of 0.2 mm at least, boxes 200 mm wide of 0.4 mm)."""

ROUNDING = 1e-6
"""mm; card this near to its limit has met it."""

BORDER_CHORD = 0.05
"""mm; curved borders are measured as lines that keep so near to them."""


class Reason(StrEnum):
    """What sets the most caliper."""

    FOLD = "fold"
    """A fold by so many degrees in the finished box."""
    FLAT = "flat"
    """A fold right over on the way to lying flat, which the piece cannot do without."""
    NARROW = "narrow"
    """A panel that reaches so few mm from a crease."""
    TUCK = "tuck"
    """A tuck so many mm deep."""
    BEND = "bend"
    """A panel that bends without a crease, in a radius of so many mm."""


@frozen
class Most:
    """The most caliper in mm at one place: a panel, or the fold between it and another. `of` is
    what sets it, in degrees or mm as its reason says."""

    caliper: float
    reason: Reason
    panel: str
    beyond: str | None
    of: float


@frozen
class Least:
    """The least caliper in mm that a panel does not sag in, and how wide it is."""

    caliper: float
    panel: str
    span: float


def most_caliper(net: Net, caliper: float) -> Most | None:
    """What sets the most caliper of a net that was made for card of this one; None where nothing
    does. Of several places alike, but for rounding, the first."""
    return min(_mosts(net, caliper), key=lambda each: round(each.caliper, 6), default=None)


def least_caliper(net: Net) -> Least | None:
    """What sets the least caliper of a net that stands; None for one that lies flat."""
    if all(abs(hinge.fold_deg) in (0.0, 180.0) for hinge in net.hinges):
        return None
    seen = [panel for panel in net.panels if panel.role not in (Role.FLAP, Role.GLUE_TAB)]
    spans = [Least(span / SPAN, panel.name, span) for panel in seen for span in (_span(panel),)]
    return max(spans, key=lambda each: each.caliper, default=None)


def is_pressed_flat(net: Net) -> bool:
    """Whether folds of a glued net go right over where it is pressed flat, though it can be glued
    standing as well."""
    return not _must_go_flat(net) and any(_pressed_over(hinge) for hinge in net.hinges)


def folds_up_to(angle_deg: float) -> float:
    """The most caliper in mm of a crease that turns so far: less, the farther beyond a right
    angle."""
    beyond = max(0.0, min(abs(angle_deg), 180.0) - 90.0) / 90.0
    return CREASED + beyond * (FOLDED_FLAT - CREASED)


def least_reach(reason: Reason, caliper: float) -> float:
    """How far in mm a narrow panel or a tuck must reach from its crease in such card: two grooves,
    that of its crease and as much beyond it; or what holds a tuck."""
    return TUCK_CALIPERS * caliper if reason is Reason.TUCK else 2 * (1.5 * caliper + RULE)


def _mosts(net: Net, caliper: float) -> Iterator[Most]:
    must_go_flat = _must_go_flat(net)
    for hinge in net.hinges:
        if hinge.operation is Operation.DRAW:
            continue
        first, second = hinge.first, hinge.second
        if hinge.fold_deg:
            turn = abs(hinge.fold_deg)
            yield Most(folds_up_to(turn), Reason.FOLD, first, second, turn)
        if must_go_flat and _pressed_over(hinge):
            yield Most(FOLDED_FLAT, Reason.FLAT, first, second, 180.0)
        for name in (first, second):
            panel = net.panel(name)
            reach = _reach(panel, hinge.edge)
            yield Most((reach - 2 * RULE) / 3.0, Reason.NARROW, name, None, reach)
        if net.panel(first).role is Role.LID and net.panel(second).role is Role.FLAP:
            reach = _reach(net.panel(second), hinge.edge)
            yield Most(reach / TUCK_CALIPERS, Reason.TUCK, second, None, reach)
    yield from bends(net, caliper)
    yield from _interleaved(net)


def _pressed_over(hinge: Hinge) -> bool:
    return hinge.flat_deg is not None and abs(hinge.flat_deg) > 180.0 - FOLDED_OVER


def _must_go_flat(net: Net) -> bool:
    """Whether lying flat is part of its use: nothing of it is glued, so it can only be meant to be
    shut; or it has creases that do nothing else."""
    if all(panel.lands_on is None for panel in net.panels):
        return any(_pressed_over(hinge) for hinge in net.hinges)
    return any(_pressed_over(hinge) and not hinge.fold_deg for hinge in net.hinges)


def _reach(panel: Panel, crease: Segment) -> float:
    """How far a panel reaches from the straight line through a crease's ends, in mm."""
    return max(abs(_off(crease, point)) for point in panel.outline.points(BORDER_CHORD))


def _off(line: Segment, point: tuple[float, float]) -> float:
    (x0, y0), (x1, y1) = line.start, line.end
    across = (x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)
    return across / math.dist(line.start, line.end)


def _span(panel: Panel) -> float:
    """The shorter side of a panel's bounds, in mm: it is held along the other."""
    left, bottom, right, top = panel.outline.bounds
    return min(right - left, top - bottom)


def bends(net: Net, caliper: float) -> Iterator[Most]:
    """What bends of a net take, by the facets that stand for its panels.

    Facets that turn one way are a curve. A ramp, which turns one way and back, is where it is
    folded; the card itself bends over twice the shorter part beside it, by what the ramp rises.
    """
    if net.facets is None:
        return
    turns: dict[str, list[Hinge]] = defaultdict(list)
    for hinge in net.facets.hinges:
        if hinge.operation is Operation.DRAW:
            turns[hinge.first].append(hinge)
            turns[hinge.second].append(hinge)
    for name, (one, other) in ((name, each) for name, each in turns.items() if len(each) == 2):
        wide = min(abs(_off(one.edge, end)) for end in (other.edge.start, other.edge.end))
        angle = math.radians(abs(one.fold_deg))
        if not angle or wide <= BORDER_CHORD:
            continue
        if one.fold_deg * other.fold_deg > 0:
            radius = wide / angle
            yield Most(2 * STRETCH * radius, Reason.BEND, net.panel_of(name), None, radius)
        else:
            parts = [
                _reach(net.facets.panel(_beyond(hinge, name)), hinge.edge) for hinge in (one, other)
            ]
            layers = wide * math.sin(angle) / caliper
            yield _s_bend(net.panel_of(name), 2 * min(parts), layers)


def _interleaved(net: Net) -> Iterator[Most]:
    """What lids take that lie over one another in turn, the last under the first: each bends over
    as many layers as they lie on."""
    lids = {panel.name: panel for panel in net.panels if panel.role is Role.LID}
    layers = [panel.layer for panel in lids.values()]
    over = max(layers, default=0) - min(layers, default=0)
    for hinge in net.hinges if over else ():
        for name in {hinge.first, hinge.second} & set(lids):
            if net.panel(_beyond(hinge, name)).role is Role.WALL:
                yield _s_bend(name, _reach(lids[name], hinge.edge), over)


def _s_bend(panel: str, long: float, layers: float) -> Most:
    """What two like arcs take, against each other, that rise over so many layers in such a length.

    Source: each arc of radius r turns by θ, with long = 2·r·sin θ and rise = 2·r·(1 − cos θ), so
    long² + rise² = 4·r·rise; the outside of a caliper c bent in it stretches by c / 2r. With a
    rise of n·c both hold at c = long·√(s / (2n − s·n²)).
    """
    caliper = long * math.sqrt(STRETCH / (2 * layers - STRETCH * layers**2))
    return Most(caliper, Reason.BEND, panel, None, caliper / (2 * STRETCH))


def _beyond(hinge: Hinge, name: str) -> str:
    return hinge.second if hinge.first == name else hinge.first
