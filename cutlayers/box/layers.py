"""Which panels of the folded box lie on each other at a place."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, facing, height, outlines_seen_from
from cutlayers.net.space import Vector

TOUCH = 0.05
"""mm; places nearer to each other than this are one."""


@frozen
class Layer:
    """A face parallel to a punched one: how far it lies outwards, and its shape in the punched
    face's flat coordinates."""

    face: Face
    level: float
    shape: BaseGeometry


def layers_at(box: Assembly, net: str, panel: str, point: Point, reach: float) -> tuple[Face, ...]:
    """The panels stacked at a flat point of a panel, the one on its inside first.

    Two layers belong to one pile where they lie no farther apart than `reach` mm; holes do not
    count as gaps. Raises KeyError for an unknown panel.
    """
    face = next((f for f in box.faces if (f.net, f.name) == (net, panel)), None)
    if face is None:
        raise KeyError(f"{net}: {panel}")
    spot = shapely.Point(point)
    there = [layer for layer in parallel_layers(box, face) if layer.shape.distance(spot) < TOUCH]
    return tuple(layer.face for layer in pile_with(there, face, reach))


def parallel_layers(box: Assembly, face: Face) -> list[Layer]:
    """The faces parallel to one, itself included, from its inside outwards."""
    levels: list[tuple[Face, float]] = []
    for stack in box.stacks:
        way = facing(face, stack.faces[0])
        if not way:
            continue
        along = way if _same_way(stack.normal, stack.faces[0].pose.normal) else -way
        levels += [(other, round(height(face, other), 6)) for other in stack.faces[::along]]
    levels.sort(key=lambda each: each[1])
    shapes = outlines_seen_from(face.pose, [other for other, _ in levels])
    return [Layer(*each, shape) for each, shape in zip(levels, shapes, strict=True)]


def _same_way(one: Vector, other: Vector) -> bool:
    return sum(a * b for a, b in zip(one, other, strict=True)) > 0


def pile_with(there: Sequence[Layer], face: Face, reach: float) -> list[Layer]:
    """The layers in an unbroken pile with `face`, from its inside outwards."""
    own = next(index for index, layer in enumerate(there) if layer.face is face)
    low = high = own
    while low > 0 and there[low].level - there[low - 1].level <= reach:
        low -= 1
    while high + 1 < len(there) and there[high + 1].level - there[high].level <= reach:
        high += 1
    return list(there[low : high + 1])
