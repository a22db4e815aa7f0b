"""Colours, print and light of a picture of a folded box."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field, replace

from cutlayers.frozen import frozen
from cutlayers.net.space import Vector, dot
from cutlayers.pictures.decoration import Decorations
from cutlayers.telling import colours

Colour = tuple[float, float, float]
"""Red, green and blue, 0…1, as screens have them (sRGB)."""


@frozen
class Looks:
    """Card, what covers it, lines and light.

    Colours are #RRGGBB; the light is a unit vector as the viewer sees it: to the right, upwards,
    and out of the picture.
    """

    outside: str
    inside: str
    edge: str
    guide: str
    shadow: str
    ink: str
    lit_outside: str
    lit_inside: str
    """Of panels that a picture is about."""
    light: Vector = (-0.46, 0.62, 0.64)
    ambient: float = 0.62
    """Share of the light that comes from everywhere."""
    decorations: Decorations = field(default_factory=dict)
    others: Mapping[str, Looks] = field(default_factory=dict)
    """Of nets that are of another card, by their names; only its colours count."""

    def of(self, net: str) -> Looks:
        """The card of one net."""
        return self.others.get(net, self)

    def card(self, outside: bool, lit: bool) -> str:
        """The colour of a side of a panel, of one that the picture is about where `lit`."""
        if lit:
            return self.lit_outside if outside else self.lit_inside
        return self.outside if outside else self.inside


EDGE_LIGHT = 0.4
"""How bright the line along an edge is, as a share of the card's own colour."""

KRAFT = Looks(
    outside=colours.KRAFT_OUTSIDE,
    inside=colours.KRAFT_INSIDE,
    edge=colours.KRAFT_EDGE,
    guide=colours.KRAFT_GUIDE,
    shadow=colours.KRAFT_SHADOW,
    ink=colours.INK,
    lit_outside=colours.LIT_OUTSIDE,
    lit_inside=colours.LIT_INSIDE,
)
"""Brown kraft outside, cream inside."""


def looks_of(outside: str | None, inside: str | None) -> Looks:
    """Card of these colours; that of the outside goes for both where it alone is known, and brown
    kraft where neither is."""
    if outside is None and inside is None:
        return KRAFT
    face = outside or KRAFT.outside
    return replace(KRAFT, outside=face, inside=inside or face, edge=edge_of(face))


def edge_of(colour: str) -> str:
    """The line that is drawn along a cut edge of card of that colour."""
    return shaded(colour, EDGE_LIGHT)


def brightness(looks: Looks, normal: Vector, axes: tuple[Vector, Vector, Vector]) -> float:
    """How bright a surface is, 0…1, whose normal points to the viewer's side.

    `axes` are the viewer's right, up and toward. Source: Lambert's cosine law with a share of
    light from everywhere, softened so that surfaces turned away keep some form.
    """
    x, y, z = (dot(looks.light, along) for along in zip(*axes, strict=True))
    size = math.sqrt(x * x + y * y + z * z)
    facing = dot(normal, (x / size, y / size, z / size))
    wrapped = (facing + 0.35) / 1.35
    return looks.ambient + (1.0 - looks.ambient) * max(0.0, wrapped)


def shaded(colour: str, light: float) -> str:
    """A colour under less light, as #RRGGBB; shadows turn a little warmer, not grey."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    dark = 1.0 - min(1.0, max(0.0, light))
    mixed = (
        red * (1.0 - 0.92 * dark),
        green * (1.0 - 1.0 * dark),
        blue * (1.0 - 1.06 * dark),
    )
    return "#" + "".join(f"{round(255 * min(1.0, max(0.0, c))):02X}" for c in mixed)
