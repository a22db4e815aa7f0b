"""A net, or lines, with each point on a line of the ruler."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.guide.places import Places, is_circle
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Hinge, Linework, Net, Panel, Work
from cutlayers.telling.errors import NetError


def net_on_divisions(net: Net, places: Places, at: Sequence[int], ruler: Ruler) -> Net:
    """The net with its places at so many divisions of the ruler, `at`.

    Raises NetError for a panel that is a circle.
    """
    left, top = places.origin
    lengths = [ruler.length(steps) for steps in at]

    def place(point: Point) -> Point:
        across, down = places.find(point)
        return (left + lengths[across], top - lengths[down])

    def moved(path: Path) -> Path:
        if is_circle(path):
            return circle_on_divisions(path, ruler, place(path.segments[0].centre))
        return Path.from_segments(_kept(path, place)[0], path.closed)

    def panel_moved(panel: Panel) -> Panel:
        if is_circle(panel.outline):
            raise NetError(f"panel {panel.name!r} is a circle")
        segments, edges = _kept(panel.outline, place, panel.edges)
        outline = Path.from_segments(segments, closed=True)
        along = _middle_moved(panel.outline, outline)
        features = tuple(
            replace(f, path=f.path.transformed(along) if f.traced else moved(f.path))
            for f in panel.features
            if f.work is not Work.GUIDE
        )
        return replace(panel, outline=outline, edges=edges, features=features)

    def hinge_moved(hinge: Hinge) -> Hinge:
        start, end = place(hinge.edge.start), place(hinge.edge.end)
        return replace(hinge, edge=Segment(start, end, hinge.edge.bulge))

    return replace(
        net,
        panels=tuple(map(panel_moved, net.panels)),
        hinges=tuple(map(hinge_moved, net.hinges)),
    )


def _middle_moved(before: Path, after: Path) -> Transform:
    """The way that the middle of a panel goes, which letters on it go with it."""
    (x0, y0), (x1, y1) = (
        ((left + right) / 2, (bottom + top) / 2)
        for left, bottom, right, top in (before.bounds, after.bounds)
    )
    return Transform(dx=x1 - x0, dy=y1 - y0)


def _kept(
    path: Path, place: Callable[[Point], Point], names: Sequence[str] = ()
) -> tuple[list[Segment], tuple[str, ...]]:
    """A path's edges moved, without those that rounding shrinks to nothing."""
    segments: list[Segment] = []
    kept: list[str] = []
    for index, segment in enumerate(path.segments):
        start, end = place(segment.start), place(segment.end)
        if start != end:
            segments.append(Segment(start, end, segment.bulge))
            kept.extend(names[index : index + 1])
    return segments, tuple(kept)


def lines_on_divisions(lines: Linework, ruler: Ruler) -> Linework:
    """Strokes with each point on the nearest division, counted from the left and the top.

    Points stay together where they were, but equal lengths may come out a division apart. What
    shrinks to nothing is left out.
    """
    points = [vertex for stroke in lines for vertex in stroke.path.vertices]
    left, top = min(x for x, _ in points), max(y for _, y in points)

    def place(point: Point) -> Point:
        across, down = ruler.nearest(point[0] - left), ruler.nearest(top - point[1])
        return (left + ruler.length(across), top - ruler.length(down))

    found = []
    for stroke in lines:
        if is_circle(stroke.path):
            path = circle_on_divisions(stroke.path, ruler, place(stroke.path.segments[0].centre))
            found.append(replace(stroke, path=path))
            continue
        segments, _ = _kept(stroke.path, place)
        if len(segments) >= (2 if stroke.path.closed else 1):
            path = Path.from_segments(segments, stroke.path.closed)
            found.append(replace(stroke, path=path))
    return tuple(found)


def circle_on_divisions(path: Path, ruler: Ruler, centre: Point) -> Path:
    """A circle about `centre` whose diameter is a whole number of divisions, one at least."""
    circle = Path.circle(centre, ruler.hole(2 * path.segments[0].radius) / 2)
    return circle if path.area > 0 else circle.reversed()
