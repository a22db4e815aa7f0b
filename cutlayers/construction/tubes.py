"""Walls in a row that close to a tube: the body of most cartons."""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.construction.options import TAB_TAPER_DEG
from cutlayers.construction.refusing import refuse_above
from cutlayers.construction.trays import deepest_tab
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import glue_tab, taper_run


def tube(
    name: str,
    walls: Mapping[str, Shape],
    root: str,
    tab: float,
    *,
    roles: Mapping[str, Role] | None = None,
) -> Net:
    """Four walls hinged side by side, left to right as listed, and a glue tab at the last.

    The tab goes behind the first wall. All walls have straight edges "left" and "right" of one
    length; roles are WALL unless given. Pressed flat, the first wall folds over the second and
    the last over the third, as a carton leaves the gluer. Corner folds are right angles.
    """
    order = list(walls)
    start = order.index(root)
    kinds = roles or {}
    # Corner i lies between wall i and the next; every other one is a sharp edge when flat.
    flat = [180.0 if corner % 2 == 0 else 0.0 for corner in range(len(order))]
    net = Net.start(name, root, walls[root], kinds.get(root, Role.WALL))
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
    height = net.panel(order[-1]).edge("right").chord
    shape = glue_tab(height, tab, taper_run(tab, TAB_TAPER_DEG))
    return net.attach(
        "glue tab",
        shape,
        to=f"{order[-1]}.right",
        role=Role.GLUE_TAB,
        lands_on=order[0],
        flat_deg=flat[-1],
    )


def refuse_seam(tab: float, first_wall: float, height: float) -> None:
    """Raise StyleError for a seam tab wider than its wall or with nothing left between its ends.

    The walls are known to be large enough for the least tab.
    """
    refuse_above("options.tab", tab, first_wall, "wider than the wall that it lands on")
    refuse_above(
        "options.tab",
        tab,
        deepest_tab(height),
        f"so its tapered ends leave too little of it on a wall {height:.4g} mm high",
    )
