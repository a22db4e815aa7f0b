"""Nets of our own styles as a drawing from outside gives them: outlines and creases alone."""

from __future__ import annotations

import math

from cutlayers.bringing.panels import FlatNet
from cutlayers.construction.card import Card
from cutlayers.construction.styles import styles
from cutlayers.net import Net
from cutlayers.net.panel import Hinge, Panel, Role


def nets(caliper: float) -> dict[str, Net]:
    """The nets of all styles at the size of their examples, as "style: net"."""
    return {
        f"{style.name}: {net.name}": net
        for style in styles()
        for net in style.build(style.dimensions(), Card(caliper))
    }


def stripped(net: Net) -> FlatNet:
    """A net without angles, roles, stand and what its panels land on; its panels are numbered."""
    names = {panel.name: f"panel {number}" for number, panel in enumerate(net.panels, 1)}
    panels = tuple(
        Panel(names[each.name], Role.WALL, each.outline, each.edges, each.features)
        for each in net.panels
    )
    hinges = tuple(
        Hinge(names[each.first], names[each.second], each.edge, 0.0, each.operation)
        for each in net.hinges
    )
    return FlatNet(Net(net.name, panels, hinges), (None,) * len(hinges))


def same_angles(net: Net, found: Net, slack_deg: float = 0.05) -> int:
    """How many hinges have the angle that the style gives them, all mountains and valleys swapped
    if that fits better: which side is out no drawing says."""

    def alike(way: int) -> int:
        return sum(
            abs(math.remainder(one.fold_deg - way * other.fold_deg, 360.0)) < slack_deg
            for one, other in zip(net.hinges, found.hinges, strict=True)
        )

    return max(alike(1), alike(-1))
