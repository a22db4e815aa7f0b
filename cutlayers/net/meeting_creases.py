"""Creases that meet in a point, in card that has thickness.

Where four or more creases meet in a point, as at the corner of a gusset, sheets without thickness
fold up about that point. Card does not: a panel that lies a caliper inside of another must turn
about a crease that stands elsewhere. So the creases of a net drawn for sheets are moved in
parallel, each by as little as will do, until the net closes with every panel on its layer; and
where they no longer meet in a point a small hole is cut that takes the point away.

The angles stay, and with them all turns in space. A crease moved by d along n, at right angles to
it in the sheet, moves what it carries by d times the difference of n as its two panels turn it. So
what closes the net are linear equations: three for each loop of hinges, and one for each glued
tab, whose middle lies a caliper beside that of what it lands on. A crease folded right over is two,
as far apart as its panels lie (`folds_over`). Of the solutions the smallest is taken, in the sense
of least squares, with those creases kept where they are that hold sizes which somebody asked for.

Source: worked by hand as above; rigid motions and their products.

This module needs numpy; whoever has no such net does not import it.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT, same_place, shared_edge
from cutlayers.net.folding import folding_order, poses_along
from cutlayers.net.folds_over import beside, shares, strip_between
from cutlayers.net.model import Hinge, Net, Panel
from cutlayers.net.overlaps import fraction_on
from cutlayers.net.space import Pose, Vector, minus, turned_about
from cutlayers.telling.errors import NetError

Pair = tuple[str, str]
"""The names of a hinge's two panels, in its order."""

Array = np.ndarray

CLOSES = 1e-6
"""mm by which a net may miss closing."""

LEAST_MEETING = 4
"""Creases that meet in a point inside of a net, at least: three of them fold up to no corner."""


def in_card(
    net: Net,
    caliper: float,
    *,
    keep: Collection[Pair] = (),
    apart: Mapping[Pair, int] | None = None,
    loose: Collection[Pair] = (),
    eased: float = 0.0,
) -> Net:
    """A net drawn for sheets, in card of that caliper in mm.

    The creases of `keep` stay where they are. Two panels folded right over lie one caliper apart,
    or as many as `apart` says; those of `loose` as far as the others make it. `eased` is by how
    much farther apart in mm they lie than the strip between them is wide. Raises NetError where the
    net cannot be closed so. Without a caliper the net is given back as it is.
    """
    if caliper <= COINCIDENT:
        return net
    system = _System(net, caliper, dict(apart or {}), tuple(loose))
    moves = system.solved(frozenset(keep), eased)
    creases: dict[str, list[tuple[Segment, float]]] = {panel.name: [] for panel in net.panels}
    for hinge, move in zip(net.hinges, moves, strict=True):
        creases[hinge.first].append((hinge.edge.reversed(), move.by))
        creases[hinge.second].append((hinge.edge, -move.by))
    levels = _level_corners(net, moves)
    moved = replace(
        net,
        caliper=caliper,
        eased=eased,
        panels=tuple(
            _with_edges_moved(panel, creases[panel.name], levels.get(panel.name, {}))
            for panel in net.panels
        ),
        hinges=tuple(
            replace(hinge, edge=beside(hinge.edge, move.by), strip=move.strip, eased=move.eased)
            for hinge, move in zip(net.hinges, moves, strict=True)
        ),
    )
    return _without_stubs(_without_points(net, moved))


@frozen
class _Move:
    """By how much a crease moves to its left, the strip of one that is folded right over, and how
    much farther apart its panels lie."""

    by: float
    strip: float = 0.0
    eased: float = 0.0


