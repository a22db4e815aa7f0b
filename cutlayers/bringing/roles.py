"""What the panels of a folded net are for, by where they lie.

A drawing says none of it. What lies face to face on a panel that it does not hang on is a glue tab
or, where it has round corners or belongs to a lid that has such a tuck, a flap. Common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from cutlayers.bringing.landing import LAYERS
from cutlayers.bringing.sides import reach
from cutlayers.bringing.stance import (
    LEVEL,
    RIGHT_OVER,
    STRAIGHT_ON,
    Form,
    form_of,
    ground,
    lies_flat,
    stand,
)
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role
from cutlayers.net.space import Vector, dot

OUTSIDE = 0.1
"""mm; a tab that lies so far outside of its panel is glued on its outside."""

NARROW = 0.75
"""A tab is so much less deep than its crease is long, at most."""

ABOVE = 3.0
"""mm that a roof begins above the table."""


def with_roles(net: Net) -> Net:
    """A net whose hinges have their angles, with roles, tabs that know their panels, and a
    stand."""
    form = form_of(net)
    round_ones = {name for name in form.leaf if _is_round(net.panel(name))}
    tucks = {name for name in round_ones if form.on.get(name, name) not in round_ones}
    lids = {_carrier(form.leaf[name], name) for name in tucks}
    flaps = {
        name
        for name, hinge in form.leaf.items()
        if name in tucks
        or (name in form.on and (form.on[name] in lids or _carrier(hinge, name) in lids))
    }
    tabs = {
        name: form.on[name]
        for name, hinge in form.leaf.items()
        if name in form.on and name not in flaps and _is_tab(form, net.panel(name), hinge)
    }
    walls = [panel for panel in net.panels if panel.name not in flaps and panel.name not in tabs]
    base, up = ground(form, walls, lids)
    roles = _roles(form, walls, base, lids, up)
    panels = tuple(
        replace(panel, role=Role.GLUE_TAB, lands_on=tabs[panel.name], under=_under(form, panel))
        if panel.name in tabs
        else replace(panel, role=roles.get(panel.name, Role.FLAP))
        for panel in net.panels
    )
    return replace(net, panels=panels, stand=stand(form, panels, base, up))


def _carrier(hinge: Hinge, name: str) -> str:
    return hinge.second if hinge.first == name else hinge.first


def _is_round(panel: Panel) -> bool:
    """Whether two corners of a panel are round, as those of a tuck are."""
    return sum(1 for bulge in panel.outline.bulges if bulge > 0) >= 2


def _is_tab(form: Form, panel: Panel, hinge: Hinge) -> bool:
    """Whether a panel that lies on another is narrow, and its crease runs along the other's side
    unless it goes straight on."""
    edge = hinge.edge
    if reach(panel, hinge) > NARROW * edge.chord:
        return False
    if abs(hinge.fold_deg) < STRAIGHT_ON:
        return True
    there, here = form.poses[form.on[panel.name]], form.poses[panel.name]
    ends = [there.flat(here.place(end)) for end in (edge.start, edge.end)]
    sides = form.net.panel(form.on[panel.name]).outline.segments
    return any(all(_off(side, (x, y)) <= LAYERS for x, y, _ in ends) for side in sides)


def _off(line: Segment, point: Point) -> float:
    """How far a point lies from the straight line through the ends of another."""
    ux, uy = (line.end[0] - line.start[0]) / line.chord, (line.end[1] - line.start[1]) / line.chord
    return abs(ux * (point[1] - line.start[1]) - uy * (point[0] - line.start[0]))


def _under(form: Form, panel: Panel) -> bool:
    """Whether a tab lies inside of its panel: unless it clearly lies outside."""
    there, here = form.poses[form.on[panel.name]], form.poses[panel.name]
    heights = [there.flat(here.place(point))[2] for point in panel.outline.vertices]
    return sum(heights) / len(heights) < OUTSIDE


def _roles(
    form: Form, walls: Sequence[Panel], base: Panel | None, lids: set[str], up: Vector
) -> dict[str, Role]:
    """The roles of all panels but tabs and flaps."""
    roles: dict[str, Role] = {}
    if lies_flat(form.net):
        return {panel.name: Role.WALL for panel in walls}
    table = min(
        dot(up, form.poses[panel.name].place(corner))
        for panel in ([base] if base else walls)
        for corner in panel.outline.vertices
    )
    raised: set[str] = set()
    for panel in walls:
        pose = form.poses[panel.name]
        heights = [dot(up, pose.place(point)) - table for point in panel.outline.vertices]
        rise = dot(up, pose.normal)
        within = panel.name in form.on and panel.name in form.leaf
        if rise < -1 + LEVEL:
            role = Role.FLAP if within and panel is not base else Role.BASE
        elif rise > 1 - LEVEL:
            role = Role.FLAP if within else Role.LID
        elif rise > LEVEL and min(heights) > ABOVE:
            role = Role.ROOF
        elif within and abs(form.leaf[panel.name].fold_deg) > RIGHT_OVER:
            role = Role.LINING
        else:
            role = Role.WALL
        roles[panel.name] = Role.LID if panel.name in lids and abs(rise) > 1 - LEVEL else role
        if role is Role.WALL and abs(rise) < LEVEL and min(heights) > ABOVE:
            raised.add(panel.name)
    return roles | dict.fromkeys(_upon_roofs(form, roles, raised), Role.RIDGE)


def _upon_roofs(form: Form, roles: Mapping[str, Role], raised: Collection[str]) -> set[str]:
    """Which of the walls above the table hang on roofs, or on such as do."""
    found: set[str] = set()
    reached = {name for name, role in roles.items() if role is Role.ROOF}
    while reached:
        beside = {
            name for hinge in form.net.hinges_of(reached) for name in (hinge.first, hinge.second)
        }
        reached = (beside & set(raised)) - found
        found |= reached
    return found
