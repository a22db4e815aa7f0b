"""Marks made of signs of the plain face, for letters of any face."""

from __future__ import annotations

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.glyphs import TYPEFACE, Glyph, Typeface, plain


@frozen
class Mark:
    """A mark: stroke number `stroke` of `sign`, turned and then mirrored.

    `size` is its larger side in the face's units, `beside` the middles of its copies.
    """

    sign: str
    size: float
    stroke: int = 0
    turn_deg: float = 0.0
    mirror: bool = False
    above: bool = True
    beside: tuple[float, ...] = (0.0,)

    @property
    def path(self) -> Path:
        """Its stroke, somewhere."""
        found = plain(self.sign, TYPEFACE).paths[self.stroke]
        found = found.transformed(Transform.rotation(self.turn_deg))
        if self.mirror:
            found = found.transformed(Transform.mirror(0.0))
        left, bottom, right, top = found.bounds
        scale = self.size / max(right - left, top - bottom)
        return found.transformed(Transform(xx=scale, yy=scale))


def dotless(base: str, face: Typeface) -> Glyph:
    """i or j without its dot."""
    found, height = plain(base, face), x_height(face)
    kept = tuple(path for path in found.paths if path.bounds[1] < height)
    return Glyph(found.advance, kept)


def x_height(face: Typeface) -> float:
    """How high small letters are, in the face's units."""
    return plain("x", face).bounds[3]
