"""Tongues in slits of the folded box, measured: how far they bite, what they hold by, their play,
and the card beside the slit.

A tongue and the panel that holds it are those of `Net.engagements`; either may be bent, and is then
measured by its facets. This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cache, partial

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import area, common, corners_shared, together, without
from cutlayers.geometry.transforms import Point
from cutlayers.net.assembly import Assembly
from cutlayers.net.engagement import Engagement
from cutlayers.net.faces import FACE_CHORD, Face, facing, height, seen_from
from cutlayers.net.features import Work
from cutlayers.net.model import Net
from cutlayers.net.space import dot, minus

FAR = 1e4
"""mm; farther than any sheet."""

PARALLEL = 1e-3
"""Sine of the angle up to which two faces do not cross."""

CROSSES = 0.1
"""mm; a shorter cut is two corners that touch."""

FINE = 0.01
"""mm; how exactly a bridge that is too narrow is measured."""

BRIDGE_CHORD = 0.001
"""mm; how near to curved borders their chords lie where bridges are measured: what is as wide as
it must be counts as that, two of these and all."""

SLIVER = 1.0
"""mm²; a smaller part that comes off when card is drawn in is a corner of it."""


@frozen
class Lock:
    """One tongue in its slit; lengths in mm.

    `bite` is how far the tongue reaches through the card of the panel that holds it, from the near
    face on; `hold` how much card of that panel lies before or behind the tongue and holds it.
    `play` is what is left of the slit's width once the tongue is in it; None where it is open.
    `in_the_way` is how much of the tongue's width meets card where the slit should be. `made` is
    what both were made from.
    """

    net: str
    tongue: str
    slit: str
    made: Engagement
    bite: float
    hold: float
    play: float | None
    in_the_way: float = 0.0


def locks(box: Assembly, net: Net) -> Iterator[Lock]:
    """Each tongue of a net with the slit that it goes into; the nets of `box` may be bent."""
    faces = cache(partial(_faces, box, net))
    cards = cache(partial(_card, net))
    for tongue, slit, made in net.engagements:
        through, held, card = faces(tongue), faces(slit), cards(slit)
        crossings = [
            each for one in through for other in held if (each := _crossing(one, other, card))
        ]
        if not crossings:
            yield Lock(net.name, tongue, slit, made, 0.0, 0.0, None)
            continue
        crossing = max(crossings, key=lambda each: each.high - each.low)
        reach, side = _beyond(crossing.slit, through, net, tongue)
        along = max(_overlap(face, part, side) for face in through for part in held)
        yield Lock(
            net.name,
            tongue,
            slit,
            made,
            reach + net.caliper / 2,
            along or crossing.caught,
            _play(crossing, net, slit, made),
            _in_the_way(crossing, card),
        )


def bridge(net: Net, panel: str, most: float) -> float | None:
    """How wide the narrowest bridge of card beside a panel's openings is in mm, on the flat and
    with what hangs on it; None where none is narrower than `most`.

    Card that is drawn in on all sides by half of a bridge's width falls apart there, or opens to
    its border.
    """
    beside = {name for hinge in net.hinges_of([panel]) for name in (hinge.first, hinge.second)}
    shape = together(_card(net, name, BRIDGE_CHORD) for name in (panel, *sorted(beside - {panel})))
    whole = _pieces(shape, 0.0)
    if _pieces(shape, most / 2 - 2 * BRIDGE_CHORD) == whole:
        return None
    low, high = 0.0, most / 2
    while high - low > FINE / 2:
        middle = (low + high) / 2
        low, high = (middle, high) if _pieces(shape, middle) == whole else (low, middle)
    return 2 * low


def _pieces(shape: BaseGeometry, drawn_in: float) -> tuple[int, int]:
    """How many parts and openings are left of a shape that is drawn in."""
    left = shape.buffer(-drawn_in, join_style="mitre") if drawn_in else shape
    parts = [part for part in shapely.get_parts(left) if part.area > SLIVER]
    return len(parts), sum(len(part.interiors) for part in parts)


def _card(net: Net, panel: str, chord: float = FACE_CHORD) -> BaseGeometry:
    """A panel's flat shape with its windows and slots taken out, its borders chords so near."""
    outline, features = net.panel(panel).outline, net.panel(panel).features
    openings = [
        area(feature.path.points(chord)) for feature in features if feature.work is Work.WINDOW
    ]
    shape: BaseGeometry = area(outline.points(chord))
    return without(shape, together(openings)) if openings else shape


def _faces(box: Assembly, net: Net, panel: str) -> list[Face]:
    """Those of a panel of the net, or else of a panel of another."""
    own = [face for face in box.faces if face.net == net.name and net.panel_of(face.name) == panel]
    return own or [face for face in box.faces if face.name == panel]


