"""A telescope box: a tray, and a second tray turned over as its lid.

Sizes: the lid goes over the base, so its creases stand farther apart by what the base's walls have
outside of theirs and the lid's inside, and by the clearance; between the side walls by one caliper
of the lid more at each end, since its corner tabs lie inside of them. With a shoulder, a frame
glued into the base stands up out of it and the lid, as large inside as the base, goes over the
frame and meets the base rim to rim: the frame has that room, less the clearance and a caliper at
each end for the corner tabs.
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
    lid_height: float | None = proportion(
        "height of the lid's walls; the height, or 0.4 of it with a shoulder, if not given",
        example=35,
        minimum=LEAST_LID,
        formerly="lid",
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
    of_base, of_lid = card.of("base"), card.of("lid")
    length = of_base.panel("size.length", dims.length, 2)
    width = of_base.panel("size.width", dims.width, 2)
    refuse_short_front(dims.length, of_base)
    height = of_base.panel("size.height", dims.height, 1)
    refuse_tab_on_side(dims.tab, width, of_base)
    lowest = max(LEAST_LID, least_seam(max(of_base.step, of_lid.step)))
    # A little more, so that a lid can be named that is no higher than the base.
    refuse_small(of_base, "size.height", dims.height, 1, lowest + 0.1, "lower than the lowest lid")
    refuse_tab_on_wall(dims.tab, height, dims.height, 1, of_base)
    base = tray_net("base", length, width, height, dims.tab, step=of_base.step)
    lid = _lid_height(dims, height, lowest, of_lid)
    refuse_below("options.lid_height", lid, lowest, "too low for glue tabs")
    if not dims.shoulder:
        refuse_above("options.lid_height", lid, height, "so the lid would stand on the table")
    refuse_above(
        "options.tab",
        dims.tab,
        deepest_tab(lid, of_lid.step),
        "so its tapered ends leave too little of it on a lid {} high",
        lengths=(lid,),
    )
    if dims.shoulder:
        # As large inside as the base, and between the corner tabs.
        wide = width + 2 * (of_lid.take_up - of_base.take_up)
        long = length + wide - width + 2 * (of_lid.caliper - of_base.caliper)
        refuse_above("options.tab", dims.tab, wide / 2, "longer than half the side wall of the lid")
    else:
        wide = width + 2 * (of_base.bulk + of_lid.take_up) + dims.clearance
        long = length + wide - width + 2 * of_lid.caliper
    net = tray_net("lid", long, wide, lid, dims.tab, step=of_lid.step, upside_down=True)
    if dims.shoulder:
        return base, _shoulder(dims, card), _standing(net, height)
    return base, _standing(net, height + of_lid.take_up - lid)


def _lid_height(dims: TelescopeBox, height: float, lowest: float, card: Card) -> float:
    if not dims.shoulder:
        return height if dims.lid_height is None else dims.lid_height
    # The shoulder stands up to the card of the lid.
    least = dims.shoulder + 1.0 + card.take_up
    lid = max(lowest, 0.4 * height, least) if dims.lid_height is None else dims.lid_height
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
    of_base, own = card.of("base"), card.of("shoulder")
    smaller, tabs = 2 * (of_base.take_up + own.bulk) + dims.clearance, 2 * of_base.caliper
    for name, given, less in (
        ("length", dims.length, smaller + tabs),
        ("width", dims.width, smaller),
    ):
        refuse_small(
            of_base,
            f"size.{name}",
            given,
            2,
            less + 2 * LEAST_TAB,
            "too small for a shoulder inside",
        )
    length, width, height = _scores(dims, of_base)
    length, width = length - smaller - tabs, width - smaller
    tall = height - of_base.take_up + dims.shoulder
    tab = min(dims.tab, width - own.step, deepest_tab(tall, own.step))
    walls = {
        name: rectangle(wide, tall)
        for name, wide in (("left", width), ("front", length), ("right", width), ("back", length))
    }
    net = with_seam(tube("shoulder", walls, "front", step=own.step), tab)
    return replace(net, stand=Stand("front", lift=of_base.take_up))


def volume(dims: TelescopeBox, card: Card) -> float:
    """Of the base: length × width × height."""
    length, width, height = _scores(dims, card.of("base"))
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
