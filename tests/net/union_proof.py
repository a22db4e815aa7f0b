"""The lines of a net held against the union of its panels, which shapely computes.

Panels are flattened to chords within `FINE` mm; shapely knows nothing of hinges, nodes or chains.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import shapely

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part, Stroke
from cutlayers.net import Linework, Net

FINE = 1e-3
"""mm between an arc and its chords."""

DIGITS = 6
"""Decimals of a mm kept for shapely, so that borders that differ in their last bits become one."""

TUBE = 1e-6
"""mm round a border within which another is taken to run along it. Where two borders meet at half a
degree, 100 times as much of each lies within it."""


def prove(net: Net, lines: Linework) -> None:
    """Assert that the strokes are the net's lines, each of them once."""
    # Strokes from borders bear the net's name, those of features their panel's and their own.
    borders = [line for line in lines if line.name == net.name or line.part is Part.FOLD]
    by_part = {part: [line for line in borders if line.part is part] for part in Part}
    polygons = list(shapely.get_parts(_union(net)))
    _prove_rings([p.exterior for p in polygons], by_part[Part.OUTLINE], 1)
    _prove_rings([ring for p in polygons for ring in p.interiors], by_part[Part.OPENING], -1)
    _prove_inner_lines(net, by_part[Part.FOLD], by_part[Part.SLIT])
    _prove_books(net, borders, [line for line in lines if line not in borders])
    prove_no_overlap(lines)
    for line in lines:
        prove_short(line.path)


def _union(net: Net) -> shapely.Geometry:
    """All panels in one, each given the corners of others that lie on its edges, and rounded.

    So borders that two panels share are alike to the last bit, and no hair of gap is left.
    """
    corners = shapely.MultiPoint([v for panel in net.panels for v in panel.outline.vertices])
    snapped = [shapely.snap(_polygon(panel.outline), corners, TUBE) for panel in net.panels]
    return shapely.union_all(shapely.transform(snapped, lambda xy: xy.round(DIGITS)))


def prove_no_overlap(lines: Linework) -> None:
    """Assert that no stretch of line lies on another, of its own stroke or of any."""
    flat = [_string(line.path) for line in lines]
    once = float(shapely.length(shapely.union_all(flat, grid_size=10**-DIGITS)))
    total = math.fsum(string.length for string in flat)
    assert math.isclose(once, total, rel_tol=1e-6, abs_tol=1e-3), (
        f"{total - once} mm of line are worked twice"
    )


def prove_short(path: Path) -> None:
    """Assert that no joint of a path could be left out: straight on, or round one circle."""
    segments = path.segments
    pairs = list(itertools.pairwise(segments))
    if path.closed:
        pairs.append((segments[-1], segments[0]))
    for one, other in pairs:
        if one.bulge or other.bulge:
            continue
        ax, ay = one.direction_at(1.0)
        bx, by = other.direction_at(0.0)
        assert abs(ax * by - ay * bx) > 1e-7 or ax * bx + ay * by < 0, "a joint on a straight line"


def alike(one: shapely.Geometry, other: shapely.Geometry, within: float) -> bool:
    """Whether two sets of lines are the same within a Hausdorff distance in mm, asked of their
    corners and points between."""
    for here, there in ((one, other), (other, one)):
        shapely.prepare(there)
        step = float(shapely.length(here)) / 50
        corners = shapely.points(shapely.get_coordinates(shapely.segmentize(here, step)))
        if not shapely.dwithin(there, corners, within).all():
            return False
    return True


def _prove_rings(
    rings: Sequence[shapely.LinearRing], strokes: Sequence[Stroke], sense: int
) -> None:
    assert len(rings) == len(strokes)
    assert all(stroke.path.closed for stroke in strokes)
    left = list(strokes)
    for ring in rings:
        match = next((s for s in left if alike(ring, _string(s.path), 2 * FINE)), None)
        assert match is not None, "no stroke runs round there"
        left.remove(match)
        assert math.copysign(1, match.path.area) == sense
        area = shapely.Polygon(ring).area
        assert math.isclose(abs(match.path.area), area, abs_tol=FINE * (1 + ring.length))
        assert math.isclose(match.path.length, ring.length, rel_tol=1e-4, abs_tol=1e-3)


def _prove_inner_lines(net: Net, folds: Sequence[Stroke], slits: Sequence[Stroke]) -> None:
    """Folds cover the hinges and nothing else; slits the rest of what panels share."""
    hinged = math.fsum(hinge.edge.length for hinge in net.hinges)
    assert math.isclose(_length(folds), hinged, abs_tol=1e-4)
    kinds = {(hinge.operation, hinge.fold) for hinge in net.hinges}
    assert {(fold.operation, fold.fold) for fold in folds} == kinds
    for kind in kinds:
        edges = [
            Path((h.edge.start, h.edge.end), (h.edge.bulge,), closed=False)
            for h in net.hinges
            if (h.operation, h.fold) == kind
        ]
        wanted = shapely.multilinestrings([_string(edge) for edge in edges])
        drawn = shapely.multilinestrings(
            [_string(fold.path) for fold in folds if (fold.operation, fold.fold) == kind]
        )
        assert alike(wanted, drawn, 2 * FINE)
    borders = [_polygon(panel.outline).exterior for panel in net.panels]
    shared = math.fsum(
        # A tube so thin that a border which only crosses or touches has next to nothing in it.
        shapely.intersection(one, other.buffer(TUBE, cap_style="flat")).length
        for i, one in enumerate(borders)
        for other in borders[:i]
        if one.distance(other) < TUBE
    )
    assert math.isclose(_length(slits), shared - hinged, rel_tol=1e-4, abs_tol=0.01)


def _prove_books(net: Net, borders: Sequence[Stroke], worked: Sequence[Stroke]) -> None:
    """Every panel's border is in exactly one stroke: once if cut free, once for two if shared."""
    panels = math.fsum(panel.outline.length for panel in net.panels)
    contours = _length([s for s in borders if s.part in (Part.OUTLINE, Part.OPENING)])
    shared = _length([s for s in borders if s.part in (Part.FOLD, Part.SLIT)])
    assert math.isclose(panels, contours + 2 * shared, abs_tol=1e-4)
    features = math.fsum(f.path.length for panel in net.panels for f in panel.features)
    assert math.isclose(features, _length(worked), abs_tol=1e-6)


def _polygon(path: Path) -> shapely.Polygon:
    return shapely.Polygon(path.points(FINE))


def _string(path: Path) -> shapely.LineString:
    points = path.points(FINE)
    return shapely.LineString([*points, points[0]] if path.closed else points)


def _length(strokes: Sequence[Stroke]) -> float:
    return math.fsum(stroke.path.length for stroke in strokes)
