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


LEAST_GAP = 0.5
"""mm; the narrowest gap beside a flap on the flat that a knife turns in and a hand folds by."""


def open_gap(clear: float) -> float:
    """A gap of `clear` mm, or as wide as a knife and a hand need it; 0 stays none."""
    return max(clear, LEAST_GAP) if clear else 0.0


def glue_tab(
    width: float,
    depth: float,
    taper: float,
    end_taper: float | None = None,
    *,
    clear: float = 0.0,
) -> Shape:
    """A flap `depth` mm deep whose ends run in by `taper` mm each, so that they do not show.

    `end_taper` is for the end at (0, 0) where it differs: the left one. Both ends keep `clear` mm
    off the corners of the edge, `width` mm long, that the tab hangs on: the thickness of what is
    folded up there, and no narrower than `open_gap` has it. Edges bottom, right, top, left. Raises
    NetError when nothing is left of the top.
    """
    left = taper if end_taper is None else end_taper
    clear = open_gap(clear)
    if width - 2 * clear - taper - left <= 0:
        raise NetError(
            f"a glue tab {width - 2 * clear:g} mm wide cannot taper {left:g} mm at one end and "
            f"{taper:g} mm at the other; of equal ones the most is {width / 2 - clear:g} mm"
        )
    return polygon(
        (clear, 0.0),
        (width - clear, 0.0),
        (width - clear - taper, depth),
        (clear + left, depth),
        edges=("bottom", "right", "top", "left"),
    )


def taper_run(depth: float, taper_deg: float) -> float:
    """How far a tab's end runs in over its depth, in mm, for an angle from square."""
    return depth * math.tan(math.radians(taper_deg))


def tuck_flap(
    width: float, depth: float, radius: float, slit: float = 0.0, gap: float = 0.0
) -> Shape:
    """A flap with two rounded corners, to be pushed in behind a wall.

    With a `slit` the crease ends that far from both ends and the rest is cut, so that the
    shoulders of dust flaps catch in it; there the flap begins `gap` mm below its crease. Edges
    bottom, right, right-corner, top, left-corner, left, and right-slit and left-slit beside the
    bottom, with right-bite and left-bite before them where there is a gap; with radius 0 the
    corners drop out.
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
        low, high, *others = outline.vertices
        crease = [(slit, 0.0), (width - slit, 0.0)]
        right, left = ["right-slit"], ["left-slit"]
        if gap and depth - radius <= gap:
            raise NetError(f"slits {gap:g} mm wide leave no sides of a flap {depth:g} mm deep")
        if gap:
            low, high = (low[0], gap), (high[0], gap)
            crease = [(slit, gap), *crease, (width - slit, gap)]
            right, left = ["right-bite", *right], [*left, "left-bite"]
        vertices = (low, *crease, high, *others)
        outline = Path(
            vertices, (*([0.0] * (len(crease) + 1)), *outline.bulges[1:]), closed=True
        ).started_at(2 if gap else 1)
        names = ["bottom", *right, *names[1:], *left]
    return Shape(outline, tuple(names))


def dust_flap(
    width: float,
    depth: float,
    shoulder: float,
    slope: float,
    shoulder_at: Literal["left", "right"],
    tongue: tuple[float, float] = (0.0, 0.0),
) -> Shape:
    """A side flap of a tucked end.

    One end runs straight up `shoulder` mm, beside the tuck's fold, and then in by `slope` mm to
    the top; the other runs in by `slope` over the whole depth, clear of the closing panel. A
    `tongue`, so deep and so far beyond the shoulder, catches in a slit of the tuck.
    Edges bottom, right (and right-slope), top, left (and left-slope), and catch and tongue beside
    the shoulder where there is one.
    """
    deep, beyond = tongue
    if deep and not (beyond and deep < shoulder):
        raise NetError(f"a tongue {deep:g} mm deep has no shoulder of {shoulder:g} mm to stand on")
    if shoulder >= depth or 2 * slope >= width:
        raise NetError(
            f"a dust flap {width:g} × {depth:g} mm has no room for a shoulder of {shoulder:g} mm "
            f"and slopes of {slope:g} mm"
        )
    low_left, low_right = (0.0, 0.0), (width, 0.0)
    top_left, top_right = (slope, depth), (width - slope, depth)
    names = ("tongue", "catch") if deep else ()
    if shoulder_at == "right":
        caught = ((width + beyond, 0.0), (width + beyond, deep), (width, deep))
        return polygon(
            low_left,
            *(caught if deep else (low_right,)),
            (width, shoulder),
            top_right,
            top_left,
            edges=("bottom", *names, "right", "right-slope", "top", "left"),
        )
    caught = ((0.0, deep), (-beyond, deep), (-beyond, 0.0))
    return polygon(
        *(caught[-1:] if deep else (low_left,)),
        low_right,
        top_right,
        top_left,
        (0.0, shoulder),
        *caught[:2] if deep else (),
        edges=("bottom", "right", "top", "left-slope", "left", *names[::-1]),
    )
