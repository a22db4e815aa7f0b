"""Pieces whose slots go over each other, on a ruler: where they stand, and how wide slots must be.

A strip stands where the slot is that holds it. Where slots come to lie on other places, so do the
strips in them: judged where they stood before, they would run through card.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

from cutlayers.box import Blank, Box
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.guide.rounding import Grid
from cutlayers.net import Net
from cutlayers.net.space import Pose, dot, minus

UPRIGHT = 1e-6
"""Vertical part of the unit vector across a panel that stands upright."""


@frozen
class Crossing:
    """Where a slotted panel goes over one of another net, both upright: their nets' numbers and
    names of the panels, and the flat points in which they stand across each other."""

    nets: tuple[int, int]
    panels: tuple[str, str]
    points: tuple[Point, Point]


def slotted(nets: Sequence[Net]) -> dict[str, float]:
    """By panel how thick in mm the card is that goes through it, of tongues in slits and of slots
    that go over each other."""
    found: dict[str, float] = defaultdict(float)
    for net in nets:
        own = {panel.name for panel in net.panels}
        for tongue, slit, lock in net.engagements:
            found[slit] = max(found[slit], lock.caliper)
            if tongue not in own:
                found[tongue] = max(found[tongue], lock.bite)
    return dict(found)


def crossings(box: Box) -> tuple[Crossing, ...]:
    """Every slot of a net that goes over a panel of another one."""
    return tuple(_crossings(box))


def _crossings(box: Box) -> Iterator[Crossing]:
    owner = {panel.name: index for index, net in enumerate(box.nets) for panel in net.panels}
    for index, net in enumerate(box.nets):
        for tongue, slit, _ in net.engagements:
            other = owner[tongue]
            if other == index:
                continue
            poses = [
                box.wholes[number].folded().poses[name]
                for number, name in ((index, slit), (other, tongue))
            ]
            points = _meeting(poses[0], poses[1])
            if points is not None:
                yield Crossing((index, other), (slit, tongue), points)


def _meeting(one: Pose, other: Pose) -> tuple[Point, Point] | None:
    """A point of the line that two upright panels share, on the flat of each."""
    (a, b, up), (c, d, also_up) = one.normal, other.normal
    across = a * d - b * c
    if max(abs(up), abs(also_up)) > UPRIGHT or abs(across) < UPRIGHT:
        return None
    e, f = dot(one.normal, one.origin), dot(other.normal, other.origin)
    place = ((e * d - b * f) / across, (a * f - e * c) / across, 0.0)
    return one.flat(place)[:2], other.flat(place)[:2]


def stood_in_slots(
    blanks: Sequence[Blank],
    grids: Sequence[Grid],
    choices: Sequence[dict[int, int]],
    found: Sequence[Crossing],
) -> tuple[Blank, ...]:
    """Rounded blanks, each standing where the slots are that hold it. Those of several may not lie
    alike; it then stands in the middle of them."""
    shifts: dict[int, list[Point]] = defaultdict(list)
    for crossing in found:
        poses, places = [], []
        for index, panel, point in zip(
            crossing.nets, crossing.panels, crossing.points, strict=True
        ):
            pose = blanks[index].folded().poses[panel]
            poses.append(pose)
            places.append(pose.place(grids[index].moved(choices[index], point)))
        gap = minus(places[1], places[0])
        for index, pose, sign in zip(crossing.nets, poses, (1.0, -1.0), strict=True):
            along = sign * dot(gap, pose.normal)
            shifts[index].append((along * pose.normal[0], along * pose.normal[1]))
    return tuple(_shifted(blank, shifts.get(index, ())) for index, blank in enumerate(blanks))


def _shifted(blank: Blank, shifts: Sequence[Point]) -> Blank:
    stand = blank.net.stand
    if stand is None or not any(any(shift) for shift in shifts):
        return blank
    x, y = (
        at + (min(each) + max(each)) / 2
        for at, each in zip(stand.at, zip(*shifts, strict=True), strict=True)
    )
    return Blank(replace(blank.net, stand=replace(stand, at=(x, y))), blank.relief)