@frozen
class _Line:
    """Where the plane of another face cuts that of a face, in its flat coordinates: a point, the
    direction, and the sine of the angle between both planes."""

    foot: Point
    direction: Point
    sine: float

    def along(self, x: float, y: float) -> float:
        """How far a point lies along the line."""
        return self.direction[0] * x + self.direction[1] * y

    def off(self, x: float, y: float) -> float:
        """How far a point lies on the left of it."""
        (fx, fy), (dx, dy) = self.foot, self.direction
        return (y - fy) * dx - (x - fx) * dy

    def at(self, along: float, off: float) -> Point:
        """The point that lies so far along and on the left of the line."""
        (fx, fy), (dx, dy) = self.foot, self.direction
        more = along - self.along(fx, fy)
        return fx + more * dx - off * dy, fy + more * dy + off * dx


def _line(face: Face, cutting: Face) -> _Line | None:
    """None for faces that are parallel."""
    a, b = dot(cutting.pose.normal, face.pose.right), dot(cutting.pose.normal, face.pose.up)
    sine = math.hypot(a, b)
    if sine < PARALLEL:
        return None
    level = dot(cutting.pose.normal, minus(cutting.pose.origin, face.pose.origin))
    return _Line((a * level / sine**2, b * level / sine**2), (-b / sine, a / sine), sine)


@frozen
class _Crossing:
    """A face of a tongue in that of a slit, from `low` to `high` along the line in the slit's
    plane; `card` has the corners of what of the slit's panel lies before and behind it there."""

    slit: Face
    line: _Line
    low: float
    high: float
    card: Sequence[Sequence[float]]

    @property
    def caught(self) -> float:
        """How much of the tongue's width has card before or behind it."""
        along = [self.line.along(x, y) for x, y in self.card]
        return max(along) - min(along) if along else 0.0


def _crossing(tongue: Face, slit: Face, card: BaseGeometry) -> _Crossing | None:
    """None where the tongue does not go through the plane of the slit's face, or does so beside
    all of it."""
    across, line = _line(tongue, slit), _line(slit, tongue)
    if across is None or line is None:
        return None
    ray = shapely.LineString([across.at(-FAR, 0.0), across.at(FAR, 0.0)])
    cut = common(ray, tongue.shape)
    offs = [line.off(x, y) for x, y in slit.shape.exterior.coords]
    if cut.length < CROSSES or not min(offs) + FINE < 0.0 < max(offs) - FINE:
        return None
    ends = [slit.pose.flat(tongue.pose.place((x, y))) for x, y in shapely.get_coordinates(cut)]
    reached = [line.along(x, y) for x, y, _ in ends]
    spread = [line.along(x, y) for x, y in shapely.get_coordinates(card)]
    low, high = min(reached), max(reached)
    if min(high, max(spread)) - max(low, min(spread)) < CROSSES:
        return None
    strip = area([line.at(low, -FAR), line.at(high, -FAR), line.at(high, FAR), line.at(low, FAR)])
    return _Crossing(slit, line, low, high, corners_shared(strip, card))


def _play(crossing: _Crossing, net: Net, slit: str, made: Engagement) -> float | None:
    """The width of the slit where the tongue is, less what that takes up of it; the card of a panel
    that hangs on the slit's own bounds it too."""
    line = crossing.line
    sides = [line.off(x, y) for x, y in crossing.card]
    for hinge in net.hinges_of([slit]):
        one, other = line.off(*hinge.edge.start), line.off(*hinge.edge.end)
        if abs(one - other) < FINE:
            sides.append(math.copysign(abs(one) - net.caliper / 2, one))
    behind, ahead = [-each for each in sides if each < 0], [each for each in sides if each > 0]
    if not behind or not ahead:
        return None
    return float(min(ahead) + min(behind)) - made.taken(line.sine)


def _in_the_way(crossing: _Crossing, card: BaseGeometry) -> float:
    """How much card in mm lies along the middle of the tongue, from one of its sides to the
    other."""
    line = crossing.line
    through = shapely.LineString([line.at(crossing.low, 0.0), line.at(crossing.high, 0.0)])
    return float(common(through, card).length)


def _beyond(slit: Face, tongue: Sequence[Face], net: Net, name: str) -> tuple[float, int]:
    """How far a tongue reaches to the other side of the slit's plane than it hangs on, and which
    side that is: 1 for that of the outside."""
    hung = next((hinge for hinge in net.hinges if hinge.second == name), None)
    own = next(face for face in tongue if face.name == name)
    start = own.panel.outline.start if hung is None else hung.edge.point_at(0.5)
    side = -1 if slit.pose.flat(own.pose.place(start))[2] > 0 else 1
    heights = [
        side * slit.pose.flat(face.pose.place(point))[2]
        for face in tongue
        for point in face.panel.outline.points(FACE_CHORD)
    ]
    return max(0.0, *heights), side


def _overlap(tongue: Face, slit: Face, side: int) -> float:
    """How far a part of a tongue that lies along the other panel, on that side of it, goes over it:
    the shorter side of what they share."""
    if not facing(slit, tongue) or height(slit, tongue) * side < FINE:
        return 0.0
    shared = common(slit.shape, seen_from(slit.pose, tongue.pose, tongue.shape))
    if shared.area <= 0:
        return 0.0
    left, bottom, right, top = shapely.oriented_envelope(shared).bounds
    return float(min(right - left, top - bottom))
