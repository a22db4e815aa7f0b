"""A drawing of folded boxes, shaded, hidden faces right, as SVG.

Outside and inside have different colours; edges that were cut are stronger than folds. The same
input gives the same bytes. Text is drawn as strokes, so it looks alike everywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from lxml import etree
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from cutlayers.formats.svg import SVG_NAMESPACE, as_bytes, number
from cutlayers.lettering import letter
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, faces
from cutlayers.net.folding import FoldedNet, fold, upright
from cutlayers.net.model import Net
from cutlayers.net.space import Vector, dot, moved
from cutlayers.net.stacking import key, stacks
from cutlayers.views.camera import Camera
from cutlayers.views.looks import KRAFT, Looks, lit, shaded
from cutlayers.views.scene import Surface, painted, surfaces

DECIMALS = 2
"""0.01 mm of the picture is finer than any screen."""

MARGIN = 7.0
"""mm of the picture round each view."""

CAPTION = 2.6
"""mm; height of capitals under a view."""

CUT_WIDTH, FOLD_WIDTH, LINE_WIDTH = 0.42, 0.2, 0.22
"""mm of the picture."""

OUTSIDE_SHADE, INSIDE_SHADE = (0.93, 1.04), (0.8, 1.02)
"""Brightness at the bottom and the top of a face: little light reaches deep inside a box."""

LIFTED = 0.35
"""How far a lid is lifted off, as a share of the box's height, once it is clear of the base."""

SHADOW_BLUR, SHADOW_OPACITY = 1.1, 0.3
"""Standard deviation of the shadow's soft border in mm of the picture, and how dark it is."""

SHADOW_FALL = (0.2, 0.06)
"""How far a point's shadow falls to the right and to the back, as shares of its height."""


@dataclass(frozen=True, slots=True)
class View:
    """One view of a box: which nets, how far folded (0…1), the lid lifted off or on, and from
    where it is seen (degrees; see Camera)."""

    nets: tuple[Net, ...]
    caption: str = ""
    fraction: float = 1.0
    apart: bool = False
    azimuth_deg: float = 32.0
    elevation_deg: float = 26.0


def usual_views(nets: Sequence[Net]) -> tuple[View, ...]:
    """What a maker wants to see: each net half folded, the box open, and the box closed."""
    half = [View((net,), f"{net.name}, half folded", fraction=0.55) for net in nets]
    if len(nets) == 1:
        return (*half, View(tuple(nets), "folded"))
    whole = tuple(nets)
    return (*half, View(whole, "apart", apart=True), View(whole, "together"))


def draw_views(
    title: str, views: Sequence[View], looks: Looks = KRAFT, height: float = 90.0
) -> bytes:
    """Draw views side by side, all at one scale, as an SVG picture `height` mm high or less.

    The tallest view fills the height. Raises NetError for nets that cannot be folded and
    ValueError where there is no view.
    """
    if not views:
        raise ValueError("a picture needs a view")
    drawn = [_Drawn.of(view) for view in views]
    captions = any(view.caption for view in views)
    room = height - 2 * MARGIN - (3 * CAPTION if captions else 0.0)
    scale = room / max(each.top - each.bottom for each in drawn)
    widths = [(each.right - each.left) * scale + 2 * MARGIN for each in drawn]
    root = etree.Element(
        "svg",
        {
            "version": "1.1",
            "width": f"{number(sum(widths), DECIMALS)}mm",
            "height": f"{number(height, DECIMALS)}mm",
            "viewBox": f"0 0 {number(sum(widths), DECIMALS)} {number(height, DECIMALS)}",
        },
        nsmap={None: SVG_NAMESPACE},
    )
    etree.SubElement(root, "title").text = title
    if looks.ground is not None:
        etree.SubElement(root, "rect", {"width": "100%", "height": "100%", "fill": looks.ground})
    at, floor = 0.0, MARGIN + room
    for index, (each, width) in enumerate(zip(drawn, widths, strict=True)):
        place = _Page(
            scale, at + MARGIN - each.left * scale, floor + each.bottom * scale, each.camera
        )
        group = etree.SubElement(root, "g", {"id": f"view-{index + 1}"})
        if each.view.caption:
            etree.SubElement(group, "title").text = each.view.caption
        _draw(group, each, place, looks, f"v{index + 1}")
        if each.view.caption:
            _write(group, each.view.caption, (at + width / 2, floor + MARGIN + CAPTION), looks)
        at += width
    return as_bytes(root)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A view folded and sorted; its extent in mm as the camera sees it, shadow left out."""

    view: View
    camera: Camera
    pieces: tuple[Surface, ...]
    faces: tuple[Face, ...]
    left: float
    bottom: float
    right: float
    top: float

    @staticmethod
    def of(view: View) -> _Drawn:
        camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
        box = _posed(view)
        points = [
            camera.see(face.pose.place((x, y)))
            for face in box.faces
            for x, y in face.shape.exterior.coords
        ]
        xs, ys = zip(*points, strict=True)
        return _Drawn(
            view,
            camera,
            painted(surfaces(box), camera.toward),
            box.faces,
            min(xs),
            min(ys),
            max(xs),
            max(ys),
        )


@dataclass(frozen=True, slots=True)
class _Page:
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


def _posed(view: View) -> Assembly:
    boxes = [fold(net, view.fraction) for net in view.nets]
    if view.apart and len(boxes) > 1:
        base, *lids = boxes
        tall = max(each.bounds[1][2] for each in boxes) - base.bounds[0][2]
        top = base.bounds[1][2]
        for index, lid in enumerate(lids):
            rise = top - lid.bounds[0][2] + LIFTED * tall
            boxes[index + 1] = _moved(lid, (0.0, 0.0, rise))
            top = boxes[index + 1].bounds[1][2]
    found = faces(boxes)
    return Assembly(tuple(boxes), found, stacks(boxes, found))


def _moved(folded: FoldedNet, shift: Vector) -> FoldedNet:
    return replace(folded, poses={name: pose.shifted(shift) for name, pose in folded.poses.items()})


def _draw(group: etree._Element, drawn: _Drawn, page: _Page, looks: Looks, prefix: str) -> None:
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
    group: etree._Element, drawn: _Drawn, page: _Page, looks: Looks, blur: str
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


def _write(group: etree._Element, text: str, at: tuple[float, float], looks: Looks) -> None:
    x, y = at
    data = []
    for path in letter(text, CAPTION, anchor="middle"):
        points = path.points(0.05)
        words = [f"{number(x + px, DECIMALS)} {number(y - py, DECIMALS)}" for px, py in points]
        data.append(f"M{' L'.join(words)}")
    etree.SubElement(
        group,
        "path",
        {
            "d": " ".join(data),
            "fill": "none",
            "stroke": looks.ink,
            "stroke-width": number(0.12 * CAPTION, DECIMALS),
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
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
