"""Random values for property tests, of sizes that occur on a cutting table."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point, Transform

coordinates = st.floats(-500.0, 500.0).map(lambda value: round(value, 3))

bulges = st.one_of(
    st.just(0.0),
    st.sampled_from((1.0, -1.0, math.tan(math.pi / 8), -math.tan(math.pi / 8))),
    st.floats(0.01, 3.0),
    st.floats(-3.0, -0.01),
)
"""Straight, half and quarter circles, and anything up to an included angle of 286°."""

angles_deg = st.one_of(st.sampled_from((0.0, 90.0, 180.0, 270.0)), st.floats(-360.0, 360.0))


@st.composite
def points(draw: st.DrawFn) -> Point:
    """A point on or near a sheet."""
    return draw(coordinates), draw(coordinates)


@st.composite
def segments(draw: st.DrawFn) -> Segment:
    """An edge at least 0.1 mm long."""
    start, end = draw(points()), draw(points())
    if math.dist(start, end) < 0.1:
        end = (start[0] + 1.0, start[1])
    return Segment(start, end, draw(bulges))


@st.composite
def paths(draw: st.DrawFn, closed: bool | None = None) -> Path:
    """Two to six edges, which may cross."""
    is_closed = draw(st.booleans()) if closed is None else closed
    vertices = draw(
        st.lists(points(), min_size=3, max_size=6, unique_by=lambda point: (point[0] // 1.0,))
    )
    count = len(vertices) if is_closed else len(vertices) - 1
    edges = draw(st.lists(bulges, min_size=count, max_size=count))
    return Path(tuple(vertices), tuple(edges), is_closed)


@st.composite
def motions(draw: st.DrawFn) -> Transform:
    """A turn and a shift, sometimes with a mirror or an even scale."""
    turn = Transform.rotation(draw(angles_deg), draw(points()))
    shift = Transform.translation(draw(coordinates), draw(coordinates))
    scale = draw(st.sampled_from((1.0, 1.0, 0.5, 25.4)))
    mirror = Transform.mirror(draw(coordinates)) if draw(st.booleans()) else Transform()
    return shift @ Transform(xx=scale, yy=scale) @ turn @ mirror