@frozen(slots=False)
class _System:
    """What a net's panels are moved by in space, as linear functions of how far its creases are
    moved in the sheet, and how much wider loose strips are."""

    net: Net
    caliper: float
    apart: Mapping[Pair, int]
    loose: tuple[Pair, ...]

    @cached_property
    def places(self) -> dict[int, int]:
        """The column of each hinge, by its identity."""
        return {id(hinge): index for index, hinge in enumerate(self.net.hinges)}

    def solved(self, keep: frozenset[Pair], eased: float) -> tuple[_Move, ...]:
        """The smallest moves that close the net."""
        matrix, wanted = self._equations()
        pairs = [(hinge.first, hinge.second) for hinge in self.net.hinges]
        free = [index for index, pair in enumerate(pairs) if pair not in keep]
        free += range(len(pairs), len(pairs) + len(self.loose))
        found, *_ = np.linalg.lstsq(matrix[:, free], wanted, rcond=1e-9)
        missed = float(np.abs(matrix[:, free] @ found - wanted).max(initial=0.0))
        if missed > CLOSES:
            raise NetError(
                f"net {self.net.name!r} cannot be closed in card of {self.caliper:g} mm: "
                f"it misses by {missed:.3g} mm"
            )
        moves = np.zeros(matrix.shape[1])
        moves[free] = found
        made = []
        for index, (hinge, pair) in enumerate(zip(self.net.hinges, pairs, strict=True)):
            lie = self._strip(hinge)
            if pair in self.loose:
                lie += float(moves[len(pairs) + self.loose.index(pair)])
            strip = strip_between(lie, eased)
            # A strip's line is its middle, or the first panel's edge, as `folds_over` has it.
            here, _ = shares(strip)
            made.append(_Move(float(moves[index]) + (strip / 2 - here), strip, lie - strip))
        return tuple(made)

    def _strip(self, hinge: Hinge) -> float:
        if abs(hinge.fold_deg) != 180:
            return 0.0
        return self.caliper * self.apart.get((hinge.first, hinge.second), 1)

    def _equations(self) -> tuple[Array, Array]:
        """Coefficients and right sides: three for each loop, one for each glued tab."""
        order, loops = folding_order(self.net)
        poses = poses_along(self.net, order, 1.0, Pose())
        columns = len(self.net.hinges) + len(self.loose)
        root = self.net.root.name
        carried: dict[str, tuple[Array, Array]] = {
            root: (np.zeros((3, columns)), np.zeros(3)),
        }
        for carrier, name, hinge in order:
            carried[name] = self._over(carried[carrier], hinge, carrier, poses[carrier])
        rows: list[Array] = []
        wanted: list[float] = []
        for hinge in loops:
            pose = poses[hinge.first]
            by_hinge = self._over(carried[hinge.first], hinge, hinge.first, pose)
            by_tree = carried[hinge.second]
            middle = hinge.edge.point_at(0.5)
            miss = minus(pose.place(middle), poses[hinge.second].place(middle))
            rows += list(by_hinge[0] - by_tree[0])
            wanted += list(by_tree[1] - by_hinge[1] - np.array(miss))
        for panel in self.net.panels:
            if panel.lands_on is None:
                continue
            target = poses[panel.lands_on]
            normal = np.array(target.normal)
            stands = target.flat(poses[panel.name].place(panel.outline.start))[2]
            (by, fixed), (target_by, target_fixed) = carried[panel.name], carried[panel.lands_on]
            rows.append(normal @ (by - target_by))
            beyond = -self.caliper if panel.under else self.caliper
            wanted.append(float(beyond - stands - normal @ (fixed - target_fixed)))
        return np.array(rows).reshape(-1, columns), np.array(wanted)

    def _over(
        self, carrier: tuple[Array, Array], hinge: Hinge, name: str, pose: Pose
    ) -> tuple[Array, Array]:
        """How what lies beyond a hinge of a carrier moves in space."""
        edge = hinge.edge if hinge.first == name else hinge.edge.reversed()
        ux, uy = edge.direction_at(0.5)
        left: Vector = (-uy, ux, 0.0)
        here = np.array(pose.direction(left))
        half, full = (
            np.array(
                pose.after(turned_about(edge.start, (ux, uy), share * hinge.fold_deg)).direction(
                    left
                )
            )
            for share in (0.5, 1.0)
        )
        by, fixed = carrier[0].copy(), carrier[1].copy()
        by[:, self.places[id(hinge)]] += (here - full) * (1 if hinge.first == name else -1)
        across = (here + full) / 2 - half
        fixed += self._strip(hinge) * across
        if (hinge.first, hinge.second) in self.loose:
            by[:, len(self.net.hinges) + self.loose.index((hinge.first, hinge.second))] += across
        return by, fixed


