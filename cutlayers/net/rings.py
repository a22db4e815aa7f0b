"""Panels that hang together in rings: by hinges that close loops, and by tabs once they are glued.

No hinge of a ring turns by itself. Given the angles that its hinges would like to have, those are
found next to them at which every loop closes and every glued tab lies where it does in the finished
box. How far a loop gapes there all the same is how far the card has to give.

Source: the least squares solution of least norm (Moore and Penrose's inverse) of the loops' gaps,
made linear again and again (Gauss and Newton). A point p on a panel beyond a hinge moves by
ω × (p − o) with the angle, ω being the hinge's direction and o a point on it.

This module needs numpy; whoever need not solve rings does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping

import numpy as np
from numpy.typing import NDArray

from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import FoldedNet, folding_order, placed
from cutlayers.net.panel import Hinge
from cutlayers.net.space import Pose, Vector

ROUNDS = 12
"""Most often the loops close in three to five."""

CLOSED = 1e-3
"""mm; loops that gape by less are closed."""

STEEPEST = 0.35
"""Radians that a hinge turns in one round at most, lest it jumps to another way of closing."""

NEARER = 0.02
"""Share of the gap that one of two rounds has to close, or the rest is left to the card."""

FAINT = 1e-3
"""Share of the strongest way of moving below which a way does not close a loop."""


@frozen
class Settled:
    """Angles in degrees at which rings hang together, how far in mm they gape at most, and between
    which two panels; None where there are no rings."""

    angles: Mapping[Hinge, float]
    gap: float
    between: tuple[str, str] | None = None


@frozen
class _Tie:
    """A point of one panel that is to be where a place beside another panel is: flat x and y there,
    and height above it."""

    panel: str
    point: Point
    other: str
    place: Vector


def settled(
    finished: FoldedNet,
    wanted: Mapping[Hinge, float],
    glued: Collection[str] = (),
    firm: Collection[Hinge] = (),
) -> Settled:
    """The angles next to those wanted at which rings close.

    `glued` are tabs that hold already, `firm` hinges that keep the angle wanted, as one does that
    fingers turn; `finished` is the net folded up, in which they lie where they belong.
    """
    tree, loops = folding_order(finished.net)
    ties = [*_loops(loops), *_tabs(finished, glued)]
    angles = dict(wanted)
    if not ties:
        return Settled(angles, 0.0)
    turning = [(carrier, carried, hinge) for carrier, carried, hinge in tree if hinge is not None]
    own = iter(np.eye(len(turning)))
    chains = {finished.net.root.name: np.zeros(len(turning))}
    for carrier, carried, hinge in tree:
        chains[carried] = chains[carrier] + (0.0 if hinge is None else next(own))
    best, idle = Settled(angles, math.inf), 0
    for _ in range(ROUNDS):
        gaps, slopes = _gaps(placed(finished, tree, angles), turning, chains, ties)
        apart = np.sqrt((gaps * gaps).sum(axis=1))
        widest = ties[int(apart.argmax())]
        gap = float(apart.max())
        idle = idle + 1 if gap > best.gap * (1 - NEARER) else 0
        if gap < best.gap:
            best = Settled(dict(angles), gap, (widest.panel, widest.other))
        if gap < CLOSED or idle == 2:
            break
        slopes[:, [index for index, each in enumerate(turning) if each[2] in firm]] = 0.0
        step = -np.linalg.pinv(slopes, rcond=FAINT) @ gaps.reshape(-1)
        step *= min(1.0, STEEPEST / max(float(np.abs(step).max()), STEEPEST))
        for (_, _, hinge), radians in zip(turning, step, strict=True):
            angles[hinge] += math.degrees(radians)
    return best


def _loops(loops: Collection[Hinge]) -> list[_Tie]:
    """Both panels of a hinge have its ends in common."""
    return [
        _Tie(hinge.first, end, hinge.second, (*end, 0.0))
        for hinge in loops
        for end in (hinge.edge.start, hinge.edge.end)
    ]


def _tabs(finished: FoldedNet, glued: Collection[str]) -> list[_Tie]:
    """Three corners of a tab lie on its panel as they do in the end."""
    ties = []
    for panel in finished.net.panels:
        if panel.name in glued and panel.lands_on is not None:
            onto = finished.poses[panel.lands_on]
            for point in panel.outline.vertices[:3]:
                place = onto.flat(finished.poses[panel.name].place(point))
                ties.append(_Tie(panel.name, point, panel.lands_on, place))
    return ties


def _gaps(
    poses: Mapping[str, Pose],
    tree: list[tuple[str, str, Hinge]],
    chains: Mapping[str, NDArray[np.float64]],
    ties: list[_Tie],
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Where the points of ties lie, from where they are to be; and by how much they move with each
    hinge of the tree, in mm a radian."""
    edges = [(poses[near], h.edge if h.first == near else h.edge.reversed()) for near, _, h in tree]
    axes = np.array([pose.direction((*edge.direction_at(0.5), 0.0)) for pose, edge in edges])
    places = np.array([pose.place(edge.start) for pose, edge in edges])
    here = np.array([poses[tie.panel].place(tie.point) for tie in ties])
    there = np.array([poses[tie.other].place(tie.place[:2], tie.place[2]) for tie in ties])
    moved = np.zeros((len(ties), len(tree), 3))
    for points, panels, way in (
        (here, [tie.panel for tie in ties], 1.0),
        (there, [tie.other for tie in ties], -1.0),
    ):
        along = np.array([chains[panel] for panel in panels])
        moved += way * along[..., None] * np.cross(axes[None], points[:, None] - places[None])
    return here - there, moved.swapaxes(1, 2).reshape(-1, len(tree))
