"""Which panel lies on which, where a folded box has several in one plane.

Rigid panels have no thickness, so a glue tab and the wall it is glued to lie in one plane. Their
order follows from how they are joined:

- a glue tab lies inside of what it lands on, or outside where it says so;
- two panels folded right over on each other (±180°) touch with their insides after a mountain,
  with their outsides after a valley;
- where neither decides and the panels overlap, flaps and glue tabs lie inside of gussets, and
  those inside of walls, roofs and lids; of two panels that face opposite ways the insides
  touch; otherwise the one that comes later in the net was closed last and lies outside.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import common
from cutlayers.net.faces import TOUCHING, Face, facing, height, outlines_seen_from
from cutlayers.net.folding import FoldedNet
from cutlayers.net.panel import Role
from cutlayers.net.space import Vector, dot

OVERLAP = 0.01
"""mm²; less of an overlap is the rounding of two edges that touch."""

FOLDED_OVER = 1e-6
"""Degrees by which a fold may miss ±180 and still lay two panels on each other."""

_DEPTH = {Role.GUSSET: 1, Role.LINING: 1, Role.FLAP: 2, Role.GLUE_TAB: 2}

Key = tuple[str, str]
"""Names of net and panel."""


@frozen
class Stack:
    """Faces in one plane, from the far side to the side that `normal` points to.

    `from_below` counts for each how many layers lie between it and the lowest, `from_above` how
    many between it and the highest, along the longest pile that goes through it.
    """

    normal: Vector
    faces: tuple[Face, ...]
    from_below: Mapping[Key, int]
    from_above: Mapping[Key, int]


def key(face: Face) -> Key:
    """What tells a face from others."""
    return (face.net, face.name)


def stacks(boxes: Sequence[FoldedNet], all_faces: Sequence[Face]) -> tuple[Stack, ...]:
    """Sort the faces into planes, and those of each plane from far to near.

    Every face is in exactly one stack; most stacks have a single face.
    """
    joints = _joints(boxes)
    planes: list[list[Face]] = []
    for face in all_faces:
        for plane in planes:
            if facing(plane[0], face) and abs(height(plane[0], face)) <= TOUCHING:
                plane.append(face)
                break
        else:
            planes.append([face])
    return tuple(_stack(plane, joints) for plane in planes)


def _joints(boxes: Sequence[FoldedNet]) -> dict[tuple[Key, Key], bool]:
    """For pairs of panels whether the second lies on the inside of the first."""
    joints: dict[tuple[Key, Key], bool] = {}
    for folded in boxes:
        net = folded.net
        for panel in net.panels:
            if panel.lands_on is not None:
                joints[(net.name, panel.lands_on), (net.name, panel.name)] = panel.under
        for hinge in net.hinges:
            turned = hinge.fold_deg * folded.fraction
            if abs(abs(turned) - 180.0) <= FOLDED_OVER:
                joints[(net.name, hinge.first), (net.name, hinge.second)] = turned > 0
    return joints


def _stack(plane: list[Face], joints: Mapping[tuple[Key, Key], bool]) -> Stack:
    normal = plane[0].pose.normal
    count = len(plane)
    above: dict[int, set[int]] = defaultdict(set)
    if count > 1:
        open_pairs = []
        for low in range(count):
            for high in range(low + 1, count):
                decided = _joined(plane[low], plane[high], joints, normal)
                if decided is None:
                    open_pairs.append((low, high))
                elif decided:
                    above[low].add(high)
                else:
                    above[high].add(low)
        open_faces = sorted({index for pair in open_pairs for index in pair})
        outlines = outlines_seen_from(plane[0].pose, [plane[index] for index in open_faces])
        shapes = dict(zip(open_faces, outlines, strict=True))
        for low, high in open_pairs:
            if _reaches(above, low, high) or _reaches(above, high, low):
                continue
            if not shapes[low].intersects(shapes[high]):
                continue
            if common(shapes[low], shapes[high]).area > OVERLAP:
                if _lies_above(plane[low], plane[high], normal):
                    above[low].add(high)
                else:
                    above[high].add(low)
    order = _sorted(above, count)
    below: dict[int, set[int]] = defaultdict(set)
    for low, highs in above.items():
        for high in highs:
            below[high].add(low)
    return Stack(
        normal,
        tuple(plane[index] for index in order),
        _levels(plane, order, below),
        _levels(plane, order[::-1], above),
    )


def _joined(
    low: Face, high: Face, joints: Mapping[tuple[Key, Key], bool], normal: Vector
) -> bool | None:
    """Whether `high` lies on the side of `low` that `normal` points to, by their joint."""
    for first, second, swapped in ((low, high, False), (high, low, True)):
        inside = joints.get((key(first), key(second)))
        if inside is not None:
            outward = dot(first.pose.normal, normal) > 0
            return (outward != inside) != swapped
    return None


def _lies_above(low: Face, high: Face, normal: Vector) -> bool:
    """Whether `high` lies on the side of `low` that `normal` points to, by what they are for."""
    outward = dot(low.pose.normal, normal) > 0
    one, other = _DEPTH.get(low.panel.role, 0), _DEPTH.get(high.panel.role, 0)
    if one == other and facing(low, high) < 0:
        return not outward
    if one > other:  # `low` is the inner one, and the outer one knows where the outside is
        return dot(high.pose.normal, normal) > 0
    if one < other:
        return not outward
    return outward


def _reaches(above: Mapping[int, set[int]], start: int, goal: int) -> bool:
    seen, waiting = {start}, [start]
    while waiting:
        for higher in above.get(waiting.pop(), ()):
            if higher == goal:
                return True
            if higher not in seen:
                seen.add(higher)
                waiting.append(higher)
    return False


def _sorted(above: Mapping[int, set[int]], count: int) -> list[int]:
    """Lowest first; among those free to choose, as they came.

    Joints that contradict each other (a net that cannot be folded flat) leave the faces
    concerned as they came.
    """
    order: list[int] = []
    left = list(range(count))
    while left:
        under = {high for low in left for high in above.get(low, ())}
        free = next((index for index in left if index not in under), left[0])
        order.append(free)
        left.remove(free)
    return order


def _levels(
    plane: Sequence[Face], order: Sequence[int], beneath: Mapping[int, set[int]]
) -> dict[Key, int]:
    levels: dict[int, int] = {}
    for index in order:
        levels[index] = max((levels.get(low, -1) + 1 for low in beneath.get(index, ())), default=0)
    return {key(plane[index]): level for index, level in levels.items()}