def _level_corners(net: Net, moves: Sequence[_Move]) -> dict[str, dict[int, float]]:
    """How far slanting free edges move to their left, by panel and number of the edge.

    Where free edges of two panels meet at the end of a crease they still do once it has moved:
    beside one that stands square on the crease the other goes along.
    """
    found: dict[str, dict[int, float]] = {}
    for hinge, move in zip(net.hinges, moves, strict=True):
        ux, uy = hinge.edge.direction_at(0.5)
        # A moved crease crosses the square edge where its own end has come to.
        across = (-uy * move.by, ux * move.by)
        for end in (hinge.edge.start, hinge.edge.end):
            free = [
                (name, index, edge.direction_at(0.5))
                for name in (hinge.first, hinge.second)
                for index, edge in _free_edges_at(net, name, end)
            ]
            if not any(abs(ux * x + uy * y) <= COINCIDENT for _, _, (x, y) in free):
                continue
            for name, index, (x, y) in free:
                found.setdefault(name, {})[index] = across[1] * x - across[0] * y
    return found


def _free_edges_at(net: Net, name: str, corner: Point) -> list[tuple[int, Segment]]:
    """The edges of a panel that end in a corner and on which nothing is hinged."""
    creases = [
        hinge.edge.reversed() if hinge.first == name else hinge.edge
        for hinge in net.hinges
        if name in (hinge.first, hinge.second)
    ]
    return [
        (index, edge)
        for index, edge in enumerate(net.panel(name).outline.segments)
        if (same_place(edge.start, corner) or same_place(edge.end, corner))
        and not any(shared_edge(edge, crease) for crease in creases)
    ]


def _with_edges_moved(
    panel: Panel, creases: Sequence[tuple[Segment, float]], levels: Mapping[int, float]
) -> Panel:
    """A panel with its edges where its creases have been moved to; free ones stay in line, but for
    those of `levels`.

    `creases` are the panel's own, each as it runs beside the panel on its right, and how far its
    edge moves to the left.
    """
    lines = []
    for index, edge in enumerate(panel.outline.segments):
        moves = (by for crease, by in creases if shared_edge(edge, crease))
        lines.append(beside(edge, next(moves, levels.get(index, 0.0))))
    names = list(panel.edges)
    while True:
        corners = [
            _crossing(lines[index - 1], line, line.start) for index, line in enumerate(lines)
        ]
        gone = _turned_over(lines, corners)
        if gone is None:
            return replace(panel, outline=Path.polygon(corners), edges=tuple(names))
        del lines[gone], names[gone]


def _turned_over(lines: list[Segment], corners: list[Point]) -> int | None:
    """The edge that its neighbours leave nothing of, if there is one."""
    for index, line in enumerate(lines):
        (x0, y0), (x1, y1) = corners[index], corners[(index + 1) % len(corners)]
        ux, uy = line.direction_at(0.5)
        if (x1 - x0) * ux + (y1 - y0) * uy <= COINCIDENT:
            return index
    return None


def _without_points(sheet: Net, net: Net) -> Net:
    """The net with a hole wherever creases met in a point of the sheet and no longer do."""
    ends: list[tuple[Point, set[int]]] = []
    for index, hinge in enumerate(sheet.hinges):
        for end in (hinge.edge.start, hinge.edge.end):
            for point, meeting in ends:
                if same_place(point, end):
                    meeting.add(index)
                    break
            else:
                ends.append((end, {index}))
    whole = {panel.name: panel for panel in net.panels}
    panels = dict(whole)
    for point, meeting in ends:
        if len(meeting) < LEAST_MEETING:
            continue
        corners = {
            panel.name: whole[panel.name].edge(edge).start
            for panel in sheet.panels
            for edge, corner in zip(panel.edges, panel.outline.vertices, strict=True)
            if same_place(corner, point)
        }
        xs, ys = zip(*corners.values(), strict=True)
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        radius = max(math.dist(middle, corner) for corner in corners.values()) + net.caliper
        for name, corner in corners.items():
            panels[name] = _cut_back(panels[name], corner, middle, radius)
    found = replace(net, panels=tuple(panels[panel.name] for panel in net.panels))
    return replace(found, hinges=tuple(_as_long(found, hinge) for hinge in net.hinges))


