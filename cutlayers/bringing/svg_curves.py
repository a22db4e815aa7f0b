"""Path data as curves. Source: SVG 1.1, section 8.3 and appendix F.6 (elliptical arcs).

Those of straight lines alone, which most drawings of boxes have, are read here, at ten times the
speed of the library that reads all others.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

from cutlayers.artwork.svg_outlines import point_of, raised, subpaths
from cutlayers.artwork.svg_style import NUMBER
from cutlayers.bringing.curves import Curve, Edge, chain_of, ellipse
from cutlayers.geometry.transforms import Point

_TOKEN = re.compile(rf"(?P<letter>[MmLlHhVvZz])|(?P<number>{NUMBER})|[\s,]+|(?P<other>.)")

NEEDED = {"M": 2, "L": 2, "H": 1, "V": 1}
"""How many numbers a letter takes at a time."""


def curves_in(data: str) -> tuple[Curve, ...]:
    """The subpaths of path data. Raises ValueRefused for data that make no sense."""
    curves = straight_curves(data)
    return tuple(_curve(*each) for each in subpaths(data)) if curves is None else curves


def straight_curves(data: str) -> tuple[Curve, ...] | None:
    """The subpaths of path data with M, L, H, V and Z alone; None for any other, and for data that
    make no sense."""
    runs: list[tuple[str, list[float]]] = []
    for token in _TOKEN.finditer(data):
        kind = token.lastgroup
        if kind == "letter":
            runs.append((token[0], []))
        elif kind == "number":
            if not runs:
                return None
            runs[-1][1].append(float(token[0]))
        elif kind == "other":
            return None
    for letter, values in runs:
        needed = NEEDED.get(letter.upper())
        if values if needed is None else not values or len(values) % needed:
            return None
    if runs and runs[0][0] not in "Mm":
        return None
    return tuple(_chained(runs))


def _chained(runs: list[tuple[str, list[float]]]) -> Iterator[Curve]:
    x = y = 0.0
    points: list[Point] = [(0.0, 0.0)]
    for letter, values in runs:
        relative = letter.islower()
        match letter.upper():
            case "Z":
                if len(points) > 1:
                    yield chain_of(points, closed=True)
                (x, y) = points[0]
                points = [(x, y)]
            case "H":
                for value in values:
                    x = x + value if relative else value
                    points.append((x, y))
            case "V":
                for value in values:
                    y = y + value if relative else value
                    points.append((x, y))
            case kind:
                pairs = zip(values[::2], values[1::2], strict=True)
                for index, (dx, dy) in enumerate(pairs):
                    x, y = (x + dx, y + dy) if relative else (dx, dy)
                    if kind == "M" and index == 0:
                        if len(points) > 1:
                            yield chain_of(points)
                        points = [(x, y)]
                    else:
                        points.append((x, y))
    if len(points) > 1:
        yield chain_of(points)


def _curve(start: Point, segments: list[Any], closed: bool) -> Curve:
    """A subpath as the library has it, its arcs kept."""
    import svgelements

    edges: list[Edge] = []
    for segment in segments:
        match segment:
            case svgelements.Line():
                edges.append((point_of(segment.end), 0.0))
            case svgelements.CubicBezier():
                edges.append(
                    (point_of(segment.control1), point_of(segment.control2), point_of(segment.end))
                )
            case svgelements.QuadraticBezier():
                edges.append(raised(segment))
            case svgelements.Arc():
                edges.extend(_arc(segment))
    return Curve(start, tuple(edges), closed)


def _arc(segment: Any) -> list[Edge]:
    """An elliptical arc as circular arcs where it is one, else as cubics."""
    end, sweep = point_of(segment.end), float(segment.sweep)
    centre, begin = point_of(segment.center), point_of(segment.start)
    rx, ry = float(segment.rx), float(segment.ry)
    if not rx or not ry or end == begin:
        return [(end, 0.0)]
    if abs(rx - ry) <= 1e-9 * max(rx, ry):
        count = max(1, math.ceil(abs(sweep) / math.pi - 1e-9))
        bulge = math.tan(sweep / count / 4.0)
        if count == 1:
            return [(end, bulge)]
        radius, first = (begin[0] - centre[0], begin[1] - centre[1]), sweep / count
        c, s = math.cos(first), math.sin(first)
        middle = (
            centre[0] + c * radius[0] - s * radius[1],
            centre[1] + s * radius[0] + c * radius[1],
        )
        return [(middle, bulge), (end, bulge)]
    u = point_of(segment.prx)
    v = point_of(segment.pry)
    first = float(segment.get_start_t())
    cubics = list(
        ellipse(
            centre,
            (u[0] - centre[0], u[1] - centre[1]),
            (v[0] - centre[0], v[1] - centre[1]),
            first,
            first + sweep,
        )
    )
    control1, control2, _ = cubics[-1]
    return [*cubics[:-1], (control1, control2, end)]
