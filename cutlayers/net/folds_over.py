"""Panels folded right over: their crease is a strip as wide as the panels lie apart.

Card that is folded by 180° does not turn about a line, or its two sides would lie in one plane. It
turns about the edges of a strip between two creases of 90°, as wide as the panels lie apart from
middle to middle: one caliper, and one more for each layer of card between them. A style draws such
panels as large as they are folded. `Net.attach` adds half of the strip to both, so that the line
which is scored is the middle of it, or all of a narrow one to the second; folding takes the strip
out again by `with_strips`.

A crease that takes up less than half of the card leaves the panels farther apart than its strip
is wide, one that takes up more nearer: by c − 2t in card c thick whose creases take up t each. So
the strip is drawn as much narrower, and folding moves its far side as much away from the near one.

Source: the geometry of panels that turn about lines at the depth t from their inner faces, which
then lie s − 2t apart over a strip s wide. Bent round in a half circle a strip would be π/2 as wide
along the middle; what a crease takes up instead is measured by `cutlayers trial fold`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.edges import COINCIDENT, same_place, shared_edge
from cutlayers.net.layers import FLAT_SINE
from cutlayers.telling.errors import NetError

LEAST_STEP = 0.25
"""mm; a tool makes no finer step in an outline."""

LEAST_STRIP = 0.02
"""mm; creases that take up none of the card, or less, would leave no strip between them."""

if TYPE_CHECKING:
    from cutlayers.net.model import Net
    from cutlayers.net.panel import Hinge, Panel


def with_strips(net: Net) -> Net:
    """The net with each strip as a panel of its own between two creases; itself without any."""
    for hinge in net.hinges:
        if hinge.strip:
            net = _with_strip(net, hinge)
    return net


def strip_between(lie: float, eased: float) -> float:
    """How wide the strip is between two panels whose middles lie `lie` mm apart, `eased` mm farther
    than it is wide; 0 for panels that share a plane."""
    return max(LEAST_STRIP, lie - eased) if lie else 0.0


def shares(strip: float) -> tuple[float, float]:
    """How much of a strip each of two panels has: a half, or the second one all of one that is too
    narrow for a step in the outline of the first."""
    half = strip / 2
    return (half, half) if half >= LEAST_STEP else (0.0, strip)


def strip_name(hinge: Hinge) -> str:
    """What the strip between two panels is called."""
    return f"{hinge.first} | {hinge.second}"


def _with_strip(net: Net, hinge: Hinge) -> Net:
    here, there = shares(hinge.strip)
    if hinge.share is not None:
        here, there = hinge.share, hinge.strip - hinge.share
    first, near = _cut(net.panel(hinge.first), hinge.edge, here)
    second, far = _cut(net.panel(hinge.second), hinge.edge.reversed(), there)
    # Both run with their panel on the left; the strip is on the right of both.
    outline = Path.polygon((far.end, far.start, near.end, near.start))
    strip = replace(
        # A tab's strip is not glued, as what hangs on it is not.
        second if first.lands_on is not None else first,
        name=strip_name(hinge),
        outline=outline,
        edges=("second", "end", "first", "start"),
        features=(),
        lands_on=None,
    )
    flat = replace(hinge, fold_deg=hinge.fold_deg / 2, strip=0.0, share=None)
    creases = (
        replace(flat, second=strip.name, edge=near),
        replace(flat, first=strip.name, edge=far.reversed(), eased=0.0),
    )
    cut = {first.name: first, second.name: second}
    hinges: list[Hinge] = []
    for each in net.hinges:
        hinges += creases if each is hinge else (each,)
    return replace(
        net,
        panels=(*(cut.get(panel.name, panel) for panel in net.panels), strip),
        hinges=tuple(hinges),
    )


def beside(edge: Segment, by: float) -> Segment:
    """A straight edge moved `by` mm to its left."""
    inward = _left_of(edge)
    return Segment(_off(edge.start, inward, by), _off(edge.end, inward, by))


def with_share(panel: Panel, name: str, crease: Segment, deep: float) -> Panel:
    """A panel with its share of a strip added square to the edge of that name, as far as the crease
    goes: it lies `deep` mm beyond the edge, with the panel on its left, and has the edge's name."""
    index = panel.edges.index(name)
    edge = panel.outline.segments[index]
    foot = beside(crease, deep)
    corners = [
        (edge.start, f"{name} start"),
        (foot.start, f"{name} start of fold"),
        (crease.start, name),
        (crease.end, f"{name} end of fold"),
        (foot.end, f"{name} end"),
    ]
    return _with_corners(panel, index, corners)


