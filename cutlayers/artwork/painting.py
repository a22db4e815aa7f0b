"""SVG as pixels. A process that paints and does nothing else loads this module alone."""

from __future__ import annotations

USUAL_DENSITY = 96.0
"""Pixels per inch of a picture whose pixels are those of the web."""


def paint_svg(text: str, width: int, density: float = USUAL_DENSITY) -> bytes:
    """A PNG, `width` pixels wide; lengths in units become pixels by the density per inch.

    No fonts and no files are looked at: the text has none of either. Raises ValueError for what
    cannot be painted.
    """
    import resvg_py

    return bytes(
        resvg_py.svg_to_bytes(svg_string=text, width=width, dpi=density, skip_system_fonts=True)
    )
