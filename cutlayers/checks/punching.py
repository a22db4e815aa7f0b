"""How many layers lie at each punched hole of the folded box?

Measured: all panels that lie on each other at a punched hole of the folded box. layers: how many
they are, against `layers` under [limits]. hole-at-edge: the share of the hole that a layer covers
whose edge runs through it. hole-covered: the share that a layer covers which has no hole there.
Holes of several panels that lie on each other are one hole and told once.

Why: a hand punch goes through a few layers and then jams or bites a ragged hole. A layer that ends
within the hole leaves a crescent that tears out under the ribbon. A layer without a hole shuts it,
and the ribbon does not go through.

Cure: move the hole to where there are fewer layers, by the amounts told (the option `punch_inset`
where the style has it), make it smaller, or leave it out. If your punch takes more, raise
`layers` under [limits] in the job. For a covered hole, let the other layer be punched too.

Source: common practice, no source; four layers is what a hand punch takes of usual card.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from cutlayers.box.layers import TOUCH, Layer, parallel_layers, pile_with
from cutlayers.geometry.overlays import shared, without
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import FACE_CHORD, Face, seen_from
from cutlayers.net.features import Feature, Work
from cutlayers.net.folding import upright
from cutlayers.net.space import Vector
from cutlayers.net.stacking import Key, key
from cutlayers.telling.findings import Detail, Finding, Severity, at_most, details
from cutlayers.telling.quantities import count, lengths, share

SLIVER = 0.01
"""Share of a hole's area that is lost in the chords of its round border."""


def check_punching(box: Assembly, caliper: float, limits: Limits) -> tuple[Finding, ...]:
    """A warning where a hole goes through more layers than allowed, where a layer that lies on
    it has no hole, and where the edge of a layer runs through it.

    Holes of several panels that lie on each other are one hole and told once.
    """
    reach = caliper + limits.lid_loose
    places: list[Vector] = []
    found: list[Finding] = []
    for face in box.faces:
        fresh = []
        for feature in face.panel.features:
            if feature.work is Work.PUNCH:
                hole = shapely.Polygon(feature.path.points(FACE_CHORD))
                place = face.pose.place((hole.centroid.x, hole.centroid.y))
                if all(math.dist(place, other) > TOUCH for other in places):
                    places.append(place)
                    fresh.append((feature, hole))
        parallel = parallel_layers(box, face) if fresh else []
        for feature, hole in fresh:
            found.extend(_hole(face, feature, hole, parallel, reach, limits, box.cards))
    return tuple(found)


def _hole(
    face: Face,
    feature: Feature,
    hole: shapely.Polygon,
    parallel: Sequence[Layer],
    reach: float,
    limits: Limits,
    cards: Mapping[Key, BaseGeometry],
) -> Iterator[Finding]:
    """What is wrong with a hole; `cards` are the shapes of all panels in their own coordinates."""
    within = shared([layer.shape for layer in parallel], hole)
    covered = {
        layer.face.label: area / hole.area for layer, area in zip(parallel, within, strict=True)
    }
    there = [
        layer for layer in parallel if layer.face is face or covered[layer.face.label] > SLIVER
    ]
    pile = pile_with(there, face, reach)
    place = replace(face.subject, feature=feature.name)
    at_edge = {layer.face.label for layer in pile if covered[layer.face.label] < 1 - SLIVER}
    elsewhere: tuple[tuple[str, Detail], ...] = ()
    if len(pile) > limits.layers or at_edge:
        elsewhere = _elsewhere(face, hole, pile_with(parallel, face, reach), limits)
    if len(pile) > limits.layers:
        yield Finding(
            "layers",
            Severity.WARNING,
            place,
            (count(len(pile)),),
            at_most(count(limits.layers)),
            tuple(layer.face.subject for layer in pile),
            elsewhere,
        )
    left = [seen_from(face.pose, layer.face.pose, cards[key(layer.face)]) for layer in pile]
    for layer, area in zip(pile, shared(left, hole), strict=True):
        closed = area / hole.area
        if layer.face.label in at_edge:
            yield Finding(
                "hole-at-edge",
                Severity.WARNING,
                place,
                (share(covered[layer.face.label]),),
                others=(layer.face.subject,),
                details=elsewhere,
            )
        elif closed > SLIVER:
            yield Finding(
                "hole-covered",
                Severity.WARNING,
                place,
                (share(closed),),
                others=(layer.face.subject,),
            )


def _elsewhere(
    face: Face, hole: shapely.Polygon, pile: Sequence[Layer], limits: Limits
) -> tuple[tuple[str, Detail], ...]:
    """The nearest place on the panel with few enough layers, clear of every edge: how far to the
    right and up it lies as seen from outside with the box standing, and how many layers are
    there. Nothing where there is no such place."""
    left, _, right, _ = hole.bounds
    clear = (right - left) / 2 + limits.hole_border
    region: BaseGeometry = face.shape.buffer(-clear, join_style="mitre")
    for layer in pile:
        if layer.face is not face:
            region = without(region, layer.shape.boundary.buffer(clear))
    good = []
    for part in shapely.get_parts(region):
        inside = part.representative_point()
        number = sum(layer.shape.contains(inside) for layer in pile)
        if not part.is_empty and number <= limits.layers:
            good.append((part.distance(hole.centroid), number, part))
    if not good:
        return ()
    _, number, part = min(good, key=lambda each: each[:2])
    nearest, _ = nearest_points(part, hole.centroid)
    shift = (nearest.x - hole.centroid.x, nearest.y - hole.centroid.y)
    ux, uy = upright(face.pose)
    across, up = shift[0] * uy - shift[1] * ux, shift[0] * ux + shift[1] * uy
    move = tuple(by if abs(by) > TOUCH else 0.0 for by in (across, up))
    return details(move=lengths(*move), layers_there=count(number))