def _cut(panel: Panel, crease: Segment, deep: float) -> tuple[Panel, Segment]:
    """A panel without what lies up to `deep` mm from a crease on its border, which runs with the
    panel on its left, and the edge that is there instead."""
    if not deep:
        return panel, crease
    segments = panel.outline.segments
    index = next(
        (
            index
            for index, each in enumerate(segments)
            if not each.bulge and shared_edge(each, crease.reversed())
        ),
        None,
    )
    if index is None:
        raise NetError(f"a crease does not lie on the border of {panel.name!r}")
    before, after = segments[index - 1], segments[(index + 1) % len(segments)]
    inner = beside(crease, deep)
    start = _along(segments[index].start, before, inner)
    end = _along(segments[index].end, after, inner.reversed())
    name = panel.edges[index]
    # Where the edges beside it are not simply cut, the corners stay.
    corners = [(start or inner.start, name)]
    if start is None:
        corners = [
            (segments[index].start, f"{name} start"),
            (crease.start, f"{name} start of fold"),
            *corners,
        ]
    if end is None:
        corners += [(inner.end, f"{name} end of fold"), (crease.end, f"{name} end")]
    cut = _with_corners(panel, index, corners, end)
    return cut, Segment(start or inner.start, end or inner.end)


def _along(corner: Point, edge: Segment, inner: Segment) -> Point | None:
    """Where an edge that meets a crease in a corner goes on, `inner` being how the crease is cut;
    None where it does not reach as far, or before the crease begins."""
    ux, uy = inner.direction_at(0.5)
    along, inward = edge.direction_at(0.5), (-uy, ux)
    (x, y), (x0, y0) = corner, inner.start
    rise = along[0] * inward[0] + along[1] * inward[1]
    deep = (x0 - x) * inward[0] + (y0 - y) * inward[1]
    if edge.bulge or abs(rise) < FLAT_SINE or abs(deep / rise) > edge.chord + COINCIDENT:
        return None
    moved = (x + deep / rise * along[0], y + deep / rise * along[1])
    ahead = (moved[0] - x0) * ux + (moved[1] - y0) * uy
    return moved if ahead >= -COINCIDENT else None


def _with_corners(
    panel: Panel, index: int, corners: Sequence[tuple[Point, str]], end: Point | None = None
) -> Panel:
    """A panel whose edge of that index is replaced by straight edges from these corners,
    each with the name of its edge; the next edge begins at `end` if that is given."""
    ring: list[tuple[Point, float, str]] = list(
        zip(panel.outline.vertices, panel.outline.bulges, panel.edges, strict=True)
    )
    after: int = (index + 1) % len(ring)
    if end is not None:
        ring[after] = (end, *ring[after][1:])
    ring[index : index + 1] = [(point, 0.0, name) for point, name in corners]
    kept = [
        each
        for each, following in zip(ring, [*ring[1:], ring[0]], strict=True)
        if not same_place(each[0], following[0])
    ]
    vertices, bulges, names = zip(*kept, strict=True)
    return replace(panel, outline=Path(vertices, bulges, closed=True), edges=names)


def _left_of(edge: Segment) -> Point:
    ux, uy = edge.direction_at(0.5)
    return (-uy, ux)


def _off(point: Point, way: Point, by: float) -> Point:
    return (point[0] + by * way[0], point[1] + by * way[1])
