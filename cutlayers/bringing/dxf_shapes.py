"""Entities of a DXF file as curves in the plane, seen from above.

Each lies in coordinates of its own, tilted or turned over by its extrusion, and in those of the
blocks around it; what is seen from above of arcs that are tilted are parts of ellipses.
Source: DXF Reference, ENTITIES section and "Object Coordinate Systems".
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from cutlayers.bringing.curves import Curve, Edge, arc, chain_of, circle, ellipse
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from ezdxf.math import Matrix44

LARGEST = 1e9
"""Of a coordinate, in units of the drawing."""

FINEST_SPLINE = 5
"""Halvings of each part of a spline that is no plain cubic, before it is taken for one."""

BROKEN = (AttributeError, TypeError, ValueError, LookupError, ArithmeticError)
"""What the library raises of entities that lack a part or have one that makes no sense; its own
errors are of these too."""

LINES = {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE", "HELIX"}
"""What is line work; everything else is set aside."""


def curves_of(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    """The lines of an entity, where `placed` puts it. Raises ValueRefused for what cannot be."""
    what = f"has {_called(entity)}"
    try:
        curves = list(_curves(entity, placed))
    except ValueRefused:
        raise
    except BROKEN as error:
        words = str(error).splitlines()
        raise ValueRefused(f"{what} that cannot be read: {''.join(words[:1])[:80]}") from None
    for curve in curves:
        if not all(abs(x) <= LARGEST and abs(y) <= LARGEST for x, y in curve.points):
            raise ValueRefused(
                f"{what} with a coordinate that is no number or far away",
                allowed=f"numbers up to {LARGEST:g}",
            )
    yield from curves


def _called(entity: Any) -> str:
    """Its type and handle, by which other programs find it."""
    handle = entity.dxf.get("handle")
    name = entity.dxftype()
    article = "an" if name[0] in "AE" else "a"
    return f"{article} {name}{f' (handle {handle})' if handle else ''}"


def _curves(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    dxf = entity.dxf
    match entity.dxftype():
        case "LINE":
            start, end = placed.transform_vertices((dxf.start, dxf.end))
            yield chain_of(((start.x, start.y), (end.x, end.y)))
        case "ARC":
            begin = math.radians(dxf.start_angle)
            sweep = math.radians((dxf.end_angle - dxf.start_angle) % 360.0) or 2.0 * math.pi
            centre = (dxf.center.x, dxf.center.y)
            if not dxf.radius <= 0:  # NaN is told, not left out
                yield arc(centre, dxf.radius, begin, begin + sweep).transformed(
                    _own(entity, placed, dxf.center.z)
                )
        case "CIRCLE":
            if not dxf.radius <= 0:  # NaN is told, not left out
                yield circle((dxf.center.x, dxf.center.y), dxf.radius).transformed(
                    _own(entity, placed, dxf.center.z)
                )
        case "ELLIPSE":
            yield from _ellipse(dxf, placed)
        case "LWPOLYLINE":
            with entity.points("xyb") as points:
                # The library gives numbers of its array library, which spread from here.
                corners = [((float(x), float(y)), float(bulge)) for x, y, bulge in points]
            yield from _polyline(corners, entity.closed, _own(entity, placed, dxf.elevation))
        case "POLYLINE":
            yield from _old_polyline(entity, placed)
        case "SPLINE" | "HELIX":
            yield from _spline(entity, placed)


def _own(entity: Any, placed: Matrix44, z: float) -> Transform:
    """From an entity's own coordinates, at the height z there, to the plane."""
    ocs = entity.ocs()
    if ocs.transform:
        placed = ocs.matrix * placed  # the first is applied first
    rows = [placed.get_row(i) for i in range(4)]
    return Transform(
        rows[0][0],
        rows[1][0],
        rows[3][0] + z * rows[2][0],
        rows[0][1],
        rows[1][1],
        rows[3][1] + z * rows[2][1],
    )


def _polyline(corners: list[tuple[Point, float]], closed: bool, onto: Transform) -> Iterator[Curve]:
    if len(corners) > 1:
        points, bulges = zip(*corners, strict=True)
        yield chain_of(points, bulges, closed).transformed(onto)


def _old_polyline(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    """A POLYLINE with its vertices; what only frames a curve is no part of it (flag 16)."""
    vertices = [vertex for vertex in entity.vertices if not vertex.dxf.flags & 16]
    if entity.is_2d_polyline:
        corners = [
            ((vertex.dxf.location.x, vertex.dxf.location.y), vertex.dxf.get("bulge", 0.0))
            for vertex in vertices
        ]
        z = vertices[0].dxf.location.z if vertices else 0.0
        yield from _polyline(corners, entity.is_closed, _own(entity, placed, z))
    elif entity.is_3d_polyline:
        points = list(placed.transform_vertices(vertex.dxf.location for vertex in vertices))
        yield from _polyline([((p.x, p.y), 0.0) for p in points], entity.is_closed, Transform())


def _ellipse(dxf: Any, placed: Matrix44) -> Iterator[Curve]:
    from ezdxf.math import Vec3

    centre = placed.transform(dxf.center)
    major = Vec3(dxf.major_axis)
    minor = Vec3(dxf.extrusion).normalize().cross(major) * dxf.ratio
    u, v = placed.transform_direction(major), placed.transform_direction(minor)
    begin = dxf.start_param
    sweep = (dxf.end_param - begin) % (2.0 * math.pi) or 2.0 * math.pi
    whole = abs(sweep - 2.0 * math.pi) < 1e-9
    start = placed.transform(dxf.center + major * math.cos(begin) + minor * math.sin(begin))
    axes = (u.x, u.y), (v.x, v.y)
    if abs(dxf.ratio) == 1.0 and abs(math.hypot(*axes[0]) - math.hypot(*axes[1])) < 1e-9 * abs(u):
        # A circle by another name stays one.
        onto = Transform(u.x, v.x, centre.x, u.y, v.y, centre.y)
        if onto.is_similarity:
            yield arc((0.0, 0.0), 1.0, begin, begin + sweep).transformed(onto)
            return
    edges = tuple(ellipse((centre.x, centre.y), *axes, begin, begin + sweep))
    yield Curve((start.x, start.y), edges, closed=whole)


def _spline(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    """As cubics: exactly where it is one of the third degree without weights."""
    from ezdxf.math import Bezier4P

    tool = entity.construction_tool()
    if tool.degree == 3 and not tool.is_rational and tool.is_clamped:
        parts = [Bezier4P(points) for points in tool.bezier_decomposition()]
    else:
        parts = list(tool.cubic_bezier_approximation(level=FINEST_SPLINE))
    edges: list[Edge] = []
    start: Point | None = None
    for part in parts:
        a, b, c, d = ((p.x, p.y) for p in placed.transform_vertices(part.control_points))
        start = start or a
        edges.append((b, c, d))
    if start is not None:
        yield Curve(start, tuple(edges), closed=bool(entity.closed))
