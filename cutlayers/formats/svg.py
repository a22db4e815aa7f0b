"""SVG files for machines: plain groups of paths at true size.

y points down in SVG. The flip happens here, once, and mirrors the arcs with it; everything
before this module has y pointing up.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing, straightened
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.profile.output import SvgSettings
from cutlayers.telling.lengths import MM_PER

if TYPE_CHECKING:
    from lxml import etree

SVG_NAMESPACE = "http://www.w3.org/2000/svg"

DECIMALS = 4
"""0.1 µm in mm files: a hundred times finer than any cutter, and short enough to read."""

LINE_WIDTH = 0.1
"""mm; a hairline, for the eye alone."""

WIDEST_ARC = 2.0 * math.pi / 3.0
"""Arcs are written in pieces of at most 120°. An SVG arc is pinned by its ends and radius, so a
rounded radius moves its middle by 1/cos(θ/2) − 1 times the rounding: once at 120°, but without
limit towards a half circle, where 0.0001 mm of rounding becomes 0.04 mm of shape."""


def write_svg(drawing: Drawing, settings: SvgSettings) -> bytes:
    """Write an SVG file with one group per layer, in working order.

    Units are mm, or pixels of 1/`pixels_per_inch` inch for programs that ignore units. Path data
    are absolute (M, L, A, Z), in sheet coordinates, without transforms, styles or clips.
    Empty layers are kept, so that every sheet of a job offers the same layers.
    Source: SVG 1.1, sections 5.2, 7.7 and 8.3.
    """
    from lxml.builder import ElementMaker

    if settings.curves == "lines":
        drawing = straightened(drawing, settings.tolerance)
    in_mm = settings.units == "mm"
    scale = 1.0 if in_mm else settings.pixels_per_inch / MM_PER["in"]
    width, height = number(drawing.width * scale), number(drawing.height * scale)
    suffix = "mm" if in_mm else ""
    make = ElementMaker(nsmap={None: SVG_NAMESPACE}, namespace=SVG_NAMESPACE)
    flip = onto_page(drawing.height, scale)
    groups = (
        make.g(
            {
                "id": layer.name,
                "fill": "none",
                "stroke": layer.colour,
                "stroke-width": number(LINE_WIDTH * scale),
            },
            make.title(layer.title),
            *(make.path(d=path_data(path, flip)) for path in layer.paths),
        )
        for layer in drawing.layers
    )
    size = {
        "version": "1.1",
        "width": f"{width}{suffix}",
        "height": f"{height}{suffix}",
        "viewBox": f"0 0 {width} {height}",
    }
    return as_bytes(make.svg(size, make.title(drawing.title), *groups))


def onto_page(height: float, scale: float = 1.0) -> Transform:
    """The motion from a page with y up, `height` mm high, to SVG's y down, `scale` units per mm."""
    return Transform(xx=scale, yy=-scale, dy=scale * height)


def path_data(path: Path, flip: Transform, decimals: int = DECIMALS) -> str:
    """The `d` attribute of a path, after `flip` has carried it into SVG's coordinates."""

    def place(point: Point) -> str:
        return f"{number(point[0], decimals)} {number(point[1], decimals)}"

    if not any(path.bulges):
        corners = " L".join(place(flip.apply(point)) for point in path.vertices)
        return f"M{corners} Z" if path.closed else f"M{corners}"
    path = path.transformed(flip)
    words = [f"M{place(path.start)}"]
    for i, segment in enumerate(path.segments):
        if segment.bulge:
            radius = number(segment.radius, decimals)
            # Angles that grow in these coordinates are SVG's sweep flag 1.
            sweep_flag = 1 if segment.bulge > 0 else 0
            count = math.ceil(abs(segment.sweep) / WIDEST_ARC - 1e-9)
            words.extend(
                f"A{radius} {radius} 0 0 {sweep_flag} {place(segment.point_at(step / count))}"
                for step in range(1, count + 1)
            )
        elif not (path.closed and i == len(path.bulges) - 1):
            words.append(f"L{place(segment.end)}")
    if path.closed:
        words.append("Z")
    return " ".join(words)


def number(value: float, decimals: int = DECIMALS) -> str:
    """Write a number with at most `decimals` decimals, a point, and no -0.

    >>> number(12.5), number(-0.00001), number(40)
    ('12.5', '0', '40')
    """
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def matrix(place: Transform, decimals: int = 5) -> str:
    """A motion as a value of the attribute `transform`."""
    parts = (place.xx, place.yx, place.xy, place.yy, place.dx, place.dy)
    return f"matrix({' '.join(number(part, decimals) for part in parts)})"


def as_bytes(root: etree._Element) -> bytes:
    """Serialise a finished document."""
    from lxml import etree

    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True))
