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
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from cutlayers.box.facing import GluedOn
from cutlayers.box.layers import TOUCH, Layer, parallel_layers, pile_with
from cutlayers.construction.card import Card
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import area, shared, without
from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import FACE_CHORD, Face, pierced, seen_from
from cutlayers.net.features import Feature, Work
from cutlayers.net.folding import upright
from cutlayers.net.space import Vector
from cutlayers.net.stacking import Key, key
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
    box: Assembly, card: Card, limits: Limits, glued_on: GluedOn = ()
) -> tuple[Finding, ...]:
    """A warning where a hole goes through more layers than allowed, where a layer that lies on
    it has no hole, and where the edge of a layer runs through it.

    Holes of several panels that lie on each other are one hole and told once.
    """
    thickest = card.thickest(folded.net.name for folded in box.boxes)
    reach = thickest + limits.lid_loose + max((thick for _, thick in glued_on), default=0.0)
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
            found.extend(_hole(face, feature, hole, parallel, reach, limits, box.cards, glued_on))
    return tuple(found)


def _hole(
    face: Face,
    feature: Feature,
    hole: shapely.Polygon,
    parallel: Sequence[Layer],
    reach: float,
    limits: Limits,
    cards: Mapping[Key, BaseGeometry],
    glued_on: GluedOn,
) -> Iterator[Finding]:
    """What is wrong with a hole; `cards` are the shapes of all panels in their own coordinates."""
    within = shared([layer.shape for layer in parallel], hole)
    there = [
        layer
        for layer, covered in zip(parallel, within, strict=True)
        if layer.face is face or covered > SLIVER * hole.area
    ]

    def with_facings(layers: Sequence[Layer]) -> list[_Card]:
        return [card for layer in layers for card in _cards(face, layer, hole, cards, glued_on)]

    pile = with_facings(pile_with(there, face, reach))
    shares = [covered / hole.area for covered in shared([each.shape for each in pile], hole)]
    # A facing piece whose own hole is wider is not in the punch's way.
    lying = [
        (each, part)
        for each, part in zip(pile, shares, strict=True)
        if each.subject == face.subject or part > SLIVER
    ]
    place = replace(face.subject, feature=feature.name)
    elsewhere: tuple[tuple[str, Detail], ...] = ()
    if len(lying) > limits.layers or any(part < 1 - SLIVER for _, part in lying):
        around = with_facings(pile_with(parallel, face, reach))
        elsewhere = _elsewhere(face, hole, around, limits)
    if len(lying) > limits.layers:
        yield Finding(
            "layers",
            Severity.WARNING,
            place,
            (count(len(lying)),),
            at_most(count(limits.layers)),
            tuple(each.subject for each, _ in lying),
            elsewhere,
        )
    # Its own hole runs along this one. What leaves all but the rim open, leaves it open.
    rim = (1 - math.sqrt(1 - SLIVER)) * math.sqrt(hole.area / math.pi)
    core = hole.buffer(-rim)
    for each, part in lying:
        if part < 1 - SLIVER:
            yield Finding(
                "hole-at-edge",
                Severity.WARNING,
                place,
                (share(part),),
                others=(each.subject,),
                details=elsewhere,
            )
            continue
        closed = shared([each.card], hole)[0] if each.card.intersects(core) else 0.0
        if closed > SLIVER * hole.area:
            yield Finding(
                "hole-covered",
                Severity.WARNING,
                place,
                (share(closed / hole.area),),
                others=(each.subject,),
            )


def _cards(
    face: Face,
    layer: Layer,
    hole: shapely.Polygon,
    cards: Mapping[Key, BaseGeometry],
    glued_on: GluedOn,
) -> Iterator[_Card]:
    """A panel, and the facing pieces on it."""
    pose = layer.face.pose
    own = seen_from(face.pose, pose, cards[key(layer.face)])
    yield _Card(layer.face.subject, layer.shape, own)
    for facing, _ in glued_on:
        if (facing.on.net, facing.on.panel) != key(layer.face):
            continue
        # It lies on the flat where its panel does. Through a hole wider than the punch it is not
        # punched.
        (piece,) = facing.net.panels
        shape: BaseGeometry = area(piece.outline.points(FACE_CHORD))
        for opening in piece.features:
            through = area(opening.path.points(FACE_CHORD))
            if seen_from(face.pose, pose, through).contains(hole.buffer(TOUCH)):
                shape = without(shape, through)
        (card,) = pierced(facing.net.panels)
        yield _Card(
            Subject(net=facing.net.name),
            seen_from(face.pose, pose, shape),
            seen_from(face.pose, pose, card),
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
