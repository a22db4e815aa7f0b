"""A carton with a snap-lock bottom (1-2-3 bottom), put together by hand without glue.

The bottom, for an opening of length L and width W. The back panel is three quarters of W deep
and has a recess half of L wide in its middle; the front panel is W/2 deep and has a tongue, a
little narrower than the recess. Folded in the order back, sides, front, the tongue goes through
the recess, bending there, to the inside of the back panel's body, and lies on it by W/4, while the
legs beside the recess lie inside of the front panel: neither can swing out. The recess is as much
deeper than W/2 as the tongue needs to come up through three layers. The side flaps lie between the
two panels and keep clear of the recess, so they are at most L/4 deep.
Proportions are common practice; the top is a tuck.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.cartons import (
    CartonDims,
    carton_end,
    carton_tube,
    carton_volume,
    refuse_carton,
    with_carton_seam,
    with_carton_window,
    with_top,
)
from cutlayers.construction.dimension import size
from cutlayers.construction.ends import SEAM_LAYERS
from cutlayers.construction.openings import notch
from cutlayers.construction.refusing import refuse_small
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.net import Net, Role, Stand
from cutlayers.net.bends import Ramp, bent, ramp_length, ramp_reach
from cutlayers.net.engagement import PLAY, Engagement
from cutlayers.net.shapes import Shape, glue_tab, polygon

BODY, REACH = 0.5, 0.75
"""Shares of the width: how deep both bottom panels are, and how far legs and tongue reach."""

RECESS = 0.5
"""Share of the length that the recess is wide."""

LAYERS_UP = 3
"""From the front panel over the side flaps and the back panel."""

LEAST_HOLD = 4.0
"""mm by which the tongue lies on the back panel at least."""


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
    end = carton_end(dims, card)
    refuse_carton(dims.tab, end)
    length, width = end.length, end.width
    net = with_top(carton_tube(end), end)
    narrower = 2 * end.beside_tuck
    ramp = ramp_length(LAYERS_UP, card.step, PLAY)
    reach = ramp_reach(ramp, LAYERS_UP * card.step)
    # Beyond the ramp it lies on the back panel, off the inner face of the back by play.
    spare = reach + card.take_up + PLAY
    least = (LEAST_HOLD + spare) / (1 - BODY)
    refuse_small(card, "size.width", dims.width, 2, least, "too narrow for the lock of its bottom")
    hold = min((REACH - BODY) * width, (1 - BODY) * width - spare)
    # As it comes through it may stand askew: at each leg of the back panel it has an entry.
    lock = Engagement(card.step)
    tongue = RECESS * length - 2 * lock.opening()
    for name, shape, layer in (
        ("back", _back(length, width, narrower, reach), 2),
        ("front", _front((length - narrower, tongue), width, ramp, hold), 0),
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
            _side(length, width, narrower),
            to=f"{side}.bottom",
            role=Role.FLAP,
            flat_deg=0.0,
            layer=1,
        )
    net = net.engage("front bottom", "back bottom", lock)
    # The back itself ends two layers higher.
    net = with_carton_seam(net, dims.tab, SEAM_LAYERS - 1)
    net = with_carton_window(net, dims, end, ("", "front"))
    net = replace(net, stand=Stand("front"))
    return (replace(net, facets=bent(net, _ramp(net, ramp, card.step))) if card.step else net,)


def _back(length: float, width: float, narrower: float, entry: float) -> Shape:
    """A body with two legs; their ends slant so that they slide in. The recess is deeper than the
    middle by the tongue's entry."""
    wide, deep = length - narrower, REACH * width
    body = glue_tab(wide, deep, min(0.1 * width, 0.1 * length))
    return notch(
        body,
        "top",
        body.outline.segments[2].chord / 2,
        RECESS * length,
        deep - BODY * width + entry,
    )


def _front(wides: tuple[float, float], width: float, ramp: float, hold: float) -> Shape:
    """A body with a tongue, both so wide, its corners cut off: a ramp, and what lies on the back
    panel."""
    (wide, tongue), body = wides, BODY * width
    reach, half = body + ramp + hold, tongue / 2
    middle, corner = wide / 2, min(0.08 * width, 0.2 * half, hold / 2)
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


def _ramp(net: Net, long: float, caliper: float) -> Ramp:
    """Where the tongue comes up through the recess: from its root, the body's edge, on."""
    panel = net.panel("front bottom")
    right, left = panel.edge("edge-4"), panel.edge("edge-8")
    share = long / right.chord
    return Ramp(
        panel.name,
        Segment(right.start, left.end),
        Segment(right.point_at(share), left.point_at(1 - share)),
        LAYERS_UP * caliper,
    )


def _side(length: float, width: float, narrower: float) -> Shape:
    """Beside the recess and no deeper; the ends slant, clear of the two bottom panels' folds."""
    wide = width - narrower
    deep = min((1 - RECESS) / 2 * length - narrower / 2, BODY * width)
    return glue_tab(wide, deep, min(deep, wide) / 4)


STYLE = Style(
    name="snap-lock-carton",
    summary="a tuck carton whose bottom panels lock into each other by hand",
    dimensions=SnapLockCarton,
    build=build,
    volume=carton_volume,
)
