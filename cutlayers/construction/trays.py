"""A tray: four walls on a base, corners glued."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.card import Card
from cutlayers.construction.options import LEAST_TAB, LEAST_TAB_END, TAB_TAPER_DEG
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.spans import at_least, below
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import glue_tab, open_gap, rectangle, taper_run
from cutlayers.telling.errors import StyleError

LEAST_FRONT = 1.0
"""mm of a front wall between its tabs; there is as much room inside at least."""


def refuse_tab_on_side(tab: float, width: float, card: Card) -> None:
    """Raise StyleError where the two tabs behind a side wall `width` mm long would meet."""
    if below(width, 2 * LEAST_TAB):
        raise StyleError(
            "size.width",
            "leaves a side wall of {}, too short for two glue tabs",
            at_least(card.given(2 * LEAST_TAB, 2)),
            lengths=(width,),
        )
    refuse_above("options.tab", tab, width / 2, "longer than half the side wall that it lands on")


def refuse_short_front(length: float, card: Card) -> None:
    """Raise StyleError where the tabs at its ends leave too little of a front `length` mm long."""
    refuse_small(
        card, "size.length", length, 2, 2 * card.step + LEAST_FRONT, "too short between its tabs"
    )


def refuse_tab_on_wall(
    tab: float, height: float, given: float, folded_ends: int, card: Card
) -> None:
    """Raise StyleError where the slanting ends of a tab leave too little of it on a wall `height`
    mm high, which the size `given` has made."""
    least = 2 * (taper_run(LEAST_TAB, TAB_TAPER_DEG) + open_gap(card.step)) + LEAST_TAB_END
    refuse_small(card, "size.height", given, folded_ends, least, "too low for a glue tab")
    refuse_above(
        "options.tab",
        tab,
        deepest_tab(height, card.step),
        "so its tapered ends leave too little of it on a wall {} high",
        lengths=(height,),
    )


def deepest_tab(height: float, clear: float) -> float:
    """How deep a tab on an edge of this length can be that keeps `clear` mm off both its ends."""
    return (height - 2 * open_gap(clear) - LEAST_TAB_END) / 2 / taper_run(1.0, TAB_TAPER_DEG)


def tray_net(
    name: str,
    length: float,
    width: float,
    height: float,
    tab: float,
    taper_deg: float = TAB_TAPER_DEG,
    *,
    step: float,
    upside_down: bool = False,
    front: Shape | None = None,
) -> Net:
    """A tray from its panels' score-to-score sizes in mm, `upside_down` for a lid.

    The tabs stand on the ends of the front and back walls and go behind the side walls, `step` mm
    inside of them, so that the front and back walls are as much shorter at both ends. `front`
    stands in for the rectangle of the front wall, whose bottom edge is the fold. Sizes are known
    to fit each other.
    """
    run = taper_run(tab, taper_deg)
    net = Net.start(
        name, "base", rectangle(length, width), Role.LID if upside_down else Role.BASE, caliper=step
    )
    # The net shows the box from below, so the wall that stands left of the front lies right.
    for wall, edge, wide in (
        ("front", "bottom", length),
        ("left", "right", width),
        ("back", "top", length),
        ("right", "left", width),
    ):
        shape = front if front is not None and wall == "front" else rectangle(wide, height)
        net = net.attach(wall, shape, to=f"base.{edge}", role=Role.WALL)
    # A wall's edges are named as it was drawn; the front wall hangs upside down from the base.
    for wall, at_left, at_right in (("front", "left", "right"), ("back", "right", "left")):
        for end, target in (("left", at_left), ("right", at_right)):
            net = net.attach(
                f"{wall} {target} tab",
                glue_tab(height, tab, run, clear=step),
                to=f"{wall}.{end}",
                role=Role.GLUE_TAB,
                lands_on=target,
            )
    return replace(net, stand=Stand("front", up=(0.0, 1.0 if upside_down else -1.0)))
