"""Whether a thing fits into folded boxes, panel by panel.

The thing stands on the floor, in the middle of it; where only one side is in its way it is moved
over. Each panel counts with its inner face: what a crease takes up inside of the rigid plane, and
one caliper more for every layer that shares its plane (a gusset under a roof).

The thing with its clearance must be clear of the panels that make the box; the thing itself must be
clear of every panel, flaps and glue tabs included. A facing piece is in its way by its own caliper
where it is glued on a side that looks inwards. An open box must be as high as the thing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import compress

from cutlayers.box.facing import BARE, Faced
from cutlayers.construction.card import Card
from cutlayers.fitting.items import Item
from cutlayers.fitting.touching import LEVEL, TOUCH, Placed, touched
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds
from cutlayers.net.assembly import Assembly
from cutlayers.net.bends import ramps
from cutlayers.net.faces import Face
from cutlayers.net.panel import Role
from cutlayers.net.space import Vector, dot, moved
from cutlayers.net.stacking import Stack, key

OVERHEAD = 0.1
"""Upward part of a unit vector from which on a panel leans over a thing rather than beside it."""

HEAD_ON = 0.8
"""Share of a thing's reach from which on a panel cuts it in the middle rather than at a side."""

UP: Vector = (0.0, 0.0, 1.0)

PILED = 2.2
"""Calipers up to which one level panel above another counts as lying on it; the flaps of a pillow
pack that bulges most lie so far apart in their middle."""

STEPS = 24
"""How often a thing may be moved over; each step takes it clear of what was in its way."""


@frozen
class Obstacle:
    """A panel in the way, the side it is on (unit vector from the thing to it), and by how many
    mm it would have to give way."""

    face: Face
    toward: Vector
    amount: float


@frozen
class Packing:
    """What came of packing a thing; empty tuples where nothing is in its way.

    `walls` are in the way of the thing with its clearance, `layers` in the way of the thing itself
    though the walls are not; `above_rim` is how far it stands out of the box.
    """

    floor: float
    walls: tuple[Obstacle, ...]
    layers: tuple[Obstacle, ...]
    above_rim: float

    @property
    def fits(self) -> bool:
        """Whether nothing is in its way."""
        return not self.walls and not self.layers and self.above_rim <= TOUCH

    @property
    def wanting(self) -> Vector:
        """By how many mm the box is too short, too narrow and too low; zeros where it fits."""
        length, width, height = wanting((*self.walls, *self.layers))
        return (length, width, max(height, self.above_rim))


def wanting(obstacles: Sequence[Obstacle]) -> Vector:
    """How much longer, wider and higher a box must be for each obstacle to give way.

    What leans over the thing gives way upwards, since the walls below it are in nobody's way;
    an upright panel gives way along the front or to the back, whichever it faces more.
    """
    sides = [[0.0, 0.0] for _ in range(3)]
    for each in obstacles:
        x, y, z = each.toward
        level = math.hypot(x, y) < LEVEL
        axis = 2 if z > OVERHEAD or level else 0 if abs(x) >= abs(y) else 1
        part = each.toward[axis]
        sides[axis][part > 0] = max(sides[axis][part > 0], each.amount / abs(part))
    length, width, height = map(sum, sides)
    return (length, width, height)


@frozen
class _Inner:
    """A panel and how many layers lie outside of it, seen from either side of its plane."""

    face: Face
    outer_if_ahead: int
    outer_if_behind: int
    faced: float
    """mm of facing on its outside, which is ahead."""


def pack(thing: Item, box: Assembly, card: Card, faced: Faced = BARE) -> Packing:
    """Stand a thing in a box made of that card and see what is in its way."""
    thickest = card.thickest(folded.net.name for folded in box.boxes)
    inner = [
        _inner(stack, face, faced.get(key(face), 0.0))
        for stack in box.stacks
        for face in stack.faces
    ]
    floor_at, ground, net = _floor(box, thickest)
    roomy = thing.with_clearance
    base = floor_at + card.of(net).take_up + _on_floor(inner, floor_at)
    # What lies under the floor is in nobody's way, nor is the ramp between two parts of a panel,
    # which reaches in no farther than the inner one of them.
    bent = {(folded.net.name, name) for folded in box.boxes for name in ramps(folded.net)}
    above = [
        each
        for each in inner
        if each.face.high[2] > floor_at + LEVEL and key(each.face) not in bent
    ]
    walls = _settle(roomy, above, card, ground, base, main=True)
    layers: tuple[Obstacle, ...] = ()
    if not walls:
        layers_floor = base + _floor_layers(box, inner, floor_at, thickest)
        layers = _settle(thing, above, card, ground, layers_floor, main=False)
    rim = max(face.high[2] for face in box.faces if _is_main(face))
    return Packing(base, walls, layers, max(0.0, base + roomy.height - rim))


def _inner(stack: Stack, face: Face, faced: float) -> _Inner:
    below, above = stack.from_below[key(face)], stack.from_above[key(face)]
    if dot(stack.normal, face.pose.normal) > 0:
        return _Inner(face, below, above, faced)
    return _Inner(face, above, below, faced)


