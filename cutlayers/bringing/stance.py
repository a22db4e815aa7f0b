"""How a folded net stands: on which panel or opening, and which side to the front.

A box stands on the panel that has walls on all its sides, or lies opposite to its opening, or
closes the lower end of a tube; on its opening, where only a roof lies opposite; anything else on
its largest panel. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Container, Mapping, Sequence

from cutlayers.bringing.landing import landings, shapes_of
from cutlayers.bringing.meeting_angles import tree_of
from cutlayers.frozen import frozen
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge, Panel, Role, Stand
from cutlayers.net.space import Pose, Vector, dot, moved, tidy

LEVEL = math.sin(math.radians(3.0))
"""Sine of how far a level panel leans at most."""

OPEN = 0.1
"""Of the area of all walls: so much of it faces one way without anything opposite in an open
box."""

ASTRAY = math.cos(math.radians(30.0))
"""Cosine of how far the way that an opening faces may miss that of the walls, since layers that lie
on each other count or do not."""

STRAIGHT_ON = 10.0
"""Degrees; a tab that folds less than this goes straight on from its panel onto the next."""

RIGHT_OVER = 170.0
"""Degrees; a panel that folds more than this lies on the one that it hangs on."""

ALL_ROUND = 0.9
"""Share of a border that creases take at least where walls stand all round."""

ALIKE = 0.95
"""Share of the largest wall's area that makes another one as large."""

LEAST_ROUND = 3
"""Walls that stand round a base or an opening, at least."""


@frozen
class Form:
    """A folded net, what lies on what, and which panels hang on one crease alone."""

    net: Net
    poses: Mapping[str, Pose]
    on: Mapping[str, str]
    leaf: Mapping[str, Hinge]


def form_of(net: Net) -> Form:
    """A net whose hinges have their angles, folded up."""
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
    return Form(net, poses, on, leaf)


def ground(form: Form, walls: Sequence[Panel], lids: set[str]) -> tuple[Panel | None, Vector]:
    """The panel that the box stands on, and the way up. None is there where walls stand on the rim
    of an opening and lean together opposite to it, as those of a lid with a gable do."""
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
        way = (out[0] / size, out[1] / size, out[2] / size)
        found = _facing(form, walls, way)
        up = None if found else _along_walls(form, walls, way)
        if up is not None:
            return None, up
    else:
        found = _ends(form, walls, lids)
    base = max(found or walls or form.net.panels, key=lambda panel: panel.outline.area)
    return base, _back(form.poses[base.name].normal)


def _facing(form: Form, panels: Sequence[Panel], way: Vector) -> list[Panel]:
    return [each for each in panels if dot(form.poses[each.name].normal, way) > 1 - LEVEL]


def _along_walls(form: Form, walls: Sequence[Panel], way: Vector) -> Vector | None:
    """The way nearest to one in which creases run between walls that stand round an opening."""
    nearest = max(_axes(form, {each.name for each in walls}), key=lambda axis: abs(dot(axis, way)))
    round_it = [each for each in walls if abs(dot(form.poses[each.name].normal, nearest)) < LEVEL]
    if abs(dot(nearest, way)) < ASTRAY or len(round_it) < LEAST_ROUND:
        return None
    return nearest if dot(nearest, way) > 0 else _back(nearest)


def _axes(form: Form, names: Container[str]) -> list[Vector]:
    """The directions in space of creases between panels of these names."""
    return [
        form.poses[hinge.first].direction((*hinge.edge.direction_at(0.5), 0.0))
        for hinge in form.net.hinges
        if hinge.first in names and hinge.second in names
    ]


def _is_carried_by(form: Form, panel: Panel, walls: Sequence[Panel]) -> bool:
    """Whether a wall stands up from each side of a panel, as from the base of a tray."""
    names = {each.name for each in walls}
    beside = [
        hinge
        for hinge in form.net.hinges_of([panel.name])
        if {hinge.first, hinge.second} <= names and STRAIGHT_ON < abs(hinge.fold_deg) < RIGHT_OVER
    ]
    creased = sum(hinge.edge.chord for hinge in beside)
    one_way = len({hinge.fold_deg > 0 for hinge in beside}) == 1
    return len(beside) >= LEAST_ROUND and one_way and creased > ALL_ROUND * panel.outline.length


def _ends(form: Form, walls: Sequence[Panel], lids: set[str]) -> list[Panel]:
    """What closes one end of a tube: the end that is not a lid, or lies lower on the sheet."""
    names = {each.name for each in walls} - lids
    axes = _axes(form, names)
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


def lies_flat(net: Net) -> bool:
    """Whether all panels lie in one plane: a tag, a card, an envelope."""
    return all(abs(math.remainder(hinge.fold_deg, 180.0)) < STRAIGHT_ON for hinge in net.hinges)


def stand(form: Form, panels: Sequence[Panel], base: Panel | None, up: Vector) -> Stand:
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
    if base and (not shown or lies_flat(form.net)):
        return Stand(base.name)
    large = ALIKE * max(panel.outline.area for panel in still or shown)
    front = min(
        (panel for panel in still or shown if panel.outline.area >= large),
        key=lambda panel: (panel.name in hung, _height(panel)),
    )
    if base and not still:
        return Stand(front.name, on=base.name)
    pose = poses[front.name]
    return Stand(front.name, up=tidy((dot(pose.right, up), dot(pose.up, up))))
