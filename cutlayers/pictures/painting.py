"""One folded box painted into an SVG group: shadow, faces, edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from lxml import etree
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from cutlayers.formats.svg import number
from cutlayers.net.faces import Face
from cutlayers.net.folding import upright
from cutlayers.net.space import dot, moved
from cutlayers.net.stacking import key
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import Looks, lit, shaded
from cutlayers.pictures.scene import Surface

DECIMALS = 2
"""0.01 mm of the picture is finer than any screen."""

CUT_WIDTH, FOLD_WIDTH, LINE_WIDTH = 0.42, 0.2, 0.22
"""mm of the picture."""

SHADOW_BLUR, SHADOW_OPACITY = 1.1, 0.3
"""Standard deviation of the shadow's soft border in mm of the picture, and how dark it is."""

SHADOW_FALL = (0.2, 0.06)
"""How far a point's shadow falls to the right and to the back, as shares of its height."""

OUTSIDE_SHADE, INSIDE_SHADE = (0.93, 1.04), (0.8, 1.02)
"""Brightness at the bottom and the top of a face: little light reaches deep inside a box."""


@dataclass(frozen=True, slots=True)
class Painting:
    """What is to be painted: surfaces from far to near, and the faces they are pieces of."""

    camera: Camera
    pieces: tuple[Surface, ...]
    faces: tuple[Face, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """From space to the picture, y down."""

    scale: float
    left: float
    base: float
    camera: Camera

    def matrix(self, face: Face) -> tuple[float, float, float, float, float, float]:
        """Coefficients that carry a face's flat coordinates onto the page, as shapely has them:
        x' = a·x + b·y + e, y' = c·x + d·y + f."""
        pose, right, up = face.pose, self.camera.right, self.camera.up
        s = self.scale
        return (
            s * dot(pose.right, right),
            s * dot(pose.up, right),
            -s * dot(pose.right, up),
            -s * dot(pose.up, up),
            self.left + s * dot(pose.origin, right),
            self.base - s * dot(pose.origin, up),
        )


def paint(group: etree._Element, drawn: Painting, page: Page, looks: Looks, prefix: str) -> None:
    """Add a box to an SVG group, farthest first. Ids begin with `prefix`."""
    shades = etree.SubElement(group, "defs")
    _add_blur(shades, f"{prefix}-soft")
    _draw_shadow(group, drawn, page, looks, f"{prefix}-soft")
    numbers = {key(face): index for index, face in enumerate(drawn.faces)}
    done: set[int] = set()
    for piece in drawn.pieces:
        outside = dot(piece.pose.normal, drawn.camera.toward) > 0
        index = numbers[key(piece.face)]
        name = f"{prefix}-{index + 1}"
        matrix = page.matrix(piece.face)
        if index not in done:
            done.add(index)
            _add_shade(shades, name, piece.face, outside, drawn.camera, matrix, looks)
        seen = affine_transform(piece.shape, matrix)
        etree.SubElement(
            group,
            "path",
            {
                "d": _area(seen),
                "fill": f"url(#{name})",
                "fill-rule": "evenodd",
                "stroke": f"url(#{name})",
                "stroke-width": "0.1",
                "stroke-linejoin": "round",
            },
        )
        for lines, colour, width, dash in (
            (piece.folds, looks.edge, FOLD_WIDTH, ""),
            (piece.guides if outside else None, looks.guide, LINE_WIDTH, ""),
            (piece.tears, looks.edge, LINE_WIDTH, "1 0.6"),
            (piece.borders, looks.edge, CUT_WIDTH, ""),
        ):
            if lines is not None and not lines.is_empty:
                _stroke(group, affine_transform(lines, matrix), colour, width, dash)


def _stroke(
    group: etree._Element, lines: BaseGeometry, colour: str, width: float, dash: str
) -> None:
    data = _lines(lines)
    if not data:
        return
    attributes = {
        "d": data,
        "fill": "none",
        "stroke": colour,
        "stroke-width": number(width, DECIMALS),
        "stroke-linecap": "round",
        "stroke-linejoin": "round",
    }
    if dash:
        attributes |= {"stroke-dasharray": dash, "stroke-linecap": "butt"}
    etree.SubElement(group, "path", attributes)


def _add_shade(
    shades: etree._Element,
    name: str,
    face: Face,
    outside: bool,
    camera: Camera,
    matrix: Sequence[float],
    looks: Looks,
) -> None:
    """A gentle gradient up a face: darker below, much darker deep inside a box."""
    normal = face.pose.normal if outside else moved((0.0, 0.0, 0.0), face.pose.normal, -1.0)
    light = lit(looks, normal, (camera.right, camera.up, camera.toward))
    colour = looks.outside if outside else looks.inside
    low, high = OUTSIDE_SHADE if outside else INSIDE_SHADE
    ux, uy = upright(face.pose)
    marks = [ux * x + uy * y for x, y in face.shape.exterior.coords]
    start, end = min(marks), max(marks)
    a, b, c, d, e, f = matrix
    shade = etree.SubElement(
        shades,
        "linearGradient",
        {
            "id": name,
            "gradientUnits": "userSpaceOnUse",
            "gradientTransform": f"matrix({' '.join(number(v, 5) for v in (a, c, b, d, e, f))})",
            "x1": number(start * ux, DECIMALS),
            "y1": number(start * uy, DECIMALS),
            "x2": number(end * ux, DECIMALS),
            "y2": number(end * uy, DECIMALS),
        },
    )
    for offset, share in (("0", low), ("1", high)):
        etree.SubElement(
            shade, "stop", {"offset": offset, "stop-color": shaded(colour, light * share)}
        )


def _add_blur(shades: etree._Element, name: str) -> None:
    blur = etree.SubElement(
        shades,
        "filter",
        {"id": name, "x": "-20%", "y": "-40%", "width": "140%", "height": "180%"},
    )
    etree.SubElement(blur, "feGaussianBlur", {"stdDeviation": number(SHADOW_BLUR, DECIMALS)})


def _draw_shadow(
    group: etree._Element, drawn: Painting, page: Page, looks: Looks, blur: str
) -> None:
    """The shadow on the table, almost straight below."""
    ground = min(face.low[2] for face in drawn.faces)
    camera = drawn.camera
    fallen = []
    for face in drawn.faces:
        points = []
        for x, y in face.shape.exterior.coords:
            px, py, pz = face.pose.place((x, y))
            aside = moved((px, py, ground), camera.right, SHADOW_FALL[0] * (pz - ground))
            sx, sy = camera.see(moved(aside, (0.0, 1.0, 0.0), SHADOW_FALL[1] * (pz - ground)))
            points.append((page.left + page.scale * sx, page.base - page.scale * sy))
        flat = shapely.Polygon(points)
        if flat.is_valid and flat.area > 0:
            fallen.append(flat)
    etree.SubElement(
        group,
        "path",
        {
            "d": _area(shapely.union_all(fallen)),
            "fill": looks.shadow,
            "fill-opacity": number(SHADOW_OPACITY, DECIMALS),
            "filter": f"url(#{blur})",
        },
    )


def _area(shape: BaseGeometry) -> str:
    """Path data of polygons, holes included."""
    data = []
    for part in shapely.get_parts(shape):
        if part.geom_type == "Polygon":
            for ring in (part.exterior, *part.interiors):
                data.append(f"{_points(list(ring.coords)[:-1])} Z")
    return " ".join(data)


def _lines(shape: BaseGeometry) -> str:
    data = []
    for part in shapely.get_parts(shapely.line_merge(_only_lines(shape))):
        coordinates = list(part.coords)
        if len(coordinates) > 1:
            data.append(_points(coordinates))
    return " ".join(data)


def _only_lines(shape: BaseGeometry) -> BaseGeometry:
    return shapely.MultiLineString(
        [
            part
            for part in shapely.get_parts(shape)
            if part.geom_type == "LineString" and part.length > 1e-3
        ]
    )


def _points(points: Sequence[tuple[float, float]]) -> str:
    words = [f"{number(x, DECIMALS)} {number(y, DECIMALS)}" for x, y in points]
    return f"M{' L'.join(words)}"
