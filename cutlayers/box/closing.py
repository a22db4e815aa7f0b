"""Which panels of a net swing free once the glue holds, and in which order they close it.

What hangs together in rings of hinges and glue keeps its place. Whatever is left hangs on it by one
hinge: a *closure*, a lid with its tuck, a dust flap, a wall that nothing holds. Closures that come
to lie on each other close one *end*; what lies inside goes in first.

This module needs shapely; whoever need not measure does not import it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from graphlib import CycleError, TopologicalSorter
from itertools import combinations

from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import common
from cutlayers.net import Hinge, Net
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import Face, facing, height, seen_from

NEAR = 3.0
"""mm; panels that end up no farther apart lie on each other, or four calipers, if that is more."""

LEAST_OVERLAP = 1.0
"""mm² from which on panels lie on each other."""

LEVEL = 0.01
"""mm; panels no farther apart share a plane, and their layers say which is inside."""

SAME_RIM = 3.0
"""mm beside a line, within which creases belong to one rim: more than tabs and flaps step."""


Link = tuple[str, str]
"""Two panels that hang together."""


@frozen
class Closure:
    """Panels that swing together; `panels` begin with the one that hangs on what keeps its place,
    by `hinge`."""

    panels: tuple[str, ...]
    hinge: Hinge

    @property
    def first(self) -> str:
        """The panel that hangs on what keeps its place."""
        return self.panels[0]


@frozen
class End:
    """Closures of one opening in the order in which they close it, those of one group in any order.

    `interleaved` says that they go round in a ring, each on the one before and under the next.
    """

    groups: tuple[tuple[Closure, ...], ...]
    interleaved: bool = False

    @property
    def carries(self) -> bool:
        """Whether anything hangs on what swings."""
        return any(len(closure.panels) > 1 for closure in self.closures)

    @property
    def closures(self) -> tuple[Closure, ...]:
        """All of them, as they close."""
        return tuple(closure for group in self.groups for closure in group)


def held(net: Net) -> frozenset[str]:
    """The panels that keep their place once the glue holds: whatever hangs together with the root
    in rings, and the root itself."""
    return frozenset(reached(net.root.name, _in_rings(_links(net))))


def unglued(net: Net) -> Net:
    """What glue will hold, before it does, and without what swings afterwards; joints hold."""
    free = {name for closure in closures(net) for name in closure.panels}
    return replace(
        net,
        panels=tuple(
            p if p.name in net.joints else replace(p, lands_on=None)
            for p in net.panels
            if p.name not in free
        ),
        hinges=tuple(hinge for hinge in net.hinges if not {hinge.first, hinge.second} & free),
    )


def closures(net: Net) -> tuple[Closure, ...]:
    """What swings free, in the order of the panels."""
    still, links = held(net), _links(net)
    found = []
    for hinge in net.hinges:
        for near, far in ((hinge.first, hinge.second), (hinge.second, hinge.first)):
            if near in still and far not in still:
                beyond = [link for link in links if near not in link]
                found.append(Closure(tuple(reached(far, beyond)), hinge))
    return tuple(found)


def ends(net: Net, box: Assembly | None) -> tuple[End, ...]:
    """The openings of a net, the lowest of the folded box first.

    Without a folded box, whose folds are curved, closures belong together whose creases lie in a
    line, and close in the order of their layers and of the panels.
    """
    free = closures(net)
    if box is None:
        groups = _connected(free, lambda one, other: _same_rim(one.hinge, other.hinge))
        rims = sorted(groups, key=lambda group: min(each.hinge.edge.start[1] for each in group))
        return tuple(End(tuple((each,) for each in group)) for group in rims)
    touching = _touching(net, box)
    groups = _connected(
        free,
        lambda one, other: bool(
            touching.meet(one.panels, other.panels)
            or _engaged(net, one, other)
            or _engaged(net, other, one)
        ),
    )

    def middle(group: Sequence[Closure]) -> int:
        # In steps, lest the last bits say which of two ends alike is lower.
        names = [name for each in group for name in each.panels]
        return round(sum(map(touching.level, names)) / len(names) / LEVEL)

    return tuple(_in_order(net, group, touching) for group in sorted(groups, key=middle))


def behind(net: Net, box: Assembly, closure: Closure) -> tuple[str, ...]:
    """The panels that keep their place and behind which a closure's tucks end up."""
    touching = _touching(net, box)
    still = held(net)
    outer = {
        name
        for name, _ in touching.inside(sorted(still), closure.panels[1:])
        if net.panel(name).lands_on is None
    }
    return tuple(panel.name for panel in net.panels if panel.name in outer)


def _touching(net: Net, box: Assembly) -> _Touching:
    faces = {face.name: face for face in box.faces if face.net == net.name}
    return _Touching(faces, max(NEAR, 4.0 * net.caliper))


def _links(net: Net) -> list[Link]:
    """Hinges, and tabs with what they are glued to."""
    glued = [(panel.name, panel.lands_on) for panel in net.panels if panel.lands_on is not None]
    return [*((hinge.first, hinge.second) for hinge in net.hinges), *glued]


