"""PNG pictures from SVG pictures."""

from __future__ import annotations

import re
import struct
import zlib

from cutlayers.telling.errors import OutputError
from cutlayers.telling.lengths import MM_PER

_WIDTH_MM = re.compile(rb'<svg[^>]*?\bwidth="([0-9.]+)mm"')
_HEADER_END = 8 + 25
"""The signature and the IHDR chunk, both of fixed size (PNG, sections 5.2 and 11.2.1)."""


def write_png(svg: bytes, width_px: int) -> bytes:
    """Paint an SVG picture whose width is given in mm, `width_px` pixels wide.

    The true density is stored (chunk pHYs), so a print has the picture's size in mm.
    No system fonts are looked at. Raises OutputError when the picture has no width in mm.
    """
    import resvg_py

    match = _WIDTH_MM.search(svg)
    if match is None:
        raise OutputError("a picture needs its width in mm before it can be painted")
    width_mm = float(match[1])
    # A picture is rounded to whole pixels at its density before it is scaled to the width: at
    # this density nothing is left to scale, so nothing is stretched.
    density = width_px / width_mm * MM_PER["in"]
    image = resvg_py.svg_to_bytes(
        svg_string=svg.decode("utf-8"), width=width_px, dpi=density, skip_system_fonts=True
    )
    pixels_per_metre = round(width_px / width_mm * 1000.0)
    return image[:_HEADER_END] + _density_chunk(pixels_per_metre) + image[_HEADER_END:]


def _density_chunk(pixels_per_metre: int) -> bytes:
    """Source: PNG specification, section 11.3.4.3 (pHYs; unit 1 is the metre)."""
    body = b"pHYs" + struct.pack(">IIB", pixels_per_metre, pixels_per_metre, 1)
    return struct.pack(">I", 9) + body + struct.pack(">I", zlib.crc32(body))
