"""Where a box is pressed from inside while it is put together, and whether a finger gets there.

A tab that is glued is pressed between two fingers, one of them inside, against the layer that is
innermost there; so is, by one finger, what is pushed down as a box is squared up. A finger goes in
straight, pointing at the panel or lying on it, and the flat hand follows. Nothing need go in where
the piece lies flat on the table, or where other layers lie behind.

Source: the test finger of IEC 60529 is 12 mm thick and 80 mm long; that a hand held flat is 30 mm
thick and a pencil 7 mm is common practice, no source.

This module needs shapely and numpy; whoever need not measure does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from cutlayers.box.pressing import Press, Tool
from cutlayers.box.stages import Stage, stages
from cutlayers.box.steps import Action, Step
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net import Net
from cutlayers.net.faces import Face, faces, without_windows

if TYPE_CHECKING:
    from cutlayers.box.box import Box

FINGER, FINGER_LONG, HAND = 12.0, 80.0, 30.0
"""mm: how thick a finger is, how far it reaches, and how thick the flat hand is that follows."""

PENCIL = 7.0
"""mm thick."""

GIVES = 0.5
"""mm by which fingertips and card give."""

BACKED = 3.0
"""Calipers behind a layer within which another one backs it."""

LOOKS, AROUND = 300, 24
"""Directions in which a way out is looked for: over half a sphere, and along the panel."""

APART = 6.0
"""mm between the places at which a way is looked at."""

NEAR = 1e-6
"""mm; the card that a place lies on is not met."""

BLUNT = (Tool.FINGER, Tool.PENCIL, Tool.NOTHING)
"""From the bluntest on."""

THICK = {Tool.FINGER: FINGER, Tool.PENCIL: PENCIL}
"""mm."""

PRESSED = (Action.SEAM, Action.GLUE, Action.SQUARE)

Array = NDArray[np.float64]


def unreached(whole: Box) -> tuple[Press, ...]:
    """What is pressed from inside while a box is put together, where no finger gets in.

    Raises NetError for a box that cannot be folded.
    """
    found = presses(whole, stages(whole, pressed(whole)))
    return tuple(press for press in found if press.tool is not Tool.FINGER)


def pressed(whole: Box) -> tuple[Step, ...]:
    """The steps in which something is pressed from inside, and not lying flat."""
    # With curved folds it is the flaps that bend the panels; till then they lie flat.
    steps = [s for s in whole.steps() if s.action in PRESSED and not whole.blank(s.net).curved]
    if not steps:
        return ()
    flat = {each.step for each in whole.motions if each.moves and each.moves[-1].pressed}
    return tuple(step for step in steps if step not in flat)


def presses(whole: Box, standing: Iterable[Stage]) -> Iterator[Press]:
    """What is pressed from inside in each step of a box that asks for it, as it then stands."""
    for stage in standing:
        step, blank = stage.step, whole.blank(stage.step.net)
        around = faces(stage.nets)
        room = _Room(around, whole.card.of(step.net).caliper)
        for name in step.targets if step.action is Action.SQUARE else step.panels:
            panel = blank.net.panel(name)
            inner = name if panel.under or panel.lands_on is None else panel.lands_on
            at, against = (_largest(blank.net, around, each) for each in (name, inner))
            yield Press(step, name, room.tool(at, against))


def _largest(net: Net, around: Sequence[Face], name: str) -> Face:
    """A panel of the net, or the largest part of one that is bent."""
    parts = (each for each in around if each.net == net.name and net.panel_of(each.name) == name)
    return max(parts, key=lambda each: each.shape.area)


def places(shape: Polygon) -> tuple[Point, ...]:
    """Where something is pressed: in its middle, and of what is longer than three fingers are
    thick also a finger from either end, as far as there is card."""
    middle = shape.representative_point()
    found = [(middle.x, middle.y)]
    corners = shapely.get_coordinates(shape.minimum_rotated_rectangle)
    long = max(np.diff(corners[:3], axis=0), key=lambda side: float(np.hypot(*side)))
    far = float(np.hypot(*long))
    if far > 3 * FINGER:
        centre = np.array(shape.centroid.coords[0])
        off = (corners - centre) @ long / far
        for along in (off.min() + FINGER, off.max() - FINGER):
            x, y = centre + along / far * long
            if shapely.contains_xy(shape, x, y):
                found.append((float(x), float(y)))
    return tuple(found)


class _Room:
    """What stands round a box's inside as it is pressed."""

    def __init__(self, around: Sequence[Face], caliper: float) -> None:
        self._cards = [_Card.of(face) for face in around]
        self._caliper = caliper
        corners = np.array([corner for face in around for corner in (face.low, face.high)])
        far = float(np.linalg.norm(np.ptp(corners, axis=0)))
        self._along = np.arange(0.0, far + HAND, APART)
        self._got_in: Array = np.empty((0, 3))

    def tool(self, at: Face, against: Face) -> Tool:
        """What gets in to all of one face, on the inside of the other."""
        return max((self._at(at, against, each) for each in places(at.shape)), key=BLUNT.index)

    def _at(self, at: Face, against: Face, flat: Point) -> Tool:
        """What gets in to one place."""
        axes = np.array([against.pose.right, against.pose.up, against.pose.normal])
        inward = -axes[2]
        place = np.array(at.pose.place(flat))
        place += (self._caliper / 2 - (place - against.pose.origin) @ inward) * inward
        if min(card.met(place, inward[None])[0] for card in self._cards) <= BACKED * self._caliper:
            return Tool.FINGER
        # By the way that the last finger went, first.
        known = self._got_in[self._got_in @ inward >= -NEAR]
        ways = _spread() * (1.0, 1.0, -1.0) @ axes
        asides = inward + _beside() @ axes
        for tool in (Tool.FINGER, Tool.PENCIL):
            for tried in (known, ways):
                way = self._way(tool, place, asides, tried)
                if way is not None:
                    self._got_in = way[None]
                    return tool
        return Tool.NOTHING

    def _way(self, tool: Tool, place: Array, asides: Array, ways: Array) -> Array | None:
        """One of some ways by which a tool gets in."""
        along, thick = self._along, THICK[tool]
        radius, follows = np.full(len(along), thick / 2), np.zeros(len(along))
        if tool is Tool.FINGER:
            radius[along > FINGER_LONG] = HAND / 2
            follows[along > FINGER_LONG] = (HAND - thick) / 2
        for aside in asides if len(ways) else ():
            tip = place + thick / 2 * aside
            if any(card.off(tip[None])[0] < thick / 2 - GIVES for card in self._cards):
                continue
            seen = np.min([card.met(tip, ways) for card in self._cards], axis=0)
            for way in ways[np.isinf(seen)]:
                line = tip + along[:, None] * way + follows[:, None] * aside
                if all((card.off(line) >= radius - GIVES).all() for card in self._cards):
                    found: Array = way
                    return found
        return None


