"""Letters of an outline font as areas: their outlines drawn, or the letters cut out of the card.

A cut letter is an opening. Its *counters*, the card inside an O or an A, would fall out, so each is
held by two *bridges*, one up and one down through its middle, as in a stencil.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from cutlayers.geometry.overlays import area, common, together, without
from cutlayers.geometry.paths import Path
from cutlayers.lettering.outlines import Font, Ring
from cutlayers.telling.errors import LetteringError
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

SPECK = 1e-4
"""mm²; leftovers of a cut counter smaller than this are rounding, not shapes."""

TOUCHING = 2e-6
"""mm; what is nearer than this touches: two steps of the grid on which areas are laid."""


def drawn_letters(text: str, cap_height: float, font: Font) -> tuple[Path, ...]:
    """The outlines of a line of text, closed, for a pen; overlapping and joined letters become one.

    Raises LetteringError for characters the font lacks.
    """
    whole = together(_filled(rings) for rings in font.rings(text, cap_height))
    return tuple(
        _path(ring)
        for polygon in _polygons(whole)
        for ring in (polygon.exterior, *polygon.interiors)
    )


def cut_letters(text: str, cap_height: float, font: Font, bridge: float) -> tuple[Path, ...]:
    """The openings of a line of text cut out of card, counters held by bridges `bridge` mm wide.

    Raises LetteringError for characters the font lacks, and where letters are so small or overlap
    so that a counter would still fall out.
    """
    import shapely

    shapes = [
        polygon for rings in font.rings(text, cap_height) for polygon in _polygons(_filled(rings))
    ]
    whole = together(shapes)
    openings = [
        part for polygon in _polygons(whole) for part in _polygons(_bridged(polygon, bridge))
    ]
    if whole.is_empty:
        return ()
    card = without(shapely.box(*whole.bounds).buffer(1.0), together(openings))
    if card.geom_type != "Polygon":
        raise LetteringError(
            Refusal(
                reason=f"cannot be cut {cap_height:.1f} mm high so that every counter is held",
                advice="make it larger or the bridges narrower",
            )
        )
    return tuple(_path(opening.exterior) for opening in openings)


def _bridged(polygon: Polygon, bridge: float) -> BaseGeometry:
    """The letter less a strip above and below each counter; between two counters one will do."""
    import shapely

    result: BaseGeometry = polygon
    counters = [shapely.Polygon(ring) for ring in polygon.interiors]
    joined: set[tuple[int, ...]] = set()
    _, bottom, _, top = polygon.bounds
    for number, counter in enumerate(counters):
        x = (counter.bounds[0] + counter.bounds[2]) / 2.0
        column = shapely.box(x - bridge / 2, bottom - 1, x + bridge / 2, top + 1)
        for wall in _polygons(common(polygon, column)):
            beside = tuple(i for i, each in enumerate(counters) if wall.distance(each) < TOUCHING)
            # Walls beyond another counter are left to that one's own bridges.
            if number in beside and beside not in joined:
                if len(beside) > 1:
                    joined.add(beside)
                result = without(result, wall)
    return result


def _filled(rings: Sequence[Ring]) -> BaseGeometry:
    """The area of a letter: outlines that run one way are filled, those the other way are holes.

    The font's non-zero winding rule, for outlines that do not wind twice. The largest outline tells
    which way is filled: TrueType and OpenType outlines run contrary ways.
    """
    import shapely

    shapes = [(area(ring), _area(ring)) for ring in rings if len(ring) > 2]
    if not shapes:
        return shapely.Polygon()
    way = math.copysign(1.0, max((signed for _, signed in shapes), key=abs))
    solid = together(shape for shape, signed in shapes if signed * way > 0)
    return without(solid, together(shape for shape, signed in shapes if signed * way < 0))


def _polygons(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons of a geometry from left to right."""
    parts = [part for part in getattr(geometry, "geoms", [geometry]) if part.geom_type == "Polygon"]
    return sorted((part for part in parts if part.area > SPECK), key=lambda part: part.bounds)


def _path(ring: Any) -> Path:
    return Path.polygon(tuple((float(x), float(y)) for x, y in ring.coords[:-1]))


def _area(ring: Ring) -> float:
    return math.fsum(
        (x0 * y1 - x1 * y0) / 2.0
        for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)
    )
