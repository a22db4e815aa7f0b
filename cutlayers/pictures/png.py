"""Scenes as PNG."""

from __future__ import annotations

import math
import struct
import zlib

from cutlayers.artwork.painting import paint_svg
from cutlayers.pictures.scene import Scene
from cutlayers.pictures.svg import write_svg
from cutlayers.telling.lengths import MM_PER

_HEADER_END = 8 + 25
"""The signature and the IHDR chunk, both of fixed size (PNG, ISO/IEC 15948)."""


MOST_PIXELS = 60_000_000
"""Of a picture, 240 MB while it is painted; a sheet has 2 million."""


def write_png(scene: Scene, width_px: int) -> bytes:
    """Paint a scene `width_px` pixels wide, or as wide as one so high may be: a drawing may have a
    line that is a thousand times as far off as the others.

    The true density is stored (chunk pHYs), so a print has the scene's size in mm. No fonts are
    looked at: all text is drawn as strokes.
    """
    width_px = max(1, min(width_px, math.isqrt(int(MOST_PIXELS * scene.width / scene.height))))
    # A picture is rounded to whole pixels at its density before it is scaled to the width: at
    # this density nothing is left to scale, so nothing is stretched.
    density = width_px / scene.width * MM_PER["in"]
    image = paint_svg(write_svg(scene).decode(), width_px, density)
    return _with_density(image, scene, width_px)


def _with_density(image: bytes, scene: Scene, width_px: int) -> bytes:
    pixels_per_metre = round(width_px / scene.width * 1000.0)
    return image[:_HEADER_END] + _density_chunk(pixels_per_metre) + image[_HEADER_END:]


def _density_chunk(pixels_per_metre: int) -> bytes:
    """Source: PNG (ISO/IEC 15948), the chunk pHYs; its unit 1 is the metre."""
    body = b"pHYs" + struct.pack(">IIB", pixels_per_metre, pixels_per_metre, 1)
    return struct.pack(">I", 9) + body + struct.pack(">I", zlib.crc32(body))
