"""Outlines a panel can have, drawn lying on the x axis and with named edges.

A shape's first edge is `bottom`, from (0, 0) to (width, 0): the one it is hinged by unless
another is named. The edges that follow run counter-clockwise: right, top, left.
"""

from __future__ import annotations

import math
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.transforms import Point
from cutlayers.net.features import Feature
from cutlayers.telling.errors import NetError


@frozen
class Shape:
    """A closed counter-clockwise outline, a name for each edge, and what is worked inside."""

    outline: Path
    edges: tuple[str, ...]
    features: tuple[Feature, ...] = ()


def rectangle(width: float, height: float) -> Shape:
    """Edges bottom, right, top, left."""
    return Shape(Path.rectangle(width, height), ("bottom", "right", "top", "left"))


def polygon(*corners: Point, edges: tuple[str, ...] = ()) -> Shape:
    """Straight edges; named bottom, then edge-1, edge-2 … unless `edges` gives the names."""
    names = edges or ("bottom", *(f"edge-{i}" for i in range(1, len(corners))))
    return Shape(Path.polygon(corners), names)


def glue_tab(width: float, depth: float, taper: float, end_taper: float | None = None) -> Shape:
    """A flap `depth` mm deep whose ends run in by `taper` mm each, so that they do not show.

    `end_taper` is for the end at (0, 0) where it differs: the left one. Edges bottom, right, top,
    left. Raises NetError when nothing is left of the top.
    """
    left = taper if end_taper is None else end_taper
    if width - taper - left <= 0:
        raise NetError(
            f"a glue tab {width:g} mm wide cannot taper {left:g} mm at one end and {taper:g} mm at "
            f"the other; of equal ones the most is {width / 2:g} mm"
        )
    return polygon(
        (0.0, 0.0),
        (width, 0.0),
        (width - taper, depth),
        (left, depth),
        edges=("bottom", "right", "top", "left"),
    )


def taper_run(depth: float, taper_deg: float) -> float:
    """How far a tab's end runs in over its depth, in mm, for an angle from square."""
    return depth * math.tan(math.radians(taper_deg))


def tuck_flap(width: float, depth: float, radius: float, slit: float = 0.0) -> Shape:
    """A flap with two rounded corners, to be pushed in behind a wall.

    With a `slit` the crease ends that far from both ends and the rest is cut, so that the
    shoulders of dust flaps catch in it. Edges bottom, right, right-corner, top, left-corner,
    left, and right-slit and left-slit beside the bottom; with radius 0 the corners drop out.
    """
    corners = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    names = ["bottom", "right", "right-corner", "top", "left-corner", "left"]
    outline = rounded(corners, (0.0, 0.0, radius, radius))
    if not radius:
        names = ["bottom", "right", "top", "left"]
    else:
        # As `rounded` has it: edges shorter than this drop out.
        if width - 2 * radius <= 1e-9:
            names.remove("top")
        if depth - radius <= 1e-9:
            names.remove("right")
            names.remove("left")
    if slit:
        if not 2 * slit < width:
            raise NetError(f"slits of {slit:g} mm leave no crease of a flap {width:g} mm wide")
        ends = ((0.0, 0.0), (slit, 0.0), (width - slit, 0.0))
        outline = Path((*ends, *outline.vertices[1:]), (0.0, 0.0, *outline.bulges), closed=True)
        outline, names = outline.started_at(1), ["bottom", "right-slit", *names[1:], "left-slit"]
    return Shape(outline, tuple(names))


def dust_flap(
    width: float, depth: float, shoulder: float, slope: float, shoulder_at: Literal["left", "right"]
) -> Shape:
    """A side flap of a tucked end.

    One end runs straight up `shoulder` mm, beside the tuck's fold, and then in by `slope` mm to
    the top; the other runs in by `slope` over the whole depth, clear of the closing panel.
    Edges bottom, right (and right-slope), top, left (and left-slope).
    """
    if shoulder >= depth or 2 * slope >= width:
        raise NetError(
            f"a dust flap {width:g} × {depth:g} mm has no room for a shoulder of {shoulder:g} mm "
            f"and slopes of {slope:g} mm"
        )
    low_left, low_right = (0.0, 0.0), (width, 0.0)
    top_left, top_right = (slope, depth), (width - slope, depth)
    if shoulder_at == "right":
        return polygon(
            low_left,
            low_right,
            (width, shoulder),
            top_right,
            top_left,
            edges=("bottom", "right", "right-slope", "top", "left"),
        )
    return polygon(
        low_left,
        low_right,
        top_right,
        top_left,
        (0.0, shoulder),
        edges=("bottom", "right", "top", "left-slope", "left"),
    )
