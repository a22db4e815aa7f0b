"""A folded net at another size: stretched between its creases.

The folded box is cut by planes square to its length, width or height (`cut_places.py`), and what
lies beyond is moved along; on the flat every panel that is cut becomes longer there, by as much. So
all that met still meets: a lid grows with the walls round it, and corners, steps of creases, tabs
and flaps keep their size. Holes and slits do too, and their distance from the nearer end of their
panel; those in its middle stay there.

Source: a translation of one half of a body keeps all distances within either half, so rigid panels
that met do meet; what grows is what the plane cuts.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.bringing.cut_places import AXES, CHORD, Along, Cut, along_axis, cuts
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.folding import FoldedNet, fold, folding_order
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel
from cutlayers.net.space import Vector
from cutlayers.reading.values import ValueRefused

SAME = 1e-6
"""mm; a length that differs by less is the one there is."""

FLAT = 0.5
"""mm; a net that is no deeper is flat, and has no size that way."""

CENTRED = 1.0
"""mm off the middle of its panel that a hole may be and still stand in it."""

HALF = 0.5
"""A panel whose slope along an axis is less lies across it."""

ACROSS = 0.9
"""Share of a panel over which an open line reaches from end to end of it."""


def sizes_of(folded: FoldedNet) -> Mapping[str, float]:
    """Length along the front, width from front to back and height of a folded net, in mm between
    creases; without those ways in which it is flat."""
    found = {name: along_axis(folded, axis).size for name, axis in AXES.items()}
    return {name: size for name, size in found.items() if size > FLAT}


def stretched(net: Net, size: Mapping[str, float]) -> Net:
    """The net with the sizes asked for, in mm, and as it was in other ways.

    Raises ValueRefused, its place the name of the size, for one that the net has not, or can not
    have: where no plane cuts straight borders only, where there are two places to grow, and where
    too little would be left.
    """
    for name, wanted in size.items():
        have = sizes_of(fold(net))
        try:
            if name not in have:
                raise ValueRefused("is no size of what the drawing folds up to", found=wanted)
            net = _grown(net, AXES[name], wanted - have[name])
        except ValueRefused as refused:
            refused.refusal = refused.refusal.under(name)
            raise
    return net


def _grown(net: Net, axis: Vector, by: float) -> Net:
    """The net pulled apart by so many mm along an axis of the standing box."""
    if abs(by) < SAME:
        return net
    along = along_axis(fold(net), axis)
    found = cuts(along, by)
    tree, _ = folding_order(net)
    places = {net.root.name: (0.0, 0.0)}
    for carrier, carried, hinge in tree:
        assert hinge is not None, "a net that was drawn has no joints"
        at = hinge.edge.start
        (x, y), here = places[carrier], _shift(along, found, carrier, at)
        there = _shift(along, found, carried, at)
        places[carried] = (x + here[0] - there[0], y + here[1] - there[1])

    def moved(panel: str, point: Point) -> Point:
        (x, y), (dx, dy) = places[panel], _shift(along, found, panel, point)
        return (point[0] + x + dx, point[1] + y + dy)

    def hinge_moved(hinge: Hinge) -> Hinge:
        start, end = (moved(hinge.first, each) for each in (hinge.edge.start, hinge.edge.end))
        return replace(hinge, edge=Segment(start, end, hinge.edge.bulge))

    def panel_moved(panel: Panel) -> Panel:
        corners = tuple(moved(panel.name, point) for point in panel.outline.vertices)
        outline = Path(corners, panel.outline.bulges, closed=True)
        ends = [along.at(panel.name, point) for point in panel.outline.points(CHORD)]
        features = []
        for feature in panel.features:
            reach = [along.at(panel.name, point) for point in feature.path.points(CHORD)]
            if not feature.path.closed and _size(reach) > ACROSS * _size(ends):
                vertices = tuple(moved(panel.name, point) for point in feature.path.vertices)
                path = Path(vertices, feature.path.bulges, closed=False)
            else:
                dx, dy = _rigid(along, found, panel, ends, reach)
                x, y = places[panel.name]
                path = feature.path.transformed(Transform.translation(x + dx, y + dy))
            features.append(replace(feature, path=path))
        return replace(panel, outline=outline, features=tuple(features))

    return replace(
        net,
        panels=tuple(map(panel_moved, net.panels)),
        hinges=tuple(map(hinge_moved, net.hinges)),
    )


def _shift(along: Along, found: Sequence[Cut], panel: str, point: Point) -> Point:
    """How far a point of a panel moves on the flat against the panel's lower end."""
    at = along.at(panel, point)
    by = sum(cut.by for cut in found if cut.at < at)
    return _flat(along, panel, by) if panel in along.growing else (0.0, 0.0)


def _flat(along: Along, panel: str, by: float) -> Point:
    """A way along the axis on the flat panel; none for one that lies across it."""
    ax, ay = along.slope[panel]
    size = math.hypot(ax, ay)
    return (by * ax / size, by * ay / size) if size > HALF else (0.0, 0.0)


def _rigid(
    along: Along, found: Sequence[Cut], panel: Panel, ends: Sequence[float], reach: Sequence[float]
) -> Point:
    """How far a hole or slit moves as a whole: with the nearer end of its panel, or half as far as
    the two ends where it stands between them."""
    if panel.name not in along.growing:
        return (0.0, 0.0)
    low, high = (sum(cut.by for cut in found if cut.at < end) for end in (min(ends), max(ends)))
    off = (min(reach) + max(reach)) / 2 - (min(ends) + max(ends)) / 2
    by = (low + high) / 2 if abs(off) < CENTRED else high if off > 0 else low
    return _flat(along, panel.name, by)


def _size(values: Sequence[float]) -> float:
    return max(values) - min(values)
