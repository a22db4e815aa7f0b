"""One folded box as shapes: shadow, faces, edges."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import common, rings_of
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.faces import Face
from cutlayers.net.folding import upright
from cutlayers.net.space import dot, moved
from cutlayers.net.stacking import Key, key
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.decoration import Decoration
from cutlayers.pictures.looks import Looks, brightness, edge_of, shaded
from cutlayers.pictures.scene import Chain, Fade, Pen, Print, Shape
from cutlayers.pictures.surfaces import Surface
from cutlayers.telling.colours import SHADE

Painted = Shape | Print

CUT_WIDTH, FOLD_WIDTH, LINE_WIDTH = 0.42, 0.2, 0.22
"""mm of the picture."""

SEAM = 0.1
"""mm of the picture; each face is drawn round in its own colour, so that no two gape. Pieces of one
face are drawn round in its fade, which is dear to paint but shows no seam between them."""

TEAR_DASH = (1.0, 0.6)

SHADOW_BLUR, SHADOW_OPACITY = 1.1, 0.3
"""Standard deviation of the shadow's soft border in mm of the picture, and how dark it is."""

SHADOW_FALL = (0.2, 0.06)
"""How far a point's shadow falls to the right and to the back, as shares of its height."""

OUTSIDE_SHADE, INSIDE_SHADE = (0.93, 1.04), (0.8, 1.02)
"""Brightness at the bottom and the top of a face: little light reaches deep inside a box."""


def paint(
    pieces: Sequence[Surface],
    faces: Sequence[Face],
    camera: Camera,
    looks: Looks,
    lit_panels: Collection[Key] = (),
) -> tuple[Painted, ...]:
    """A box as shapes and print, farthest first, in mm as the camera sees it, y down.

    `pieces` are the faces' surfaces from far to near. Seen from below there is no shadow.
    """
    lights: dict[Key, tuple[Light, Fade]] = {}
    shapes: list[Painted] = []
    if camera.toward[2] > 0:
        shapes.append(_shadow(faces, camera, looks))
    for piece, rings in zip(pieces, rings_of([piece.shape for piece in pieces]), strict=True):
        outside = dot(piece.pose.normal, camera.toward) > 0
        name = key(piece.face)
        lit = name in lit_panels
        own = looks.of(piece.face.net)
        card = own.card(outside, lit)
        if name not in lights:
            found = _light(piece.face, outside, camera, looks)
            lights[name] = found, found.on(card)
        light, fade = lights[name]
        onto = _seen(piece.face, camera)
        seam = Pen(_between(fade) if piece.whole else fade, SEAM)
        shapes.append(Shape(tuple(map(_chain, rings)), fade, seam, onto, even_odd=True))
        if outside and not lit and (decorated := looks.decorations.get(name)):
            shapes.extend(_decorated(piece, decorated, card, light, onto))
        for lines, colour, width, dash in (
            (piece.flat.folds, own.edge, FOLD_WIDTH, ()),
            (piece.flat.guides if outside else (), looks.guide, LINE_WIDTH, ()),
            (piece.flat.tears, own.edge, LINE_WIDTH, TEAR_DASH),
            (piece.flat.borders, own.edge, CUT_WIDTH, ()),
        ):
            if lines:
                chains = tuple(_chain(line) for line in lines)
                shapes.append(Shape(chains, None, Pen(colour, width, dash), onto))
    return tuple(shapes)


