"""Walls in a row that close to a tube: the body of most cartons."""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.construction.options import LEAST_TAB, LEAST_TAB_END, TAB_TAPER_DEG
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.trays import deepest_tab
from cutlayers.net import Net, Role, Shape
from cutlayers.net.parts import cut_apart, joined, with_part_moved
from cutlayers.net.shapes import glue_tab, open_gap, taper_run


def tube(
    name: str,
    walls: Mapping[str, Shape],
    root: str,
    *,
    step: float,
    roles: Mapping[str, Role] | None = None,
) -> Net:
    """Four walls hinged side by side, left to right as listed, to be closed by `with_seam`.

    All walls have straight edges "left" and "right" of one length; roles are WALL unless given.
    Pressed flat, the first wall folds over the second and the last over the third, as a carton
    leaves the gluer. Corner folds are right angles. Layers lie `step` mm apart.
    """
    order = list(walls)
    start = order.index(root)
    kinds = roles or {}
    # Corner i lies between wall i and the next; every other one is a sharp edge when flat.
    flat = [180.0 if corner % 2 == 0 else 0.0 for corner in range(len(order))]
    net = Net.start(name, root, walls[root], kinds.get(root, Role.WALL), caliper=step)
    for index in range(start - 1, -1, -1):
        wall = order[index]
        net = net.attach(
            wall,
            walls[wall],
            to=f"{order[index + 1]}.left",
            own="right",
            role=kinds.get(wall, Role.WALL),
            flat_deg=flat[index],
        )
    for index in range(start + 1, len(order)):
        wall = order[index]
        net = net.attach(
            wall,
            walls[wall],
            to=f"{order[index - 1]}.right",
            own="left",
            role=kinds.get(wall, Role.WALL),
            flat_deg=flat[index - 1],
        )
    return net


def in_two_parts(net: Net, tab: float, *, on: str, behind: str) -> Net:
    """A tube cut apart between two walls that lie side by side: a glue tab on the first goes behind
    the other, and is glued there before anything is folded.

    Where the tab lies the tube has a layer less of room, as at its seam.
    """
    net = with_seam(cut_apart(net, on, behind), tab, on=on, behind=behind, name="joint tab")
    # The tab's crease stands a layer inside of where the walls meet; so does the other wall's end.
    (x0, y0), (x1, y1) = net.panel(behind).edge("left").end, net.panel(on).edge("right").start
    return joined(with_part_moved(net, behind, (x1 - x0, y1 - y0)), "joint tab")


def with_seam(
    net: Net,
    tab: float,
    *,
    on: str = "back",
    behind: str = "left",
    clear: float = 0.0,
    name: str = "glue tab",
) -> Net:
    """The glue tab that closes a tube of four walls, on the last behind the first.

    The last wall becomes as much shorter as the tab lies inside of the first. What hangs on its
    ends is attached before, as wide as the box; the tab's ends keep `clear` mm off them.
    """
    height = net.panel(on).edge("right").chord
    return net.attach(
        name,
        glue_tab(height, tab, taper_run(tab, TAB_TAPER_DEG), clear=clear),
        to=f"{on}.right",
        role=Role.GLUE_TAB,
        lands_on=behind,
        flat_deg=0.0,
    )


def least_seam(clear: float) -> float:
    """The least height in mm of walls with room for a seam whose ends keep `clear` mm off."""
    return 2 * (taper_run(LEAST_TAB, TAB_TAPER_DEG) + open_gap(clear)) + LEAST_TAB_END


def refuse_seam(
    tab: float, first_wall: float, height: float, clear: float = 0.0, *, step: float = 0.0
) -> None:
    """Raise StyleError for a seam tab wider than its wall or with nothing left between its ends.

    The tab keeps `step` mm off the wall after the one that it lands on, and its ends `clear` mm off
    those of the wall. The walls are known to be large enough for the least tab.
    """
    # Inside of its wall it reaches no farther than the card of the next one, and what is tucked in.
    refuse_above("options.tab", tab, first_wall - step, "wider than the wall that it lands on")
    refuse_above(
        "options.tab",
        tab,
        deepest_tab(height, clear),
        "so its tapered ends leave too little of it on a wall {} high",
        lengths=(height,),
    )
