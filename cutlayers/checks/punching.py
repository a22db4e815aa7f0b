"""How many layers lie at each punched hole of the folded box?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from cutlayers.box.layers import TOUCH, Layer, parallel_layers, pile_with
from cutlayers.geometry.overlays import common, without
from cutlayers.geometry.transforms import Point
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import CHORD, Face, pierced, seen_from
from cutlayers.net.features import Feature, Work
from cutlayers.net.folding import upright
from cutlayers.net.space import Vector
from cutlayers.telling.findings import Finding, Severity

SLIVER = 0.01
"""Share of a hole's area that is lost in the chords of its round border."""


def check_punching(box: Assembly, caliper: float, limits: Limits) -> tuple[Finding, ...]:
    """A warning where a hole goes through more layers than allowed, where a layer that lies on
    it has no hole, and where the edge of a layer runs through it.

    Holes of several panels that lie on each other are one hole and told once.
    """
    reach = caliper + limits.lid_loose
    told: list[Vector] = []
    found: list[Finding] = []
    for face in box.faces:
        fresh = []
        for feature in face.panel.features:
            if feature.work is Work.PUNCH:
                hole = shapely.Polygon(feature.path.points(CHORD))
                place = face.pose.place((hole.centroid.x, hole.centroid.y))
                if all(math.dist(place, other) > TOUCH for other in told):
                    told.append(place)
                    fresh.append((feature, hole))
        parallel = parallel_layers(box, face) if fresh else []
        for feature, hole in fresh:
            found.extend(_hole(face, feature, hole, parallel, reach, limits))
    return tuple(found)


def _hole(
    face: Face,
    feature: Feature,
    hole: shapely.Polygon,
    parallel: Sequence[Layer],
    reach: float,
    limits: Limits,
) -> Iterator[Finding]:
    there = [
        layer
        for layer in parallel
        if layer.face is face or common(layer.shape, hole).area > SLIVER * hole.area
    ]
    pile = pile_with(there, face, reach)
    place = f"{face.label}: {feature.name}"
    names = ", ".join(layer.face.name for layer in pile)
    at_edge = {layer.face.label: common(layer.shape, hole).area / hole.area for layer in pile}
    at_edge = {label: share for label, share in at_edge.items() if share < 1 - SLIVER}
    if len(pile) <= limits.layers and not at_edge:
        advice = ""
    else:
        advice = _elsewhere(face, hole, pile_with(parallel, face, reach), limits)
    if len(pile) > limits.layers:
        yield Finding(
            Severity.WARNING,
            "layers",
            place,
            f"goes through {len(pile)} layers: {names}",
            f"up to {limits.layers} layers",
            advice,
        )
    for layer in pile:
        card = seen_from(face.pose, layer.face.pose, pierced(layer.face.panel))
        closed = common(card, hole).area / hole.area
        if layer.face.label in at_edge:
            yield Finding(
                Severity.WARNING,
                "hole-at-edge",
                place,
                f"lies across the edge of {layer.face.name}, "
                f"which covers {at_edge[layer.face.label]:.0%} of it",
                "clear of the edges of all layers",
                advice,
            )
        elif closed > SLIVER:
            yield Finding(
                Severity.WARNING,
                "hole-covered",
                place,
                f"{closed:.0%} of it is covered by {layer.face.name}",
                "a hole in every layer that lies there",
                f"punch {layer.face.name} too, or move the hole",
            )


def _elsewhere(face: Face, hole: shapely.Polygon, pile: Sequence[Layer], limits: Limits) -> str:
    """The nearest place on the panel with few enough layers, clear of every edge."""
    left, _, right, _ = hole.bounds
    clear = (right - left) / 2 + limits.hole_border
    region: BaseGeometry = face.shape.buffer(-clear, join_style="mitre")
    for layer in pile:
        if layer.face is not face:
            region = without(region, layer.shape.boundary.buffer(clear))
    good = []
    for part in shapely.get_parts(region):
        inside = part.representative_point()
        count = sum(layer.shape.contains(inside) for layer in pile)
        if not part.is_empty and count <= limits.layers:
            good.append((part.distance(hole.centroid), count, part))
    if not good:
        return "no place on this panel works; make the hole smaller or punch fewer layers"
    _, count, part = min(good, key=lambda each: each[:2])
    nearest, _ = nearest_points(part, hole.centroid)
    shift = (nearest.x - hole.centroid.x, nearest.y - hole.centroid.y)
    return f"move it {_told(face, shift)}, where {_counted(count)}"


def _told(face: Face, shift: Point) -> str:
    """A shift in words, as seen from outside with the box standing."""
    ux, uy = upright(face.pose)
    across, up = shift[0] * uy - shift[1] * ux, shift[0] * ux + shift[1] * uy
    words = [
        f"{abs(by):.1f} mm {positive if by > 0 else negative}"
        for by, positive, negative in ((across, "right", "left"), (up, "up", "down"))
        if abs(by) > TOUCH
    ]
    return " and ".join(words) if words else "nowhere"


def _counted(count: int) -> str:
    return "there is 1 layer" if count == 1 else f"there are {count} layers"
