"""One folded box as shapes: shadow, faces, edges."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise

from cutlayers.geometry.overlays import rings_of
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.faces import Face
from cutlayers.net.folding import upright
from cutlayers.net.space import dot, moved
from cutlayers.net.stacking import Key, key
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import Looks, brightness, shaded
from cutlayers.pictures.scene import Chain, Fade, Pen, Shape
from cutlayers.pictures.surfaces import Surface

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
) -> tuple[Shape, ...]:
    """A box as shapes, farthest first, in mm as the camera sees it, y down.

    `pieces` are the faces' surfaces from far to near. Seen from below there is no shadow.
    """
    fades: dict[tuple[str, str], Fade] = {}
    shapes = [_shadow(faces, camera, looks)] if camera.toward[2] > 0 else []
    for piece, rings in zip(pieces, rings_of([piece.shape for piece in pieces]), strict=True):
        outside = dot(piece.pose.normal, camera.toward) > 0
        name = key(piece.face)
        if name not in fades:
            fades[name] = _fade(piece.face, outside, camera, looks, lit=name in lit_panels)
        onto = _seen(piece.face, camera)
        fade = fades[name]
        seam = Pen(_between(fade) if piece.whole else fade, SEAM)
        shapes.append(Shape(tuple(map(_chain, rings)), fade, seam, onto, even_odd=True))
        for lines, colour, width, dash in (
            (piece.flat.folds, looks.edge, FOLD_WIDTH, ()),
            (piece.flat.guides if outside else (), looks.guide, LINE_WIDTH, ()),
            (piece.flat.tears, looks.edge, LINE_WIDTH, TEAR_DASH),
            (piece.flat.borders, looks.edge, CUT_WIDTH, ()),
        ):
            if lines:
                chains = tuple(_chain(line) for line in lines)
                shapes.append(Shape(chains, None, Pen(colour, width, dash), onto))
    return tuple(shapes)


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


def _fade(face: Face, outside: bool, camera: Camera, looks: Looks, *, lit: bool) -> Fade:
    """A gentle gradient up a face: darker below, much darker deep inside a box."""
    normal = face.pose.normal if outside else moved((0.0, 0.0, 0.0), face.pose.normal, -1.0)
    light = brightness(looks, normal, (camera.right, camera.up, camera.toward))
    colours = (looks.lit_outside, looks.lit_inside) if lit else (looks.outside, looks.inside)
    colour = colours[0] if outside else colours[1]
    low, high = OUTSIDE_SHADE if outside else INSIDE_SHADE
    ux, uy = upright(face.pose)
    marks = [ux * x + uy * y for x, y in face.ring]
    start, end = min(marks), max(marks)
    return Fade(
        (start * ux, start * uy),
        (end * ux, end * uy),
        shaded(colour, light * low),
        shaded(colour, light * high),
    )


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
