"""Room inside a folded net, measured slice by slice without any formula of a style."""

from __future__ import annotations

import itertools

import shapely

from cutlayers.net import Net, Role
from cutlayers.net.faces import FACE_CHORD
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.space import Vector, cross, dot

SHELL = (Role.BASE, Role.WALL, Role.ROOF, Role.GUSSET, Role.LID)

NODES = (0.5 - 15**0.5 / 10, 0.5, 0.5 + 15**0.5 / 10)
WEIGHTS = (5 / 18, 8 / 18, 5 / 18)
"""Gauss–Legendre with three points: exact up to degree 5; a slice's area is quadratic between
the heights of corners. Source: Abramowitz and Stegun, table 25.4."""


def room_inside(net: Net) -> float:
    """mm³ between the panels that make the box, each level slice taken as the convex hull of
    what they cut out of it; so an open side counts as if a sheet were stretched across."""
    folded = fold(net)
    if is_curved(net):
        return _enclosed(folded)
    outlines = [
        folded.outline(panel.name, FACE_CHORD) for panel in folded.net.panels if panel.role in SHELL
    ]
    heights = sorted({round(z, 6) for outline in outlines for _, _, z in outline})
    total = 0.0
    for low, high in itertools.pairwise(heights):
        if high - low < 1e-5:
            continue
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            total += weight * (high - low) * _slice(outlines, low + node * (high - low))
    return total


def is_curved(net: Net) -> bool:
    """Whether its panels bend along curved folds, so that none of them is flat."""
    return any(hinge.edge.bulge for hinge in net.hinges)


def _slice(outlines: list[tuple[Vector, ...]], level: float) -> float:
    points = []
    for outline in outlines:
        for index, end in enumerate(outline):
            start = outline[index - 1]
            if (start[2] > level) != (end[2] > level):
                share = (level - start[2]) / (end[2] - start[2])
                points.append(
                    (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
                )
    return float(shapely.MultiPoint(points).convex_hull.area) if points else 0.0


def thickness(folded: FoldedNet) -> float:
    """How far the panels of a folded net reach out of the plane of its root, in mm."""
    pose = folded.poses[folded.net.root.name]
    return max(
        abs(pose.flat(place)[2])
        for panel in folded.net.panels
        for place in folded.outline(panel.name, FACE_CHORD)
    )


def _enclosed(folded: FoldedNet) -> float:
    """mm³ inside panels that close all round, flaps and tabs left out.

    Source: divergence theorem, a sixth of p₀ · (p₁ × p₂) over triangles seen from outside.
    """
    total = 0.0
    for panel in folded.net.panels:
        if panel.role in SHELL:
            first, *others = folded.outline(panel.name, FACE_CHORD)
            for one, other in itertools.pairwise(others):
                total += dot(first, cross(one, other)) / 6
    return total
