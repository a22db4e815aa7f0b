"""Small drawings as people send them, each with its measures worked by hand."""

from __future__ import annotations

STOCK = """
[stock.card]
caliper = 0.3
sheet = "A4"
"""

CUT, SCORE = 'stroke="#FF0000"', 'stroke="#0000FF" stroke-dasharray="3 2"'

TRAY_CUT = "M20 0 H80 V20 H100 V60 H80 V80 H20 V60 H0 V20 H20 Z"
TRAY_SCORES = ("M20 20 H80", "M20 60 H80", "M20 20 V60", "M80 20 V60")
"""A tray without tabs: base 60 × 40, walls 20 high, all of its corners cut out; on a page with 1
unit to the mm."""


def svg(*paths: str, size: str = 'width="100mm" height="80mm" viewBox="0 0 100 80"') -> str:
    """A file of these elements."""
    body = "\n  ".join(paths)
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n  {body}\n</svg>\n'


def path(d: str, look: str, more: str = "") -> str:
    """A line of this shape and look."""
    return f'<path d="{d}" fill="none" {look} {more}/>'


def tray_svg(**page: str) -> str:
    """The tray, cut lines red, creases dashed blue."""
    return svg(path(TRAY_CUT, CUT), *(path(d, SCORE) for d in TRAY_SCORES), **page)


NO_UNIT = 'viewBox="0 0 100 80"'
