"""A petal-top box: upright walls on a base of n sides, each with a petal that closes the top.

The petals fold in one after the other, each over the one before, and the first is drawn out over
the last: reaching past the middle, they hold each other down. A petal starts at both ends of its
wall's top and ends in a tip on the middle line; its two arcs start inside the angle that the walls
make there, so it does not catch on its neighbours' walls.
"""

from __future__ import annotations

import math
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import count, proportion, size
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.star_nets import star_net, star_tab, wall_name, with_star_tabs
from cutlayers.construction.stars import (
    Star,
    apothem,
    refuse_upright,
    tab_depth,
    upright,
)
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.net import Net, Role, Shape, Stand

BELLY_DEG = 30.0
"""How much steeper than the line to its tip a petal leaves its wall, where there is room."""

CLEAR_DEG = 5.0
"""How far its sides keep off the neighbouring walls, and its tip off being blunt."""


@frozen
class PetalTopBox:
    """Dimensions of a petal-top box."""

    side: float = size("of one side of the base", example=45)
    height: float = size("of the walls", example=45)
    sides: int = count("how many sides", default=4, minimum=3, maximum=8)
    reach: float | None = proportion(
        "how far the petals reach past the middle; a third of the way to it if not given",
        example=7.5,
        minimum=1,
    )
    tab: float | None = options.fitting_tab()


def build(dims: PetalTopBox, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root.

    Raises StyleError for petals that reach too far, and for walls too small for tabs.
    """
    lower = dims.sides * card.step
    refuse_upright(card, dims.sides, dims.side, dims.height, folded_ends=2, spare=lower)
    star = _star(dims, card)
    middle = apothem(star.sides, star.top)
    reach = middle / 3 if dims.reach is None else dims.reach
    refuse_above("options.reach", reach, middle / 2, "more than half the way to a wall")
    depth = tab_depth(replace(star, height=star.height - lower), dims.tab)
    net = star_net("box", star)
    petal = _petal(star, middle + reach)
    for index in range(star.sides):
        # The first petal was closed last and lies outside; each of the others a layer farther in.
        net = net.attach(
            f"petal {index + 1}",
            petal,
            to=f"{wall_name(index)}.top",
            role=Role.LID,
            layer=index,
        )
    # A tab ends below the petal of its own wall and that of the one behind which it goes.
    tabs = [star_tab(star, depth, (index + 1) * star.step) for index in range(star.sides)]
    net = with_star_tabs(net, star, tabs)
    return (replace(net, stand=Stand("front", up=(0.0, -1.0))),)


def _petal(star: Star, deep: float) -> Shape:
    # Clear of the walls beside it and of the tabs on them, which stand higher.
    wide = star.top - 4 * star.step
    chord = math.degrees(math.atan2(deep, wide / 2))
    corner = 180.0 - 360.0 / star.sides
    belly = max(0.0, min(BELLY_DEG, corner - CLEAR_DEG - chord, chord - CLEAR_DEG))
    bulge = math.tan(math.radians(2 * belly) / 4)
    return Shape(
        Path(((0.0, 0.0), (wide, 0.0), (wide / 2, deep)), (0.0, bulge, bulge), closed=True),
        ("bottom", "right", "left"),
    )


def volume(dims: PetalTopBox, card: Card) -> float:
    """n·a²/4 · cot(π/n) · h."""
    return _star(dims, card).volume


def _star(dims: PetalTopBox, card: Card) -> Star:
    return upright(card, dims.sides, dims.side, dims.height, folded_ends=2)


STYLE = Style(
    name="petal-top-box",
    summary="upright walls whose petals close the top over each other",
    dimensions=PetalTopBox,
    build=build,
    volume=volume,
)
