"""A carton with a snap-lock bottom (1-2-3 bottom), put together by hand without glue.

The bottom, for an opening of length L and width W. The back panel is three quarters of W deep
and has a recess half of L wide in its middle, down to W/2; the front panel is W/2 deep and has a
tongue, a little narrower than the recess, that reaches W/4 farther. Folded in the order back,
sides, front, the tongue goes through the recess to the inside of the back panel's body while the
legs beside the recess lie inside of the front panel: neither can swing out. The side flaps lie
between the two and keep clear of the recess, so they are at most L/4 deep.
Proportions are common practice; the top is a tuck.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.cartons import (
    CartonDims,
    carton_body,
    carton_tube,
    carton_volume,
    refuse_body,
    with_carton_seam,
    with_carton_window,
    with_top,
)
from cutlayers.construction.dimension import size
from cutlayers.construction.ends import SEAM_LAYERS
from cutlayers.construction.openings import notch
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand
from cutlayers.net.shapes import Shape, glue_tab, polygon

BODY, REACH = 0.5, 0.75
"""Shares of the width: how deep both bottom panels are, and how far legs and tongue reach."""

RECESS = 0.5
"""Share of the length that the recess is wide."""


@frozen
class SnapLockCarton(CartonDims):
    """Dimensions of a carton with a snap-lock bottom."""

    length: float = size("along the front wall", example=70, minimum=20)
    width: float = size("from front to back", example=45, minimum=20)
    height: float = size("from bottom to closure", example=100)


def build(dims: SnapLockCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for flaps that meet, a glue tab longer than what it lands on, a thumb cut
    that would show past the tuck, and a window without room.
    """
    body = carton_body(dims, card)
    refuse_body(dims, body)
    length, width = body.length, body.width
    net = with_top(carton_tube(body), body)
    ease = 2 * card.caliper
    for name, shape, layer in (
        ("back", _back(length, width, ease), 2),
        ("front", _front(length, width, ease), 0),
    ):
        net = net.attach(
            f"{name} bottom",
            shape,
            to=f"{name}.bottom",
            role=Role.BASE,
            flat_deg=0.0,
            layer=layer,
        )
    for side in ("left", "right"):
        net = net.attach(
            f"{side} bottom flap",
            _side(length, width, ease),
            to=f"{side}.bottom",
            role=Role.FLAP,
            flat_deg=0.0,
            layer=1,
        )
    net = net.engage("front bottom", "back bottom")
    # The back itself ends two layers higher.
    net = with_carton_seam(net, dims.tab, SEAM_LAYERS - 1)
    net = with_carton_window(net, dims, body, ("", "front"))
    return (replace(net, stand=Stand("front")),)


def _back(length: float, width: float, ease: float) -> Shape:
    """A body with two legs; their ends slant so that they slide in."""
    wide, deep = length - ease, REACH * width
    body = glue_tab(wide, deep, min(0.1 * width, 0.1 * length))
    return notch(
        body, "top", body.outline.segments[2].chord / 2, RECESS * length, deep - BODY * width
    )


def _front(length: float, width: float, ease: float) -> Shape:
    """A body with a tongue, its corners cut off."""
    wide, body, reach = length - ease, BODY * width, REACH * width
    half = (RECESS * length - ease) / 2
    middle, corner = wide / 2, min(0.08 * width, 0.2 * half)
    return polygon(
        (0, 0),
        (wide, 0),
        (wide, body - corner),
        (wide - corner, body),
        (middle + half, body),
        (middle + half, reach - corner),
        (middle + half - corner, reach),
        (middle - half + corner, reach),
        (middle - half, reach - corner),
        (middle - half, body),
        (corner, body),
        (0, body - corner),
    )


def _side(length: float, width: float, ease: float) -> Shape:
    """Beside the recess and no deeper; the ends slant, clear of the two bottom panels' folds."""
    wide = width - ease
    deep = min((1 - RECESS) / 2 * length - ease / 2, BODY * width)
    return glue_tab(wide, deep, min(deep, wide) / 4)


STYLE = Style(
    name="snap-lock-carton",
    summary="a tuck carton whose bottom panels lock into each other by hand",
    dimensions=SnapLockCarton,
    build=build,
    volume=carton_volume,
)