def _in_rings(links: Sequence[Link]) -> list[Link]:
    """The links whose panels still hang together without them: all but bridges.

    Tarjan's way to find these (1974): a walk in depth numbers the panels, and a link is a bridge
    where nothing beyond it leads to a lower number by another one.
    """
    beside: dict[str, list[tuple[int, str]]] = {}
    for at, (one, other) in enumerate(links):
        beside.setdefault(one, []).append((at, other))
        beside.setdefault(other, []).append((at, one))
    number: dict[str, int] = {}
    came: dict[str, int] = {}
    for start in beside:
        waiting = [(start, -1)]
        while waiting:
            here, link = waiting.pop()
            if here not in number:
                number[here], came[here] = len(number), link
                waiting += [(far, at) for at, far in beside[here] if far not in number]
    low = dict(number)
    for here in reversed(number):
        beyond = [low[far] for at, far in beside[here] if at != came[here]]
        low[here] = min([low[here], *beyond])
    bridges = {came[here] for here in number if low[here] == number[here]}
    return [link for at, link in enumerate(links) if at not in bridges]


def reached(start: str, links: Iterable[Link]) -> list[str]:
    """The panels that hang together with one, nearest first."""
    beside: dict[str, list[str]] = {}
    for one, other in links:
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    found = [start]
    for here in found:
        found += [name for name in dict.fromkeys(beside.get(here, ())) if name not in found]
    return found


def _connected(
    free: Sequence[Closure], related: Callable[[Closure, Closure], bool]
) -> list[tuple[Closure, ...]]:
    """Closures in groups of those that are related, each group in the order given."""
    links = [
        (one.first, other.first) for one, other in combinations(free, 2) if related(one, other)
    ]
    groups = dict.fromkeys(frozenset(reached(each.first, links)) for each in free)
    return [tuple(each for each in free if each.first in group) for group in groups]


def _same_rim(one: Hinge, other: Hinge) -> bool:
    (ax, ay), (bx, by) = one.edge.start, one.edge.end
    long = one.edge.chord
    return all(
        abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long <= SAME_RIM
        for x, y in (other.edge.start, other.edge.end)
    )


def _engaged(net: Net, one: Closure, other: Closure) -> bool:
    """Whether a tongue of the first goes into the second."""
    held = [net.panel(name).engages for name in one.panels]
    return any(each is not None and each.panel in other.panels for each in held)


def _in_order(net: Net, group: tuple[Closure, ...], touching: _Touching) -> End:
    inner: dict[Closure, set[Closure]] = {each: set() for each in group}
    meetings = dict.fromkeys(group, 0)
    for one, other in combinations(group, 2):
        for closure in (one, other) if touching.meet(one.panels, other.panels) else ():
            meetings[closure] += 1
        for outer, within in ((one, other), (other, one)):
            # Part of a tongue lies inside of what it goes into, and that closes first all the same.
            if _engaged(net, outer, within) or (
                not _engaged(net, within, outer)
                and any(touching.inside(outer.panels, within.panels))
            ):
                inner[outer].add(within)
    try:
        waiting = TopologicalSorter(inner)
        waiting.prepare()
    except CycleError:
        return End((group,), interleaved=True)
    groups = []
    while waiting.is_active():
        ready = waiting.get_ready()
        groups.append(tuple(each for each in group if each in ready))
        waiting.done(*ready)
    alike = len({touching.role(each.first) for each in group}) == 1
    ring = len(group) > 2 and alike and all(count > 1 for count in meetings.values())
    return End(tuple(groups), interleaved=ring and not any(len(each.panels) > 1 for each in group))


class _Touching:
    """Faces of a folded net that may lie on each other, `near` mm apart at most."""

    def __init__(self, faces: Mapping[str, Face], near: float) -> None:
        self._faces, self._near = faces, near

    def level(self, name: str) -> float:
        """Twice the height of the middle of a panel, in mm."""
        return self._faces[name].low[2] + self._faces[name].high[2]

    def role(self, name: str) -> object:
        """What a panel is for."""
        return self._faces[name].panel.role

    def pairs(self, some: Iterable[str], others: Sequence[str]) -> Iterator[tuple[Face, Face]]:
        """Faces of two sets that lie on each other."""
        for one in some:
            for other in others:
                pair = self._faces[one], self._faces[other]
                if self._on_each_other(*pair):
                    yield pair

    def meet(self, some: Iterable[str], others: Sequence[str]) -> bool:
        """Whether any do."""
        return next(self.pairs(some, others), None) is not None

    def inside(self, some: Iterable[str], others: Sequence[str]) -> Iterator[tuple[str, str]]:
        """Names of pairs of which the second lies on the inside of the first."""
        for one, other in self.pairs(some, others):
            if facing(one, other) > 0:
                above = height(one, other)
                if abs(above) <= LEVEL:
                    above = one.panel.layer - other.panel.layer
                if above < 0:
                    yield one.name, other.name

    def _on_each_other(self, one: Face, other: Face) -> bool:
        return bool(
            facing(one, other)
            and abs(height(one, other)) <= self._near
            and common(one.shape, seen_from(one.pose, other.pose, other.shape)).area > LEAST_OVERLAP
        )
