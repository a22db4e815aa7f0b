"""What the panels of a folded net are for, by where they lie, and how the box stands.

A drawing says none of it. What lies face to face on a panel that it does not hang on is a glue tab
or, where it has round corners or belongs to a lid that has such a tuck, a flap. A box stands on the
panel that has walls on all its sides, or lies opposite to its opening, or closes the lower end of a
tube; anything else on its largest panel. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.bringing.landing import LAYERS, landings, shapes_of
from cutlayers.bringing.meeting_angles import tree_of
from cutlayers.bringing.sides import reach
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role, Stand
from cutlayers.net.space import Pose, Vector, dot, moved, tidy

LEVEL = math.sin(math.radians(3.0))
"""Sine of how far a level panel leans at most."""

OPEN = 0.1
"""Of the area of all walls: so much of it faces one way without anything opposite in an open
box."""

OUTSIDE = 0.1
"""mm; a tab that lies so far outside of its panel is glued on its outside."""

NARROW = 0.75
"""A tab is so much less deep than its crease is long, at most."""

STRAIGHT_ON = 10.0
"""Degrees; a tab that folds less than this goes straight on from its panel onto the next."""

ALL_ROUND = 0.9
"""Share of a border that creases take at least where walls stand all round."""

ALIKE = 0.95
"""Share of the largest wall's area that makes another one as large."""

ABOVE = 3.0
"""mm that a roof begins above the table."""


@frozen
class _Form:
    """A folded net, what lies on what, and which panels hang on one crease alone."""

    net: Net
    poses: Mapping[str, Pose]
    on: Mapping[str, str]
    leaf: Mapping[str, Hinge]


def with_roles(net: Net) -> Net:
    """A net whose hinges have their angles, with roles, tabs that know their panels, and a
    stand."""
    form = _form(net)
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
    base = _base(form, walls, lids)
    up = _back(form.poses[base.name].normal)
    roles = _roles(form, walls, base, lids, up)
    panels = tuple(
        replace(panel, role=Role.GLUE_TAB, lands_on=tabs[panel.name], under=_under(form, panel))
        if panel.name in tabs
        else replace(panel, role=roles.get(panel.name, Role.FLAP))
        for panel in net.panels
    )
    return replace(net, panels=panels, stand=_stand(form, panels, base, up))


def _form(net: Net) -> _Form:
    poses = tree_of(net).poses([hinge.fold_deg for hinge in net.hinges])
    on: dict[str, str] = {}
    shares: dict[str, float] = {}
    for one, other, share in landings(shapes_of(net), poses):
        if share > shares.get(one, 0.0):
            on[one], shares[one] = other, share
    hanging: dict[str, list[Hinge]] = {panel.name: [] for panel in net.panels}
    for hinge in net.hinges:
        hanging[hinge.first].append(hinge)
        hanging[hinge.second].append(hinge)
    leaf = {name: hinges[0] for name, hinges in hanging.items() if len(hinges) == 1}
    return _Form(net, poses, on, leaf)


def _carrier(hinge: Hinge, name: str) -> str:
    return hinge.second if hinge.first == name else hinge.first


def _is_round(panel: Panel) -> bool:
    """Whether two corners of a panel are round, as those of a tuck are."""
    return sum(1 for bulge in panel.outline.bulges if bulge > 0) >= 2


def _is_tab(form: _Form, panel: Panel, hinge: Hinge) -> bool:
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


def _under(form: _Form, panel: Panel) -> bool:
    """Whether a tab lies inside of its panel: unless it clearly lies outside."""
    there, here = form.poses[form.on[panel.name]], form.poses[panel.name]
    heights = [there.flat(here.place(point))[2] for point in panel.outline.vertices]
    return sum(heights) / len(heights) < OUTSIDE


def _base(form: _Form, walls: Sequence[Panel], lids: set[str]) -> Panel:
    """The panel that the box stands on."""
    whole = sum(panel.outline.area for panel in walls)
    out = (0.0, 0.0, 0.0)
    for panel in walls:
        if panel.name not in form.on:
            out = moved(out, form.poses[panel.name].normal, panel.outline.area)
    size = math.sqrt(dot(out, out))
    middle = [panel for panel in walls if _is_carried_by(form, panel, walls)]
    if middle:
        found = middle
    elif size > OPEN * whole:
        found = _facing(form, walls, (out[0] / size, out[1] / size, out[2] / size))
    else:
        found = _ends(form, walls, lids)
    return max(found or walls or form.net.panels, key=lambda panel: panel.outline.area)


