"""The upright and level lines that a net's corners lie on, and how far apart they belong.

A *place* is a distance from the left edge of the blank (axis 0) or from its top edge (axis 1),
as a person measures it. Circles count with their centre; drawn guide lines and letters do not
count.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.guide.alike import Extent
from cutlayers.net import COINCIDENT, Net, Panel, Work

EXTENT_WEIGHT, GAP_WEIGHT = 2.0, 1.0
"""How much worse it is when a whole panel is off than when a step within one is."""


@frozen
class Places:
    """All places of a net: first those of axis 0, then those of axis 1, each rising.

    `values` are mm; `across` is how many belong to axis 0. `origin` is the top left corner that
    they are measured from, in the net's own coordinates.
    """

    origin: Point
    values: tuple[float, ...]
    across: int

    @staticmethod
    def of(net: Net) -> Places:
        """The places of a net's corners."""
        points = [
            point
            for panel in net.panels
            for path in worked_paths(panel)
            for point in measured_points(path)
        ]
        left, top = min(x for x, _ in points), max(y for _, y in points)
        xs = _distinct(x - left for x, _ in points)
        ys = _distinct(top - y for _, y in points)
        return Places((left, top), (*xs, *ys), len(xs))

    def find(self, point: Point) -> tuple[int, int]:
        """The two places of a point in the net's coordinates."""
        left, top = self.origin
        return (
            self._index(point[0] - left, 0, self.across),
            self._index(top - point[1], self.across, len(self.values)),
        )

    def _index(self, value: float, low: int, high: int) -> int:
        return bisect_left(self.values, value - COINCIDENT, low, high)


def worked_paths(panel: Panel) -> Iterator[Path]:
    """A panel's outline and what is cut or perforated in it along a ruler."""
    yield panel.outline
    yield from (f.path for f in panel.features if f.work is not Work.GUIDE and not f.traced)


def is_circle(path: Path) -> bool:
    """Whether a closed path is one full circle."""
    if not path.closed or not all(path.bulges):
        return False
    first, *others = path.segments
    return abs(sum(s.sweep for s in path.segments)) > 6.28 and all(
        abs(first.centre[0] - s.centre[0]) + abs(first.centre[1] - s.centre[1]) < COINCIDENT
        and abs(first.radius - s.radius) < COINCIDENT
        for s in others
    )


def measured_points(path: Path) -> tuple[Point, ...]:
    """The points that a person marks: the centre of a circle, the corners of anything else."""
    return (path.segments[0].centre,) if is_circle(path) else path.vertices


def extents(net: Net, places: Places) -> list[Extent]:
    """Widths and heights of panels, and their straight upright and level edges."""
    found: dict[tuple[int, int], Extent] = {}
    for panel in net.panels:
        corners = [places.find(vertex) for vertex in panel.outline.vertices]
        for axis in (0, 1):
            column = [corner[axis] for corner in corners]
            _add(found, places, min(column), max(column))
        for segment in panel.outline.segments:
            if not segment.bulge:
                along = _level_axis(places, segment)
                if along is not None:
                    ends = sorted(places.find(p)[along] for p in (segment.start, segment.end))
                    _add(found, places, ends[0], ends[1])
    return [found[key] for key in sorted(found)]


def borders(net: Net, places: Places) -> list[Extent]:
    """What lies between the edges of a panel and what is cut in it, such as a hole or a slit."""
    found: dict[tuple[int, int], Extent] = {}
    for panel in net.panels:
        corners = [places.find(vertex) for vertex in panel.outline.vertices]
        for path in itertools.islice(worked_paths(panel), 1, None):
            points = [places.find(point) for point in measured_points(path)]
            for axis in (0, 1):
                edges, own = ([each[axis] for each in row] for row in (corners, points))
                for low, high in (
                    (min(edges), min(own)),
                    (min(own), max(own)),
                    (max(own), max(edges)),
                ):
                    _add(found, places, low, high)
    return [found[key] for key in sorted(found)]


def gaps(net: Net, places: Places) -> list[Extent]:
    """Steps from one place to the next within a panel, and along the edges where panels meet."""
    found: dict[tuple[int, int], Extent] = {}
    for panel in net.panels:
        points = [point for path in worked_paths(panel) for point in measured_points(path)]
        for axis in (0, 1):
            _add_row(found, places, [places.find(point)[axis] for point in points])
    for hinge in net.hinges:
        along = _level_axis(places, hinge.edge)
        if along is None:
            continue
        on_line = places.find(hinge.edge.start)[1 - along]
        ends = [
            places.find(vertex)
            for name in (hinge.first, hinge.second)
            for vertex in net.panel(name).outline.vertices
        ]
        _add_row(found, places, [place[along] for place in ends if place[1 - along] == on_line])
    return [found[key] for key in sorted(found)]


def slots(net: Net, places: Places, through: Mapping[str, float]) -> Iterator[tuple[Extent, float]]:
    """The widths of slots in panels that card goes through, each with how thick in mm that is: the
    floors of slots in an outline, whose sides run back from both ends, and both extents of those
    within a panel."""
    for panel in net.panels:
        if panel.name not in through:
            continue
        outline, *others = worked_paths(panel)
        rows = [[places.find(each) for each in measured_points(path)] for path in others]
        rows += [[places.find(each) for each in floor] for floor in _floors(outline)]
        for row in rows:
            for column in zip(*row, strict=True):
                low, high = min(column), max(column)
                if low != high:
                    length = places.values[high] - places.values[low]
                    yield Extent(low, high, length), through[panel.name]


def _floors(outline: Path) -> Iterator[tuple[Point, Point]]:
    """Both ends of the edges from which the outline runs back on the side that it came from."""
    edges = outline.segments
    for before, floor, after in zip(
        edges[-1:] + edges[:-1], edges, edges[1:] + edges[:1], strict=True
    ):
        one, two, three = (edge.direction_at(0.5) for edge in (before, floor, after))
        into = one[0] * two[1] - one[1] * two[0]
        out = two[0] * three[1] - two[1] * three[0]
        if into < 0 and out < 0 and one[0] * three[0] + one[1] * three[1] < 0:
            yield floor.start, floor.end


def hinge_weight(net: Net, places: Places) -> list[float]:
    """For each place the length of the folds that lie on it, in mm."""
    weight = [0.0] * len(places.values)
    for hinge in net.hinges:
        axis = _level_axis(places, hinge.edge)
        if axis is not None:
            weight[places.find(hinge.edge.start)[1 - axis]] += hinge.edge.chord
    return weight


def _level_axis(places: Places, segment: Segment) -> int | None:
    """The axis that a straight edge runs along; None for a slanted one."""
    start, end = places.find(segment.start), places.find(segment.end)
    if segment.bulge or (start[0] != end[0] and start[1] != end[1]):
        return None
    return 0 if start[1] == end[1] else 1


def _add(found: dict[tuple[int, int], Extent], places: Places, low: int, high: int) -> None:
    if low != high:
        found[low, high] = Extent(low, high, places.values[high] - places.values[low])


def _add_row(found: dict[tuple[int, int], Extent], places: Places, row: Sequence[int]) -> None:
    for low, high in itertools.pairwise(sorted(set(row))):
        _add(found, places, low, high)


def _distinct(values: Iterator[float]) -> list[float]:
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > COINCIDENT:
            kept.append(value)
    return kept
