"""A tuck carton: four walls round, with a tucked closure and dust flaps at both ends.

The tucks hinge on the same wall (straight tuck) or on opposite ones (reverse tuck). The seam
lies at the back on the left; the glued carton goes flat.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.cartons import (
    CartonDims,
    carton_end,
    carton_tube,
    carton_volume,
    with_carton_seam,
    with_carton_window,
    with_top,
)
from cutlayers.construction.dimension import choice, option, proportion, size
from cutlayers.construction.ends import (
    SEAM_LAYERS,
    TuckedEnd,
    refuse_end,
    room_for_tuck,
    with_tucked_end,
)
from cutlayers.construction.refusing import refuse_above, refuse_below
from cutlayers.construction.spans import above, at_least, below, between
from cutlayers.construction.style import Style
from cutlayers.construction.tubes import refuse_seam
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Stand, Work
from cutlayers.telling.errors import StyleError

LEAST_TEAR = 3.0
"""mm; a narrower strip tears off before it tears open."""

PLACE = 0.1
"""mm; the least play that counts as a place for the strip, so that it can be named to 0.1 mm."""

TEAR_BORDER = 5.0
"""mm between a tear line and the fold of a closure, so that the tear does not run into it."""


@frozen
class TuckCarton(CartonDims):
    """Dimensions of a tuck carton."""

    length: float = size("along the front wall", example=60)
    width: float = size("from front to back", example=30)
    height: float = size("from closure to closure", example=90)
    dust_depth: float | None = options.dust_depth(18)
    window_width: float | None = options.window_width(36)
    window_height: float | None = options.window_height(48)
    ends: str = choice(
        "straight: both tucks hinge on the back wall; reverse: one on the back, one on the front",
        default="reverse",
        choices=("straight", "reverse"),
    )
    tear: float = option(
        "width of a perforated tear strip round front and sides; 0 for none",
        default=0,
        maximum=60,
    )
    tear_at: float | None = proportion(
        "height of the strip's lower line above the bottom; two thirds of the height, or as much "
        "as the tuck leaves, if not given",
        example=60,
    )


def build(dims: TuckCarton, card: Card) -> tuple[Net, ...]:
    """One net; the front wall is the root, the seam lies at the back on the left.

    Raises StyleError for flaps that meet, a glue tab longer than what it lands on, a thumb cut
    that would show past the tuck, a window or a tear strip without room.
    """
    straight = dims.ends == "straight"
    end = carton_end(dims, card, at_seam=not straight)
    refuse_seam(dims.tab, end.width, end.height, SEAM_LAYERS * card.step, step=2 * card.step)
    if straight:
        refuse_end(end, end.height / 2, "so the two tucks meet behind the front")
    else:
        refuse_end(end, room_for_tuck(end.height, card.step))
    if dims.tear:
        _refuse_tear_strip(dims, end, card)
    behind = "front" if straight else "back"
    net = with_top(carton_tube(end, bottom_thumb=behind), end)
    host = "back" if straight else "front"
    net = with_tucked_end(net, "bottom", host, end, at_seam=not straight)
    net = with_carton_seam(net, dims.tab)
    net = with_carton_window(net, dims, end, (behind, "front"))
    if dims.tear:
        net = _with_tear_strip(net, dims.tear, _tear_place(dims, end))
    return (replace(net, stand=Stand("front")),)


def _tear_range(dims: TuckCarton, end: TuckedEnd) -> tuple[float, float]:
    """Lowest place of the strip's lower line, highest of its upper one, clear of the tucks."""
    high = max(TEAR_BORDER, end.tuck)
    return high if dims.ends == "straight" else TEAR_BORDER, end.height - high


def _tear_place(dims: TuckCarton, end: TuckedEnd) -> float:
    _, high = _tear_range(dims, end)
    if dims.tear_at is not None:
        return dims.tear_at
    return min(end.height * 2 / 3, high - dims.tear)


def _refuse_tear_strip(dims: TuckCarton, end: TuckedEnd, card: Card) -> None:
    refuse_below("options.tear", dims.tear, LEAST_TEAR, "too narrow to tear", none=True)
    low, high = _tear_range(dims, end)
    if below(high - low, LEAST_TEAR + PLACE):
        least = end.height + LEAST_TEAR + PLACE - (high - low)
        raise StyleError(
            "size.height",
            "is {}, which leaves no room for a tear strip clear of the tucks",
            at_least(card.given(least, 2)),
            lengths=(dims.height,),
        )
    refuse_above(
        "options.tear",
        dims.tear,
        high - low - PLACE,
        "wider than what is clear of the tucks",
        none=True,
    )
    place = _tear_place(dims, end)
    if below(place, low) or above(place, high - dims.tear):
        raise StyleError(
            "options.tear_at",
            "is {} above the bottom, where a strip of {} is not clear of the tucks",
            between(low, high - dims.tear),
            lengths=(place, dims.tear),
        )
    if dims.window in ("left", "front", "right"):
        raise StyleError(
            "options.window", f'is "{dims.window}", which the tear strip crosses', works="none"
        )


def _with_tear_strip(net: Net, wide: float, low: float) -> Net:
    """Two perforated lines round the front and both sides; the back wall stays the hinge."""
    # The sides begin higher, where the dust flaps lie inside of the bottom.
    _, bottom, _, _ = net.panel("front").outline.bounds
    for wall in ("left", "front", "right"):
        left, _, right, _ = net.panel(wall).outline.bounds
        for name, y in (("lower tear line", low), ("upper tear line", low + wide)):
            line = Path.line((left, bottom + y), (right, bottom + y))
            net = net.work(wall, Feature(Work.TEAR, line, name))
    return net


STYLE = Style(
    name="tuck-carton",
    summary="four walls with tucked ends and dust flaps",
    dimensions=TuckCarton,
    build=build,
    volume=carton_volume,
)
