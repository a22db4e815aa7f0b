"""The net of a star: a base of equal sides, a wall on each, and tabs between the walls."""

from __future__ import annotations

import math
from collections.abc import Sequence

from cutlayers.construction.stars import Star
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import glue_tab, polygon


def regular(sides: int, side: float) -> Shape:
    """A regular polygon with its first side on the x axis; edges edge-1, edge-2 …"""
    corners = [(0.0, 0.0)]
    for index in range(sides - 1):
        angle = 2 * math.pi * index / sides
        x, y = corners[-1]
        corners.append((x + side * math.cos(angle), y + side * math.sin(angle)))
    return polygon(*corners, edges=tuple(f"edge-{i}" for i in range(1, sides + 1)))


def star_wall(star: Star) -> Shape:
    """Edges bottom, right, top, left; a pyramid's triangle has no top."""
    inset = (star.bottom - star.top) / 2
    if not star.top:
        return polygon(
            (0, 0),
            (star.bottom, 0),
            (star.bottom / 2, star.slant),
            edges=("bottom", "right", "left"),
        )
    return polygon(
        (0, 0),
        (star.bottom, 0),
        (star.bottom - inset, star.slant),
        (inset, star.slant),
        edges=("bottom", "right", "top", "left"),
    )


def star_tab(star: Star, depth: float, lower: float = 0.0) -> Shape:
    """A tab along a wall's seam; its x runs from the base to `lower` mm below the rim."""
    base, rim = (depth / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    return glue_tab(star.seam - star.below_tip - lower, depth, rim, base, clear=star.clear)


def wall_name(index: int) -> str:
    """The first wall is the front; the others are numbered on round the base, as drawn."""
    return "front" if index == 0 else f"wall {index + 1}"


def star_net(name: str, star: Star, base_role: Role = Role.BASE) -> Net:
    """Base and walls "front", "wall 2" …; what hangs on their rims is attached before
    `with_star_tabs`."""
    shape = regular(star.sides, star.bottom)
    net = Net.start(name, "base", shape, base_role, caliper=star.step)
    shape = star_wall(star)
    for index in range(star.sides):
        net = net.attach(
            wall_name(index),
            shape,
            to=f"base.edge-{index + 1}",
            role=Role.WALL,
            fold_deg=star.base_fold_deg,
        )
    return net


def with_star_tabs(net: Net, star: Star, tabs: Sequence[Shape]) -> Net:
    """On each wall its tab, which goes behind the next and begins at the base; it is hinged to the
    left side as a wall is drawn."""
    for index, tab in enumerate(tabs):
        # The left side runs from the rim to the base.
        side = net.panel(wall_name(index)).edge("left").chord - (star.side - star.seam)
        net = net.attach(
            f"{wall_name(index)} tab",
            tab,
            at=side - star.clear - tab.outline.segments[0].chord,
            to=f"{wall_name(index)}.left",
            role=Role.GLUE_TAB,
            fold_deg=star.side_fold_deg,
            lands_on=wall_name((index + 1) % star.sides),
        )
    return net