def _facing(form: _Form, panels: Sequence[Panel], way: Vector) -> list[Panel]:
    return [each for each in panels if dot(form.poses[each.name].normal, way) > 1 - LEVEL]


def _is_carried_by(form: _Form, panel: Panel, walls: Sequence[Panel]) -> bool:
    """Whether a panel has a wall on each of its sides, as the base of a tray has."""
    names = {each.name for each in walls}
    beside = [
        hinge
        for hinge in form.net.hinges_of([panel.name])
        if {hinge.first, hinge.second} <= names and abs(hinge.fold_deg) > STRAIGHT_ON
    ]
    creased = sum(hinge.edge.chord for hinge in beside)
    return len(beside) >= 3 and creased > ALL_ROUND * panel.outline.length


def _ends(form: _Form, walls: Sequence[Panel], lids: set[str]) -> list[Panel]:
    """What closes one end of a tube: the end that is not a lid, or lies lower on the sheet."""
    names = {each.name for each in walls} - lids
    axes = []
    for hinge in form.net.hinges:
        if {hinge.first, hinge.second} <= names:
            axes.append(form.poses[hinge.first].direction((*hinge.edge.direction_at(0.5), 0.0)))
    along = {
        index: [axis for axis in axes if abs(dot(axis, each)) > 1 - LEVEL]
        for index, each in enumerate(axes)
    }
    best = max(along, key=lambda index: len(along[index]), default=None)
    if best is None:
        return []
    ends = [*_facing(form, walls, axes[best]), *_facing(form, walls, _back(axes[best]))]
    if not ends:
        return []
    lowest = min(ends, key=lambda each: (each.name in lids, _height(each)))
    return _facing(form, ends, form.poses[lowest.name].normal)


def _height(panel: Panel) -> float:
    """How high the middle of a panel lies on the sheet."""
    _, bottom, _, top = panel.outline.bounds
    return (bottom + top) / 2


def _back(way: Vector) -> Vector:
    return (-way[0], -way[1], -way[2])


def _roles(
    form: _Form, walls: Sequence[Panel], base: Panel, lids: set[str], up: Vector
) -> dict[str, Role]:
    """The roles of all panels but tabs and flaps."""
    table = dot(up, form.poses[base.name].place(base.outline.start))
    roles: dict[str, Role] = {}
    if _lies_flat(form.net):
        return {panel.name: Role.WALL for panel in walls}
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
        elif within and abs(form.leaf[panel.name].fold_deg) > 170.0:
            role = Role.LINING
        else:
            role = Role.WALL
        roles[panel.name] = Role.LID if panel.name in lids and abs(rise) > 1 - LEVEL else role
    return roles


def _lies_flat(net: Net) -> bool:
    """Whether all panels lie in one plane: a tag, a card, an envelope."""
    return all(abs(math.remainder(hinge.fold_deg, 180.0)) < STRAIGHT_ON for hinge in net.hinges)


def _stand(form: _Form, panels: Sequence[Panel], base: Panel, up: Vector) -> Stand:
    """A wall in front, the largest, on which no lid hangs; a leaning one where none is upright."""
    poses = form.poses
    lids = {panel.name for panel in panels if panel.role in (Role.LID, Role.GLUE_TAB)}
    hung = {
        name
        for hinge in form.net.hinges
        for name, other in ((hinge.first, hinge.second), (hinge.second, hinge.first))
        if other in lids
    }
    shown = [panel for panel in panels if panel.role in (Role.WALL, Role.ROOF)]
    still = [panel for panel in shown if abs(dot(up, poses[panel.name].normal)) < LEVEL]
    if not shown or _lies_flat(form.net):
        return Stand(base.name)
    large = ALIKE * max(panel.outline.area for panel in still or shown)
    front = min(
        (panel for panel in still or shown if panel.outline.area >= large),
        key=lambda panel: (panel.name in hung, _height(panel)),
    )
    if not still:
        return Stand(front.name, on=base.name)
    pose = poses[front.name]
    return Stand(front.name, up=tidy((dot(pose.right, up), dot(pose.up, up))))
