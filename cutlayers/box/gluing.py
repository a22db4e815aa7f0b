"""Which glue tabs are pressed on together, and in which order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from cutlayers.box.closing import reached
from cutlayers.frozen import frozen
from cutlayers.net import Net, Panel, Role
from cutlayers.net.parts import joints
from cutlayers.net.tube import parallel

MANY = 3
"""Tabs from which on they are told in one step, each with its own panel."""


@frozen
class Gluing:
    """Tabs that are pressed on in one go, and the panels `onto` which. `seam` says that they close
    a ring of panels, `joint` that they join two parts while these are flat, `outside` that they go
    on the outside of what they land on."""

    tabs: tuple[str, ...]
    onto: tuple[str, ...]
    seam: bool
    outside: bool
    joint: bool


def gluings(net: Net) -> tuple[Gluing, ...]:
    """Glue tabs that hang together or land on one panel in one go, joints first, and rings before
    their ends."""
    tabs = {panel.name: panel for panel in net.panels if panel.role is Role.GLUE_TAB}
    between = [(h.first, h.second) for h in net.hinges if {h.first, h.second} <= set(tabs)]
    rings = {name: _makes_ring(net, panel) for name, panel in tabs.items()}
    groups: dict[str, list[Panel]] = defaultdict(list)
    for name, panel in tabs.items():
        # Tabs of one seam hang together; single tabs are pressed on panel by panel.
        seam = reached(name, between)
        groups[f"seam of {min(seam)}" if len(seam) > 1 else f"onto {panel.lands_on}"].append(panel)
    single = [name for name, group in groups.items() if len(group) == 1]
    # Many tabs that each have a panel of their own are glued round in one go.
    if len(single) >= MANY and not any(rings[groups[name][0].name] for name in single):
        groups["all round"] = [groups.pop(name)[0] for name in single]
    order = {panel.name: index for index, panel in enumerate(net.panels)}

    def rank(group: Sequence[Panel]) -> tuple[bool, bool, bool, int]:
        ring = any(rings[panel.name] for panel in group)
        covers = any(net.panel(p.lands_on or p.name).role in (Role.LID, Role.FLAP) for p in group)
        joint = group[0].name in net.joints
        return (not joint, not ring, covers, min(order[panel.name] for panel in group))

    return tuple(
        Gluing(
            tuple(panel.name for panel in group),
            tuple(dict.fromkeys(panel.lands_on or "" for panel in group)),
            any(rings[panel.name] for panel in group),
            not group[0].under,
            group[0].name in net.joints,
        )
        for group in sorted(groups.values(), key=rank)
    )


def _makes_ring(net: Net, tab: Panel) -> bool:
    """Whether a tab joins two ends of one strip, whose creases are parallel."""
    if tab.name in net.joints:
        return False
    for first in net.hinges_of([tab.name]):
        strip = [(h.first, h.second) for h in net.hinges if parallel(h, first)]
        if tab.lands_on in reached(tab.name, [*strip, *joints(net)]):
            return True
    return False