def _without_stubs(net: Net) -> Net:
    """The net without the corners that two creases of a panel both stop short of: a slot that is
    cut between layers ends in one slant there instead of in steps."""
    ends: dict[str, list[Point]] = {panel.name: [] for panel in net.panels}
    for hinge in net.hinges:
        for name in (hinge.first, hinge.second):
            ends[name] += (hinge.edge.start, hinge.edge.end)
    return replace(
        net, panels=tuple(_without_stub(panel, ends[panel.name]) for panel in net.panels)
    )


def _without_stub(panel: Panel, ends: Sequence[Point]) -> Panel:
    """A panel without such corners; `ends` are those of its creases."""
    segments = panel.outline.segments
    for before, after in zip((segments[-1], *segments), segments, strict=False):
        last, first = (_nearest_on(edge, ends, after.start) for edge in (before, after))
        if last is not None and first is not None:
            panel = _corner_cut(panel, after.start, [last, first], "stub")
    return panel


def _nearest_on(edge: Segment, ends: Sequence[Point], corner: Point) -> Point | None:
    """The end of a crease inside of an edge that is nearest to its corner; None where a crease ends
    in that, or none on the edge."""
    if any(same_place(end, corner) for end in ends):
        return None
    inside = (
        end
        for end in ends
        if fraction_on(edge, end) is not None
        and not same_place(end, edge.start)
        and not same_place(end, edge.end)
    )
    return min(inside, key=lambda end: math.dist(end, corner), default=None)


def _cut_back(panel: Panel, corner: Point, middle: Point, radius: float) -> Panel:
    """A panel whose corner is cut off between where a circle meets both its edges."""
    index = next(i for i, each in enumerate(panel.outline.vertices) if same_place(each, corner))
    segments = panel.outline.segments
    before, after = segments[index - 1], segments[index]
    points = [_leaves(before.reversed(), middle, radius), _leaves(after, middle, radius)]
    return _corner_cut(panel, corner, points, "relief")


def _corner_cut(panel: Panel, corner: Point, points: Sequence[Point], name: str) -> Panel:
    """A panel with an edge of a new name from one point to another instead of a corner."""
    index = next(i for i, each in enumerate(panel.outline.vertices) if same_place(each, corner))
    corners, names = list(panel.outline.vertices), list(panel.edges)
    corners[index : index + 1] = points
    numbered = (f"{name} {number}" for number in range(1, len(corners) + 1))
    names.insert(index, next(each for each in numbered if each not in names))
    return replace(panel, outline=Path.polygon(corners), edges=tuple(names))


def _leaves(edge: Segment, middle: Point, radius: float) -> Point:
    """Where an edge that begins in a circle leaves it."""
    ux, uy = edge.direction_at(0.5)
    x, y = edge.start[0] - middle[0], edge.start[1] - middle[1]
    along = x * ux + y * uy
    ahead = math.sqrt(along**2 + radius**2 - x**2 - y**2) - along
    if ahead >= edge.chord - COINCIDENT:
        raise NetError(f"a hole of {radius:g} mm where creases meet leaves nothing of one")
    return (edge.start[0] + ahead * ux, edge.start[1] + ahead * uy)


def _as_long(net: Net, hinge: Hinge) -> Hinge:
    """A hinge as long as its two panels now are along it."""
    for one in net.panel(hinge.first).outline.segments:
        if shared_edge(one, hinge.edge.reversed()) is None:
            continue
        for other in net.panel(hinge.second).outline.segments:
            shared = shared_edge(one, other)
            if shared is not None:
                return replace(hinge, edge=shared)
    raise NetError(f"nothing is left of the crease between {hinge.first!r} and {hinge.second!r}")


def _crossing(one: Segment, other: Segment, near: Point) -> Point:
    """Where two lines cross; of edges in one line, the point that is nearest to `near`."""
    (ax, ay), (bx, by) = one.direction_at(0.5), other.direction_at(0.5)
    sine = ax * by - ay * bx
    dx, dy = other.start[0] - one.start[0], other.start[1] - one.start[1]
    if abs(sine) <= COINCIDENT:
        along = (near[0] - one.start[0]) * ax + (near[1] - one.start[1]) * ay
        return (one.start[0] + along * ax, one.start[1] + along * ay)
    along = (dx * by - dy * bx) / sine
    return (one.start[0] + along * ax, one.start[1] + along * ay)