@cache
def _spread() -> Array:
    """Unit vectors, a row each: all round in the plane, and over half a sphere on it in a spiral
    that leaves each as much room."""
    count = np.arange(LOOKS) + 0.5
    high, turn = 1.0 - count / LOOKS, math.pi * (1 + math.sqrt(5)) * count
    out = np.sqrt(1 - high**2)
    over = np.column_stack([out * np.cos(turn), out * np.sin(turn), high])
    return np.vstack([_round(AROUND), over])


@cache
def _beside() -> Array:
    """How the middle of a fingertip may lie beside the place that it presses on, of its radius."""
    return np.vstack([np.zeros((1, 3)), _round(8)])


def _round(count: int) -> Array:
    turn = np.arange(count) * (2 * math.pi / count)
    return np.column_stack([np.cos(turn), np.sin(turn), np.zeros(count)])


@frozen
class _Card:
    """A face as it stands: what of it is card, its origin, and its own axes, a row each."""

    shape: BaseGeometry
    origin: Array
    axes: Array

    @staticmethod
    def of(face: Face) -> _Card:
        """That of a face."""
        pose = face.pose
        axes = np.array([pose.right, pose.up, pose.normal])
        return _Card(without_windows(face), np.array(pose.origin), axes)

    def met(self, place: Array, ways: Array) -> Array:
        """How far in mm from a place it is met on each way; infinity where it is not."""
        height = float((place - self.origin) @ self.axes[2])
        with np.errstate(divide="ignore", invalid="ignore"):
            far = -height / (ways @ self.axes[2])
        ahead = np.isfinite(far) & (far > NEAR)
        points = (place + np.where(ahead, far, 0.0)[:, None] * ways - self.origin) @ self.axes.T
        met = ahead & shapely.contains_xy(self.shape, points[:, 0], points[:, 1])
        return np.where(met, far, np.inf)

    def off(self, points: Array) -> Array:
        """How far in mm each of some points in space lies off it."""
        flat = (points - self.origin) @ self.axes.T
        beside = shapely.distance(self.shape, shapely.points(flat[:, :2]))
        return np.hypot(beside, flat[:, 2], dtype=np.float64)
