"""Where a folded net can be cut square to an axis and pulled apart, so that it grows along it.

A place is one where every border that is cut runs straight along the axis: what is pulled apart
there becomes longer and nothing else. Flaps and tabs that hang on a crease square to the axis reach
through it from one side, and are not cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import pairwise

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import FoldedNet
from cutlayers.net.model import Net
from cutlayers.net.panel import Panel, Role
from cutlayers.net.space import Vector, dot
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span

AXES: Mapping[str, Vector] = {
    "length": (1.0, 0.0, 0.0),
    "width": (0.0, 1.0, 0.0),
    "height": (0.0, 0.0, 1.0),
}
"""Of a box that stands: along its front, from front to back, upwards."""

HANGING = (Role.FLAP, Role.GLUE_TAB)
"""Panels that keep their size where they hang from one side."""

PARALLEL = math.cos(math.radians(1.5))
"""A border whose direction has so much of the axis's runs along it; drawings are not exact."""

APART = 0.05
"""mm; corners that lie nearer to each other along the axis lie in one place."""

NARROW = 2.0
"""mm; a narrower place is a step between layers, or between two corners of a notch."""

LEFT = 1.0
"""mm that have to be left of a place that shrinks."""

MIRRORED = 1.0
"""mm by which two places may differ from lying alike to both sides of the middle."""

INNER = 3.0
"""mm off both ends of the box from which a panel across stands inside of it."""

CHORD = 0.2
"""mm; how far chords lie off curved borders here."""


@frozen
class Along:
    """A folded net seen along an axis.

    A point (x, y) of a panel lies at `offset + x·ax + y·ay`, its `slope` being (ax, ay). `growing`
    are the panels that are cut where a place goes through them; `low` and `high` the ends of what
    does not hang.
    """

    net: Net
    slope: Mapping[str, Point]
    offset: Mapping[str, float]
    growing: frozenset[str]
    low: float
    high: float

    @property
    def size(self) -> float:
        """From end to end, in mm."""
        return self.high - self.low

    def at(self, panel: str, point: Point) -> float:
        """Where a point of a panel lies along the axis."""
        (ax, ay), (x, y) = self.slope[panel], point
        return self.offset[panel] + ax * x + ay * y

    def runs_along(self, panel: str, edge: Segment) -> bool:
        """Whether a straight edge of a panel runs along the axis."""
        rise = self.at(panel, edge.end) - self.at(panel, edge.start)
        return not edge.bulge and abs(rise) >= PARALLEL * edge.chord


@frozen
class Cut:
    """A place where the net is pulled apart by so many mm."""

    at: float
    by: float


def along_axis(folded: FoldedNet, axis: Vector) -> Along:
    """A folded net seen along an axis."""
    net = folded.net
    poses = {panel.name: folded.pose(panel.name) for panel in net.panels}
    slope = {name: (dot(axis, each.right), dot(axis, each.up)) for name, each in poses.items()}
    offset = {name: dot(axis, each.origin) for name, each in poses.items()}
    whole = Along(net, slope, offset, frozenset(), 0.0, 0.0)
    standing = [panel for panel in net.panels if panel.role not in HANGING] or net.panels
    ends = [whole.at(panel.name, point) for panel in standing for point in _points(panel)]
    growing = frozenset(panel.name for panel in net.panels if _grows(whole, panel))
    return Along(net, slope, offset, growing, min(ends), max(ends))


def _grows(along: Along, panel: Panel) -> bool:
    """Whether a panel is cut: all but flaps and tabs that hang on creases square to the axis."""
    if panel.role not in HANGING:
        return True
    return any(
        along.runs_along(panel.name, hinge.edge) for hinge in along.net.hinges_of([panel.name])
    )


def cuts(along: Along, by: float) -> tuple[Cut, ...]:
    """Where to pull a net apart that is to become so much longer.

    Raises ValueRefused where there is no place, where there are two, or where too little is left.
    """
    places = list(_places(along))
    if not places:
        raise ValueRefused("cannot be changed: wherever the box could grow a border leans or bends")
    best = max(places, key=lambda place: place[1] - place[0])
    inner = _inner(along, places)
    if inner is not None:
        raise ValueRefused(
            f"could grow on either side of {inner!r}, which stands inside; draw it at that size"
        )
    middle = along.low + along.high
    mirrored = [
        place
        for place in places
        if place != best
        and abs(place[0] + best[1] - middle) < MIRRORED
        and abs(place[1] + best[0] - middle) < MIRRORED
    ]
    chosen = [best, *mirrored[:1]]
    room = min(high - low for low, high in chosen) - LEFT
    if -by / len(chosen) > room:
        least = math.ceil(10 * (along.size - room * len(chosen))) / 10
        raise ValueRefused(
            found=round(along.size + by, 3), allowed=Span(least, unit="mm"), fault="value"
        )
    return tuple(Cut((low + high) / 2, by / len(chosen)) for low, high in chosen)


def _places(along: Along) -> Iterator[tuple[float, float]]:
    """From where to where along the axis every border runs along it."""
    growing = [panel for panel in along.net.panels if panel.name in along.growing]
    marks = sorted(along.at(panel.name, point) for panel in growing for point in _points(panel))
    edges = [
        (
            *sorted((along.at(panel.name, edge.start), along.at(panel.name, edge.end))),
            along.runs_along(panel.name, edge),
        )
        for panel in growing
        for edge in panel.outline.segments
    ]
    for low, high in pairwise(marks):
        if high - low < NARROW:
            continue
        middle = (low + high) / 2
        if all(straight for start, end, straight in edges if start < middle < end):
            yield low, high


def _points(panel: Panel) -> list[Point]:
    return panel.outline.points(CHORD)


def _inner(along: Along, places: list[tuple[float, float]]) -> str | None:
    """A panel that stands across the axis inside of the box, with a place to grow on both sides."""
    for panel in along.net.panels:
        ax, ay = along.slope[panel.name]
        at = along.at(panel.name, panel.outline.start)
        if (
            panel.role not in HANGING
            and math.hypot(ax, ay) < math.sin(math.radians(1.5))
            and along.low + INNER < at < along.high - INNER
            and any(high <= at + APART for _, high in places)
            and any(low >= at - APART for low, _ in places)
        ):
            return panel.name
    return None
