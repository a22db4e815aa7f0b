"""Where a picture lies within a panel, seen upright.

Everything here is in the panel's *frame*: x to the right and y up as seen on the finished box,
turned by the art's own rotation. `onto_flat` carries the frame onto the flat net.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import shapely

from cutlayers.artwork.model import At
from cutlayers.geometry.overlays import Area
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Point, Transform

GRID = 17
"""Places tried each way when a picture looks for room on a panel that is no rectangle."""

REFINEMENTS = 4
"""Times the grid is drawn closer round the best place: to a thousandth of the panel."""

HALVINGS = 24
SLIDE_STEPS = 200

KEPT = 512
"""Rectangles last asked for: the strips of one box are alike, and so are the boxes of one job."""

ROUNDING = 1e-6
"""mm that a picture may stick out by rounding."""

_AWAY: dict[At, Point] = {
    "top": (0.0, 1.0),
    "bottom": (0.0, -1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}


def onto_flat(upright: Point, rotation_deg: float) -> Transform:
    """The turn from a panel's frame onto the flat net, where `upright` points up on the box."""
    angle = math.degrees(math.atan2(upright[1], upright[0])) - 90.0
    whole = round(angle)
    angle = float(whole) if abs(angle - whole) < 1e-9 else angle
    return Transform.rotation(angle) @ Transform.rotation(rotation_deg)


@lru_cache(KEPT)
def contained(safe: Area, aspect: float, at: At, largest: float = math.inf) -> Bounds | None:
    """The largest upright rectangle of an aspect (width over height) inside an area.

    In the middle of the area's extent where that costs no size, and then moved towards `at` as
    far as it goes; at most `largest` mm high. None where the area has no room at all.
    """
    if safe.is_empty:
        return None
    left, bottom, right, top = safe.bounds
    middle = np.array([[(left + right) / 2, (bottom + top) / 2]])
    most = min((right - left) / aspect, top - bottom, largest)
    grown = safe.buffer(ROUNDING)
    shapely.prepare(grown)
    if bool(_fits(grown, middle, aspect, np.array([most]))[0]):
        centre, height = middle[0], most
    else:
        centre, height = _search(grown, aspect, most)
    if height <= 0.0:
        return None
    centre = _slid(grown, centre, aspect, height, at)
    half_width, half_height = height * aspect / 2, height / 2
    return (
        float(centre[0]) - half_width,
        float(centre[1]) - half_height,
        float(centre[0]) + half_width,
        float(centre[1]) + half_height,
    )


def covering(bounds: Bounds, aspect: float) -> Bounds:
    """The smallest rectangle of an aspect that covers bounds, about the same middle."""
    left, bottom, right, top = bounds
    height = max((right - left) / aspect, top - bottom)
    x, y = (left + right) / 2, (bottom + top) / 2
    return x - height * aspect / 2, y - height / 2, x + height * aspect / 2, y + height / 2


def tiles(bounds: Bounds, middle: Point, width: float, height: float) -> list[Bounds]:
    """Tiles that cover bounds, one of them about `middle`, row by row."""
    left, bottom, right, top = bounds
    x0, y0 = middle[0] - width / 2, middle[1] - height / 2
    columns = range(math.floor((left - x0) / width), math.ceil((right - x0) / width))
    rows = range(math.floor((bottom - y0) / height), math.ceil((top - y0) / height))
    return [
        (x0 + i * width, y0 + j * height, x0 + (i + 1) * width, y0 + (j + 1) * height)
        for j in rows
        for i in columns
    ]


def onto(bounds: Bounds) -> Transform:
    """The motion that carries the unit square onto a rectangle."""
    left, bottom, right, top = bounds
    return Transform(xx=right - left, dx=left, yy=top - bottom, dy=bottom)


def _fits(
    area: Area, centres: np.ndarray, aspect: float, heights: np.ndarray
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    boxes = shapely.box(
        centres[:, 0] - heights * aspect / 2,
        centres[:, 1] - heights / 2,
        centres[:, 0] + heights * aspect / 2,
        centres[:, 1] + heights / 2,
    )
    return np.asarray(shapely.contains(area, boxes), dtype=np.bool_)


def _search(area: Area, aspect: float, most: float) -> tuple[np.ndarray, float]:
    """The best centre and height, on a grid drawn closer and closer round the best so far."""
    left, bottom, right, top = area.bounds
    centre = np.array([(left + right) / 2, (bottom + top) / 2])
    spans = np.array([right - left, top - bottom])
    best = 0.0
    for _ in range(1 + REFINEMENTS):
        steps = np.linspace(-0.5, 0.5, GRID)
        x, y = np.meshgrid(centre[0] + steps * spans[0], centre[1] + steps * spans[1])
        centres = np.column_stack([x.ravel(), y.ravel()])
        tallest, height = _tallest(area, centres, aspect, best, most)
        if height > best:
            # Of places alike, the one nearest to the middle: the picture should not lean to a side.
            near = np.abs(steps)
            lean = np.add.outer(near, near).ravel()[tallest]
            best, centre = height, centres[tallest[int(np.argmin(lean))]]
        spans = spans * 2.0 / (GRID - 1)
    return centre, best


def _tallest(
    area: Area, centres: np.ndarray, aspect: float, least: float, most: float
) -> tuple[np.ndarray, float]:
    """The numbers of the centres at which a rectangle can be tallest, and how tall.

    Only those at which one of `least` mm fits are looked at, and from then on only those that are
    still the best: 0 mm where there are none.
    """
    left = np.flatnonzero(_fits(area, centres, aspect, np.full(len(centres), least)))
    low, high = 0.0, most
    for _ in range(HALVINGS if len(left) else 0):
        half = (low + high) / 2
        if half <= least:  # which fits at all of them, and so does less
            low = half
            continue
        fits = _fits(area, centres[left], aspect, np.full(len(left), half))
        if fits.any():
            left, low = left[fits], half
        else:
            high = half
    return left, low


def _slid(area: Area, centre: np.ndarray, aspect: float, height: float, at: At) -> np.ndarray:
    if at == "middle":
        return centre
    left, bottom, right, top = area.bounds
    reach = max(right - left, top - bottom)
    ways = np.linspace(0.0, reach, SLIDE_STEPS + 1)
    centres = centre + np.outer(ways, _AWAY[at])
    fits = _fits(area, centres, aspect, np.full(len(ways), height))
    last = int(np.argmin(fits)) - 1 if not fits.all() else SLIDE_STEPS
    found: np.ndarray = centres[max(0, last)]
    return found