def _decorated(
    piece: Surface, decorations: Sequence[Decoration], card: str, light: Light, onto: Transform
) -> Iterator[Painted]:
    """A piece's ink and papers, as they are, with the light laid over them at last."""
    whole = _borders(piece.shape)
    yield Shape(whole, card, None, onto, even_odd=True)
    # Ink runs on a little: no card shows between pieces of a face, or the strips of a bent one.
    reach = piece.shape.buffer(SEAM, join_style="mitre")
    for each in decorations:
        within = _borders(reach if each.area is None else common(reach, each.area))
        if each.colour is not None:
            yield Shape(within, each.colour, None, onto, even_odd=True)
        if each.ink:
            yield Print(each.ink, within, onto)
    yield Shape(whole, light.shade, None, onto, even_odd=True)
    for each in decorations:
        if each.area is not None and each.colour is not None:
            rims = shapely.get_parts(common(each.area.boundary, piece.shape)).tolist()
            pen = Pen(edge_of(each.colour), FOLD_WIDTH)
            yield Shape(tuple(_chain(rim.coords) for rim in rims), None, pen, onto)


def _borders(area: BaseGeometry) -> tuple[Chain, ...]:
    (rings,) = rings_of([area])
    return tuple(map(_chain, rings))


def _seen(face: Face, camera: Camera) -> Transform:
    """From a face's flat coordinates to what the camera sees, y down."""
    pose, right, up = face.pose, camera.right, camera.up
    return Transform(
        dot(pose.right, right),
        dot(pose.up, right),
        dot(pose.origin, right),
        -dot(pose.right, up),
        -dot(pose.up, up),
        -dot(pose.origin, up),
    )


@frozen
class Light:
    """How bright a face is, 0…1, at its lowest and at its highest mark, points where it lies flat:
    darker below, much darker deep inside a box."""

    start: Point
    end: Point
    first: float
    last: float

    def on(self, colour: str) -> Fade:
        """A colour in this light."""
        first, last = shaded(colour, self.first), shaded(colour, self.last)
        return Fade(self.start, self.end, first, last)

    @property
    def shade(self) -> Fade:
        """What is laid over colours to bring them into this light."""
        dark = (1.0 - min(1.0, self.first), 1.0 - min(1.0, self.last))
        return Fade(self.start, self.end, SHADE, SHADE, dark)


def _light(face: Face, outside: bool, camera: Camera, looks: Looks) -> Light:
    normal = face.pose.normal if outside else moved((0.0, 0.0, 0.0), face.pose.normal, -1.0)
    light = brightness(looks, normal, (camera.right, camera.up, camera.toward))
    low, high = OUTSIDE_SHADE if outside else INSIDE_SHADE
    ux, uy = upright(face.pose)
    marks = [ux * x + uy * y for x, y in face.ring]
    start, end = min(marks), max(marks)
    return Light((start * ux, start * uy), (end * ux, end * uy), light * low, light * high)


def _between(fade: Fade) -> str:
    """The colour in the middle of a fade."""
    ends = (bytes.fromhex(fade.first[1:]), bytes.fromhex(fade.last[1:]))
    return "#" + "".join(f"{(one + other) // 2:02X}" for one, other in zip(*ends, strict=True))


def _shadow(faces: Sequence[Face], camera: Camera, looks: Looks) -> Shape:
    """The shadow on the table, almost straight below: all faces' shadows together."""
    ground = min(face.low[2] for face in faces)
    fallen = []
    for face in faces:
        points = []
        for point in face.ring:
            px, py, pz = face.pose.place(point)
            aside = moved((px, py, ground), camera.right, SHADOW_FALL[0] * (pz - ground))
            sx, sy = camera.see(moved(aside, (0.0, 1.0, 0.0), SHADOW_FALL[1] * (pz - ground)))
            points.append((sx, -sy))
        # Outlines that all run the same way round are filled as one, wherever they overlap.
        turn = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise((*points, points[0])))
        fallen.append(Chain(tuple(points if turn > 0 else points[::-1]), closed=True))
    return Shape(tuple(fallen), looks.shadow, opacity=SHADOW_OPACITY, blur=SHADOW_BLUR)


def _chain(points: Sequence[Point]) -> Chain:
    places = tuple(points)
    closed = len(places) > 2 and places[0] == places[-1]
    return Chain(places[:-1] if closed else places, closed)
