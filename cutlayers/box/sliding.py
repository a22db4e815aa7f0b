"""Nets that slide over or into others: which way, and from how far.

They come down from above, as a lid, a frame or a strip with slots does. Only what goes into a ring
of panels that lies, a drawer into its sleeve, comes in along the ring, from the right.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from cutlayers.box.moves import Slide
from cutlayers.box.steps import Action, Step
from cutlayers.net.faces import Face
from cutlayers.net.space import Vector, dot

if TYPE_CHECKING:
    from cutlayers.box.box import Box

JOINED = (Action.JOIN_OVER, Action.JOIN_INTO)

DOWN: Vector = (0.0, 0.0, -1.0)

WAYS: tuple[Vector, ...] = (DOWN, (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""In this order: from above, from the right, from the front."""

ALONG = 1e-6
"""Cosine of the angle to a panel's normal up to which a way runs along the panel."""


def slides(whole: Box, steps: Sequence[Step]) -> dict[Step, Slide]:
    """The slide of each step that joins a net to others; none for one that is clear of them in its
    place. Raises NetError for a box that cannot be folded."""
    found: dict[Step, Slide] = {}
    together: list[str] = []
    for step in steps:
        if step.action not in JOINED:
            continue
        past = tuple(name for name in dict.fromkeys((*step.targets, *together)) if name != step.net)
        way = _way(whole, step)
        far = _far(whole, step.net, past, way)
        together += [name for name in (*step.targets, step.net) if name not in together]
        if far > 0:
            found[step] = Slide(way, far, past)
    return found


def _way(whole: Box, step: Step) -> Vector:
    if step.action is Action.JOIN_OVER:
        return DOWN
    walls = _faces(whole, step.targets)
    return next((way for way in WAYS if all(_runs_along(way, wall) for wall in walls)), DOWN)


def _runs_along(way: Vector, wall: Face) -> bool:
    return abs(dot(way, wall.pose.normal)) <= ALONG


def _faces(whole: Box, nets: Collection[str]) -> list[Face]:
    return [face for face in whole.assembly.faces if face.net in nets]


def _far(whole: Box, net: str, past: Sequence[str], way: Vector) -> float:
    """How far before its place a net is clear of others in mm; 0 or less where it is in it."""
    still = max(_ahead(face, way)[0] + _half(whole, face) for face in _faces(whole, past))
    first = min(_ahead(face, way)[1] - _half(whole, face) for face in _faces(whole, [net]))
    return still - first


def _ahead(face: Face, way: Vector) -> tuple[float, float]:
    """How far a face reaches against a way, at most and at least."""
    reached = [-dot(face.pose.place(point), way) for point in face.ring]
    return max(reached), min(reached)


def _half(whole: Box, face: Face) -> float:
    return whole.card.of(face.net).caliper / 2
