"""A net in several parts: blanks that are glued to one before anything is folded.

Panels that hinges connect are one *part*, and one blank. All parts are drawn in one plane where
they lie once they are joined, so the *joint's* tabs of one cover some of the panels of another that
they are glued on. Whatever is folded, printed across or checked is the whole net; what is cut are
its parts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge
from cutlayers.telling.errors import NetError


def parts(net: Net) -> tuple[Net, ...]:
    """The blanks of a net, each with the net's name, that of its root first; the net itself where
    it is in one. A part stands nowhere by itself and has no facets."""
    if not net.joints:
        return (net,)
    numbers = _part_numbers(net)
    return tuple(
        replace(
            net,
            panels=tuple(panel for panel in net.panels if numbers[panel.name] == part),
            hinges=tuple(hinge for hinge in net.hinges if numbers[hinge.first] == part),
            stand=None,
            facets=None,
            joints=(),
        )
        for part in range(max(numbers.values()) + 1)
    )


def joints(net: Net) -> tuple[tuple[str, str], ...]:
    """Each tab that joins two parts, and the panel that it is glued on."""
    return tuple((name, net.panel(name).lands_on or name) for name in net.joints)


def in_order(net: Net, changed: Sequence[Net]) -> Net:
    """The net with its parts as they have been changed, its panels and hinges in their old order.

    Hinges are told by their panels: parts have as many between two as the net has.
    """
    panels = {panel.name: panel for part in changed for panel in part.panels}
    hinges: dict[tuple[str, str], list[Hinge]] = {}
    for part in changed:
        for hinge in part.hinges:
            hinges.setdefault((hinge.first, hinge.second), []).append(hinge)
    return replace(
        net,
        panels=tuple(panels[panel.name] for panel in net.panels),
        hinges=tuple(hinges[hinge.first, hinge.second].pop(0) for hinge in net.hinges),
    )


def cut_apart(net: Net, one: str, other: str) -> Net:
    """The net without the hinges between two panels: what hangs on the one is to be joined to what
    hangs on the other by tabs. Raises NetError where there are none."""
    left = tuple(hinge for hinge in net.hinges if {hinge.first, hinge.second} != {one, other})
    if len(left) == len(net.hinges):
        raise NetError(f"net {net.name!r} has no hinge between {one!r} and {other!r}")
    return replace(net, hinges=left)


def with_part_moved(net: Net, panel: str, by: Point) -> Net:
    """The net with the part that a panel hangs in moved in the plane."""
    numbers = _part_numbers(net)
    mine = {name for name, number in numbers.items() if number == numbers[panel]}
    moved = net.transformed(Transform.translation(*by))
    return replace(
        net,
        panels=tuple(
            after if after.name in mine else before
            for before, after in zip(net.panels, moved.panels, strict=True)
        ),
        hinges=tuple(
            after if after.first in mine else before
            for before, after in zip(net.hinges, moved.hinges, strict=True)
        ),
    )


def joined(net: Net, *tabs: str) -> Net:
    """The net with tabs that join its parts, each drawn where it is glued. Raises NetError for one
    that lands nowhere."""
    for name in tabs:
        if net.panel(name).lands_on is None:
            raise NetError(f"tab {name!r} of net {net.name!r} is glued on nothing")
    return replace(net, joints=(*net.joints, *tabs))


def _part_numbers(net: Net) -> dict[str, int]:
    """The part that each panel is in, counted in the order of the panels."""
    beside: dict[str, list[str]] = {panel.name: [] for panel in net.panels}
    for hinge in net.hinges:
        beside[hinge.first].append(hinge.second)
        beside[hinge.second].append(hinge.first)
    found: dict[str, int] = {}
    count = 0
    for panel in net.panels:
        if panel.name in found:
            continue
        waiting = [panel.name]
        found[panel.name] = count
        while waiting:
            for name in beside[waiting.pop()]:
                if name not in found:
                    found[name] = count
                    waiting.append(name)
        count += 1
    return found
