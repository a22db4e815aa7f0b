"""A telescope box: a tray, and a second tray turned over as its lid.

Sizes: the lid goes over the base, so its creases stand two calipers and the clearance farther
apart; between the side walls one caliper more at each end, since the corner tabs of the lid lie
inside of them. With a shoulder, a frame glued into the base stands up out of it and the lid,
as large as the base, goes over the frame and meets the base rim to rim: the frame is then smaller
by two calipers, by the clearance, and again by one at each end for the corner tabs.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import option, proportion, size
from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import (
    refuse_above,
    refuse_below,
    refuse_small,
    refuse_unless_none,
)
from cutlayers.construction.style import Style
from cutlayers.construction.trays import (
    deepest_tab,
    refuse_short_front,
    refuse_tab_on_side,
    refuse_tab_on_wall,
    tray_net,
)
from cutlayers.construction.tubes import least_seam, tube, with_seam
from cutlayers.frozen import frozen
from cutlayers.net import Net, Stand
from cutlayers.net.shapes import rectangle

LEAST_LID = 6.0
"""mm; a lower lid holds no glue tab and slips off."""

LEAST_SHOULDER = 2.0
"""mm; a lower shoulder does not hold the lid."""


@frozen
class TelescopeBox:
    """Dimensions of a telescope box; the size is that of the base."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=60)
    height: float = size("of the base's walls", example=35)
    lid: float | None = proportion(
        "height of the lid's walls; the height, or 0.4 of it with a shoulder, if not given",
        example=35,
        minimum=LEAST_LID,
    )
    shoulder: float = option(
        "how far a shoulder stands out of the base, the lid meeting the base there; 0 for none",
        default=0,
        maximum=200,
    )
    tab: float = options.tab()
    clearance: float = options.clearance()


def build(dims: TelescopeBox, card: Card) -> tuple[Net, ...]:
    """The base, the shoulder if there is one, and the lid.

    Raises StyleError for a lid taller than the base, a shoulder taller than the lid, and tabs
    that the walls have no room for.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    refuse_short_front(dims.length, card)
    height = card.panel("size.height", dims.height, 1)
    caliper = card.caliper
    refuse_tab_on_side(dims.tab, width, card)
    lowest = max(LEAST_LID, least_seam(card.step))
    # A little more, so that a lid can be named that is no higher than the base.
    refuse_small(card, "size.height", dims.height, 1, lowest + 0.1, "lower than the lowest lid")
    refuse_tab_on_wall(dims.tab, height, dims.height, 1, card)
    base = tray_net("base", length, width, height, dims.tab, step=card.step)
    lid = _lid_height(dims, height, lowest, card)
    refuse_below("options.lid", lid, lowest, "too low for glue tabs")
    if not dims.shoulder:
        refuse_above("options.lid", lid, height, "so the lid would stand on the table")
    refuse_above(
        "options.tab",
        dims.tab,
        deepest_tab(lid, card.step),
        f"so its tapered ends leave too little of it on a lid {lid:.4g} mm high",
    )
    if dims.shoulder:
        net = tray_net("lid", length, width, lid, dims.tab, step=card.step, upside_down=True)
        return base, _shoulder(dims, card), _standing(net, height)
    over = 2 * caliper + dims.clearance
    net = tray_net(
        "lid",
        length + over + 2 * caliper,
        width + over,
        lid,
        dims.tab,
        step=card.step,
        upside_down=True,
    )
    return base, _standing(net, height + card.take_up - lid)


def _lid_height(dims: TelescopeBox, height: float, lowest: float, card: Card) -> float:
    if not dims.shoulder:
        return height if dims.lid is None else dims.lid
    # The shoulder stands up to the card of the lid.
    least = dims.shoulder + 1.0 + card.take_up
    lid = max(lowest, 0.4 * height, least) if dims.lid is None else dims.lid
    refuse_unless_none(
        "options.shoulder",
        dims.shoulder,
        LEAST_SHOULDER,
        lid - card.take_up,
        ("too low to hold a lid", "taller than the lid"),
    )
    return lid


def _standing(lid: Net, lift: float) -> Net:
    return replace(lid, stand=Stand("front", up=(0.0, 1.0), lift=lift))


def _shoulder(dims: TelescopeBox, card: Card) -> Net:
    """A frame that stands on the floor of the base."""
    caliper = card.caliper
    smaller = 2 * caliper + dims.clearance
    for name, given, less in (
        ("length", dims.length, smaller + 2 * caliper),
        ("width", dims.width, smaller),
    ):
        refuse_small(
            card,
            f"size.{name}",
            given,
            2,
            less + 2 * LEAST_TAB,
            "too small for a shoulder inside",
        )
    length, width, height = _scores(dims, card)
    length, width = length - smaller - 2 * caliper, width - smaller
    tall = height - card.take_up + dims.shoulder
    tab = min(dims.tab, width - card.step, deepest_tab(tall, card.step))
    walls = {
        name: rectangle(wide, tall)
        for name, wide in (("left", width), ("front", length), ("right", width), ("back", length))
    }
    net = with_seam(tube("shoulder", walls, "front", step=card.step), tab)
    return replace(net, stand=Stand("front", lift=card.take_up))


def volume(dims: TelescopeBox, card: Card) -> float:
    """Of the base: length × width × height."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: TelescopeBox, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 1)


STYLE = Style(
    name="telescope-box",
    summary="a tray and a lid that goes over it, with a shoulder inside if wanted",
    dimensions=TelescopeBox,
    build=build,
    like="FEFCO-ESBO family 03 (telescope boxes)",
    volume=volume,
)