def _is_main(face: Face) -> bool:
    return face.panel.role not in (Role.FLAP, Role.GLUE_TAB)


def _floor(box: Assembly, caliper: float) -> tuple[float, Bounds, str]:
    """Height of the floor's plane, the ground it covers, and its net: the lowest level panel, or
    the uppermost of those that lie on it, as a drawer's does on its sleeve. The ground is that of
    the uppermost one's net."""
    level = [
        face for face in box.faces if _is_main(face) and math.hypot(*face.pose.normal[:2]) < LEVEL
    ]
    if not level:
        ends = [folded.bounds for folded in box.boxes]
        (left, front, _), (right, back, _) = ends[0]
        ground = (left, front, right, back)
        return min(each[0][2] for each in ends), ground, box.boxes[0].net.name
    level.sort(key=lambda face: face.low[2])
    pile = [level[0]]
    for face in level[1:]:
        if face.low[2] - pile[-1].low[2] <= PILED * caliper + LEVEL:
            pile.append(face)
    floor = [face for face in pile if face.net == pile[-1].net]
    left, front = (min(face.low[i] for face in floor) for i in (0, 1))
    right, back = (max(face.high[i] for face in floor) for i in (0, 1))
    return pile[-1].low[2], (left, front, right, back), pile[-1].net


def _on_floor(inner: Sequence[_Inner], floor_at: float) -> float:
    """How thick the facing is that lies on the floor, in mm: on a floor whose outside is up."""
    return max(
        (
            each.faced
            for each in inner
            if each.face.pose.normal[2] > 1 - LEVEL and abs(each.face.low[2] - floor_at) < LEVEL
        ),
        default=0.0,
    )


def _floor_layers(box: Assembly, inner: Sequence[_Inner], floor_at: float, caliper: float) -> float:
    """How high the layers that lie on the floor reach above it, in mm: those that share its plane,
    and those that lie on it with a plane of their own."""
    top = floor_at
    for low in sorted(
        face.low[2] for face in box.faces if math.hypot(*face.pose.normal[:2]) < LEVEL
    ):
        if top < low <= top + PILED * caliper + LEVEL:
            top = low
    depths = [
        each.outer_if_ahead if each.face.pose.normal[2] > 0 else each.outer_if_behind
        for each in inner
        if math.hypot(*each.face.pose.normal[:2]) < LEVEL
        and abs(each.face.low[2] - floor_at) < LEVEL
    ]
    return top - floor_at + caliper * max(depths, default=0)


def _settle(
    thing: Item,
    inner: Sequence[_Inner],
    card: Card,
    ground: Bounds,
    floor: float,
    *,
    main: bool,
) -> tuple[Obstacle, ...]:
    """What is in the way once the thing has been moved over as far as that helps."""
    left, front, right, back = ground
    x, y = (left + right) / 2, (front + back) / 2
    best: tuple[Obstacle, ...] = ()
    for step in range(STEPS):
        centre = (x, y, floor + thing.height / 2)
        found = tuple(_obstacles(thing, inner, card, centre, main=main))
        if not step or _worst(found) < _worst(best):
            best = found
        push = [-sum(each.amount * each.toward[i] for each in found) for i in (0, 1)]
        if not found or math.hypot(*push) <= TOUCH:
            break
        x, y = x + push[0], y + push[1]
        if not (left < x < right and front < y < back):
            break  # it would leave the box, where nothing is in its way
    return best


def _worst(found: Sequence[Obstacle]) -> float:
    return max((each.amount for each in found), default=0.0)


def _obstacles(
    thing: Item, inner: Sequence[_Inner], card: Card, centre: Vector, *, main: bool
) -> list[Obstacle]:
    near: list[tuple[Placed, float, float]] = []
    for each in inner:
        face = each.face
        pose = face.pose
        ahead = pose.flat(centre)[2] >= 0
        outer = each.outer_if_ahead if ahead else each.outer_if_behind
        if main and (outer or not _is_main(face)):
            continue
        side = 1.0 if ahead else -1.0
        own = card.of(face.net)
        deep = outer * own.caliper + own.take_up + (each.faced if ahead else 0.0)
        inside = pose.shifted(moved((0.0, 0.0, 0.0), pose.normal, side * deep))
        at = inside.flat(centre)
        over = thing.reach(pose.normal) - side * at[2]
        if over > TOUCH:
            near.append(((face, inside), side, over))
    found = []
    cut = touched(thing, [panel for panel, _, _ in near], centre)
    for (face, inside), side, over in compress(near, cut):
        toward = moved((0.0, 0.0, 0.0), inside.normal, -side)
        if over > HEAD_ON * thing.reach(inside.normal) and face.low[2] > centre[2]:
            # It hangs down into the middle of the thing: up is its shortest way out.
            toward, over = UP, centre[2] + thing.height / 2 - face.low[2]
        found.append(Obstacle(face, toward, over))
    return found
