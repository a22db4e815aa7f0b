"""A prism box: a base of n equal sides with upright walls, and a lid of the same kind.

The lid goes over the base: its apothem is larger by what the base's wall has outside of its crease
and the lid's inside of it, by a caliper of the lid for the corner tab that lies inside of each of
its walls, and by half the clearance.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import count, proportion, size
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.star_nets import star_net, star_tab, with_star_tabs
from cutlayers.construction.stars import (
    Star,
    apothem,
    least_height,
    refuse_upright,
    tab_depth,
    upright,
)
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Stand

SPARE = 0.2
"""mm by which a base is higher than the least lid, so that one can be named that is no higher."""


@frozen
class PrismBox:
    """Dimensions of a prism box; the size is that of the base."""

    side: float = size("of one side of the base", example=45)
    height: float = size("of the base's walls", example=50)
    sides: int = count("how many sides", default=6, minimum=3, maximum=12)
    lid_height: float | None = proportion(
        "height of the lid's walls; 0.4 of the height, at least what its tabs need, if not given",
        example=25,
        minimum=4,
        formerly="lid",
    )
    tab: float | None = options.fitting_tab()
    clearance: float = options.clearance()


def build(dims: PrismBox, card: Card) -> tuple[Net, ...]:
    """The base and the lid.

    Raises StyleError for a lid taller than the base and for walls too small for tabs.
    """
    of_base, of_lid = card.of("base"), card.of("lid")
    refuse_upright(of_base, dims.sides, dims.side, dims.height, folded_ends=1, spare=SPARE)
    base = _base(dims, card)
    apart = of_base.bulk + of_lid.take_up + of_lid.caliper + dims.clearance / 2
    grow = 2 * apart * math.tan(math.pi / dims.sides)
    usual = max(0.4 * base.height, min(25.0, base.height))
    height = usual if dims.lid_height is None else dims.lid_height
    lid = Star(dims.sides, base.bottom + grow, base.top + grow, height, of_lid)
    least = least_height(lid)
    why = "too low for a lid with tabs between its walls"
    refuse_small(of_base, "size.height", dims.height, 1, least + SPARE, why)
    refuse_below("options.lid_height", height, least, "too low for tabs between its walls")
    refuse_above("options.lid_height", height, base.height, "so the lid would stand on the table")
    depth = tab_depth(base, dims.tab)
    lid_tab = star_tab(lid, min(max(depth, lid.least_tab), lid.deepest_tab))
    base_tab = star_tab(base, depth)
    nets = (
        with_star_tabs(star_net("base", base), base, [base_tab] * dims.sides),
        with_star_tabs(star_net("lid", lid, Role.LID), lid, [lid_tab] * dims.sides),
    )
    lift = base.height + of_lid.take_up - lid.height
    # Where a corner stands opposite the front, the middle of the extent is not that of the base.
    at = (0.0, (_aside(lid) - _aside(base)) / 2)
    stands = (Stand("front", up=(0.0, -1.0)), Stand("front", up=(0.0, 1.0), lift=lift, at=at))
    first, second = (replace(net, stand=stand) for net, stand in zip(nets, stands, strict=True))
    return first, second


def _aside(star: Star) -> float:
    """How much farther the back is from the middle of the base than the front, in mm."""
    if star.sides % 2 == 0:
        return 0.0
    return star.bottom / (2 * math.sin(math.pi / star.sides)) - apothem(star.sides, star.bottom)


def volume(dims: PrismBox, card: Card) -> float:
    """Of the base: n·a²/4 · cot(π/n) · h."""
    return _base(dims, card).volume


def _base(dims: PrismBox, card: Card) -> Star:
    return upright(card.of("base"), dims.sides, dims.side, dims.height, folded_ends=1)


STYLE = Style(
    name="prism-box",
    summary="a box with any number of equal sides, and its lid",
    dimensions=PrismBox,
    build=build,
    volume=volume,
)
