"""How many layers lie at each punched hole of the folded box?

Measured: all panels that lie on each other at a punched hole of the folded box. layers: how many
they are, against `layers` under [limits]. hole-at-edge: the share of the hole that a layer covers
whose edge runs through it. hole-covered: the share that a layer covers which has no hole there.
A facing piece is a layer too, unless its own hole there is wider.
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
from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from cutlayers.box.facing import GluedOn
from cutlayers.box.layers import TOUCH, Layer, parallel_layers, pile_with
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import area, common, without
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import FACE_CHORD, Face, pierced, seen_from
from cutlayers.net.features import Feature, Work
from cutlayers.net.folding import upright
from cutlayers.net.space import Vector
from cutlayers.net.stacking import key
from cutlayers.telling.findings import Detail, Finding, Severity, Subject, at_most, details
from cutlayers.telling.quantities import count, lengths, share

SLIVER = 0.01
"""Share of a hole's area that is lost in the chords of its round border."""


@frozen
class _Card:
    """A layer at a hole: a panel, or a facing piece that is glued on one. Its shape, and what of it
    is card, in the punched face's flat coordinates."""

    subject: Subject
    shape: BaseGeometry
    card: BaseGeometry


def check_punching(
    box: Assembly, caliper: float, limits: Limits, glued_on: GluedOn = ()
) -> tuple[Finding, ...]:
    """A warning where a hole goes through more layers than allowed, where a layer that lies on
    it has no hole, and where the edge of a layer runs through it.

    Holes of several panels that lie on each other are one hole and told once.
    """
    reach = caliper + limits.lid_loose + max((thick for _, thick in glued_on), default=0.0)
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
            found.extend(_hole(face, feature, hole, parallel, reach, limits, glued_on))
    return tuple(found)


def _hole(
    face: Face,
    feature: Feature,
    hole: shapely.Polygon,
    parallel: Sequence[Layer],
    reach: float,
    limits: Limits,
    glued_on: GluedOn,
) -> Iterator[Finding]:
    there = [
        layer
        for layer in parallel
        if layer.face is face or common(layer.shape, hole).area > SLIVER * hole.area
    ]
    pile = [
        card
        for layer in pile_with(there, face, reach)
        for card in _cards(face, layer, hole, glued_on)
        if card.subject == face.subject or common(card.shape, hole).area > SLIVER * hole.area
    ]
    place = replace(face.subject, feature=feature.name)
    covers = [common(each.shape, hole).area / hole.area for each in pile]
    at_edge = [part < 1 - SLIVER for part in covers]
    elsewhere: tuple[tuple[str, Detail], ...] = ()
    if len(pile) > limits.layers or any(at_edge):
        around = [
            card
            for layer in pile_with(parallel, face, reach)
            for card in _cards(face, layer, hole, glued_on)
        ]
        elsewhere = _elsewhere(face, hole, around, limits)
    if len(pile) > limits.layers:
        yield Finding(
            "layers",
            Severity.WARNING,
            place,
            (count(len(pile)),),
            at_most(count(limits.layers)),
            tuple(each.subject for each in pile),
            elsewhere,
        )
    for each, part, ends in zip(pile, covers, at_edge, strict=True):
        closed = common(each.card, hole).area / hole.area
        if ends:
            yield Finding(
                "hole-at-edge",
                Severity.WARNING,
                place,
                (share(part),),
                others=(each.subject,),
                details=elsewhere,
            )
        elif closed > SLIVER:
            yield Finding(
                "hole-covered",
                Severity.WARNING,
                place,
                (share(closed),),
                others=(each.subject,),
            )


def _cards(face: Face, layer: Layer, hole: shapely.Polygon, glued_on: GluedOn) -> Iterator[_Card]:
    """A panel, and the facing pieces on it."""
    yield _Card(
        layer.face.subject,
        layer.shape,
        seen_from(face.pose, layer.face.pose, pierced(layer.face.panel)),
    )
    for facing, _ in glued_on:
        if (facing.on.net, facing.on.panel) != key(layer.face):
            continue
        (piece,) = facing.net.panels
        # It lies on the flat where its panel does. Through a hole wider than the punch it is not
        # punched.
        shape: BaseGeometry = area(piece.outline.points(FACE_CHORD))
        for opening in piece.features:
            through = area(opening.path.points(FACE_CHORD))
            if seen_from(face.pose, layer.face.pose, through).contains(hole.buffer(TOUCH)):
                shape = without(shape, through)
        yield _Card(
            Subject(net=facing.net.name),
            seen_from(face.pose, layer.face.pose, shape),
            seen_from(face.pose, layer.face.pose, pierced(piece)),
        )


def _elsewhere(
    face: Face, hole: shapely.Polygon, around: Sequence[_Card], limits: Limits
) -> tuple[tuple[str, Detail], ...]:
    """The nearest place on the panel with few enough layers, clear of every edge: how far to the
    right and up it lies as seen from outside with the box standing, and how many layers are
    there. Nothing where there is no such place."""
    left, _, right, _ = hole.bounds
    clear = (right - left) / 2 + limits.hole_border
    region: BaseGeometry = face.shape.buffer(-clear, join_style="mitre")
    for each in around:
        if each.subject != face.subject:
            region = without(region, each.shape.boundary.buffer(clear))
    good = []
    for part in shapely.get_parts(region):
        inside = part.representative_point()
        number = sum(each.shape.contains(inside) for each in around)
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
