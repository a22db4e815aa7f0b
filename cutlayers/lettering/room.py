"""Room for a text on a panel, clear of its border and of what is worked in it, and places there.

The box round a text stands square to the axes; for one that leans the panel is turned back.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.net import Panel

if TYPE_CHECKING:
    import numpy as np
    from shapely.geometry.base import BaseGeometry

Align = Literal["left", "middle", "right"]

TRIED = 24
"""Steps in which places are tried along each side of a panel."""

FLATTENED = 0.05
"""mm that a panel's arcs may stray from their chords here; margins are far larger."""

HALVINGS = 24
"""Of the span of heights; leaves less than a nanometre."""


def turned(panel: Panel, turn: Transform) -> Panel:
    """A panel and what is worked in it, turned."""
    features = (replace(each, path=each.path.transformed(turn)) for each in panel.features)
    return replace(panel, outline=panel.outline.transformed(turn), features=tuple(features))


def room(panel: Panel, margin: float) -> BaseGeometry:
    """The panel less the margin, also round what is worked in it."""
    import shapely

    from cutlayers.geometry.overlays import without

    outline = shapely.Polygon(panel.outline.points(FLATTENED))
    free: BaseGeometry = outline.buffer(-margin, join_style="mitre")
    for feature in panel.features:
        points = feature.path.points(FLATTENED)
        shape = shapely.Polygon(points) if feature.path.closed else shapely.LineString(points)
        free = without(free, shape.buffer(margin))
    shapely.prepare(free)
    return free


def places(room: BaseGeometry, wide: float, high: float, tried: int = TRIED) -> np.ndarray:
    """Centres, rows of x and y, at which a box lies in the room, of those that are `tried` steps
    apart along each side; empty where it does at none."""
    import numpy as np
    import shapely

    if room.is_empty:
        return np.empty((0, 2))
    left, bottom, right, top = room.bounds
    spare_x, spare_y = right - left - wide, top - bottom - high
    if spare_x < -1e-9 or spare_y < -1e-9:
        return np.empty((0, 2))
    shares = np.linspace(0.0, 1.0, tried + 1)
    xs = left + wide / 2 + max(0.0, spare_x) * shares
    ys = bottom + high / 2 + max(0.0, spare_y) * shares
    centres = np.array([(x, y) for y in ys for x in xs])
    # A hair smaller, so that a box of just the room's size still lies within it.
    half_x, half_y = wide / 2 - 1e-9, high / 2 - 1e-9
    boxes = shapely.box(
        centres[:, 0] - half_x,
        centres[:, 1] - half_y,
        centres[:, 0] + half_x,
        centres[:, 1] + half_y,
    )
    return centres[shapely.covers(room, boxes)]


def largest(room: BaseGeometry, wide: float, high: float) -> float:
    """The largest height of capitals in mm at which a text fits somewhere, its box so wide and high
    at 1 mm; 0 where it never does."""
    if room.is_empty:
        return 0.0
    left, bottom, right, top = room.bounds
    # An "I" has no width, a dash no height.
    sides = ((right - left, wide), (top - bottom, high))
    low, most = 0.0, min(room_side / side for room_side, side in sides if side > 0)
    if len(places(room, wide * most, high * most)):
        return most
    for _ in range(HALVINGS):
        middle = (low + most) / 2
        if len(places(room, wide * middle, high * middle)):
            low = middle
        else:
            most = middle
    return low


def aligned(
    centres: np.ndarray, bounds: Bounds, align: Align, quarter_deg: float
) -> tuple[float, float]:
    """The place nearest the middle of a panel with those bounds, or, along a text that is turned
    by quarter turns, nearest its beginning or end."""
    import numpy as np

    left, bottom, right, top = bounds
    middle = np.array([(left + right) / 2, (bottom + top) / 2])
    apart = np.hypot(*(centres - middle).T)
    along = centres @ np.array(
        {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}[round(quarter_deg) % 360]
    )
    order = {"left": along, "right": -along, "middle": np.zeros(len(centres))}[align]
    best = np.lexsort((centres[:, 1], centres[:, 0], np.round(apart, 6), np.round(order, 6)))[0]
    return float(centres[best, 0]), float(centres[best, 1])
