"""Register marks as a scanner sees them: small grey pictures, 1 where there is ink."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from cutlayers.geometry.overlays import together
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform

PIXEL_CHORD = 0.01
"""mm; far less than a pixel."""


def mark_picture(
    paths: Sequence[Path], filled: bool, line_width: float, onto: Transform, half: int
) -> np.ndarray:
    """A mark drawn about the middle of a square of 2·`half` + 1 pixels, rows from the top.

    `paths` are in mm about the mark's centre; the linear part of `onto` carries mm to pixels,
    y up. Each pixel tells how much of it is ink, by its middle's distance from the ink's edge.
    """
    scale = float(np.sqrt(abs(onto.determinant)))
    side = np.arange(-half, half + 1, dtype=float)
    x, y = np.meshgrid(side, -side)
    pixels = shapely.points(x.ravel(), y.ravel())
    lines = []
    for path in paths:
        points = np.array(path.as_line(PIXEL_CHORD))
        lines.append(points @ np.array([[onto.xx, onto.yx], [onto.xy, onto.yy]]))
    gaps = shapely.distance(shapely.multilinestrings(list(map(shapely.linestrings, lines))), pixels)
    if filled:
        inside = shapely.contains(together(map(shapely.polygons, lines)), pixels)
        depth = np.where(inside, gaps, -gaps)
    else:
        depth = line_width * scale / 2 - gaps
    picture: np.ndarray = np.clip(depth + 0.5, 0.0, 1.0).reshape(x.shape)
    return picture
