"""Bulges against the DXF Reference: tan of a quarter of the included angle, negative clockwise."""

from __future__ import annotations

import math

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point

# Chord 100 mm: r = c(1 + b²)/(4|b|), sagitta = |b|·c/2, arc length = r·θ.
TABLE = [
    # angle, bulge, radius, sagitta, arc length
    (30, 0.13165250, 193.185165, 6.582625, 101.151516),
    (60, 0.26794919, 100.0, 13.397460, 104.719755),
    (90, 0.41421356, 70.710678, 20.710678, 111.072073),
    (120, 0.57735027, 57.735027, 28.867513, 120.919958),
    (180, 1.0, 50.0, 50.0, 157.079633),
    (270, 2.41421356, 70.710678, 120.710678, 333.216220),
]


@pytest.mark.parametrize(("angle_deg", "bulge", "radius", "sagitta", "length"), TABLE)
def test_arc_has_the_measures_of_its_bulge(
    angle_deg: float, bulge: float, radius: float, sagitta: float, length: float
) -> None:
    """Angle, radius, length and height over the chord follow from the bulge alone."""
    arc = Segment((0.0, 0.0), (100.0, 0.0), bulge)

    assert math.degrees(arc.sweep) == pytest.approx(angle_deg, rel=1e-6)
    assert arc.radius == pytest.approx(radius, rel=1e-6)
    assert arc.length == pytest.approx(length, rel=1e-6)
    # Positive turns left, so the arc runs on the right of its chord: below it.
    assert arc.point_at(0.5) == pytest.approx((50.0, -sagitta), rel=1e-6)


@pytest.mark.parametrize(("angle_deg", "bulge", "radius", "sagitta", "length"), TABLE)
def test_negative_bulge_is_the_mirror_image(
    angle_deg: float, bulge: float, radius: float, sagitta: float, length: float
) -> None:
    """Clockwise from start to end: the arc runs above."""
    arc = Segment((0.0, 0.0), (100.0, 0.0), -bulge)

    assert math.degrees(arc.sweep) == pytest.approx(-angle_deg, rel=1e-6)
    assert arc.radius == pytest.approx(radius, rel=1e-6)
    assert arc.length == pytest.approx(length, rel=1e-6)
    assert arc.point_at(0.5) == pytest.approx((50.0, sagitta), rel=1e-6)


@pytest.mark.parametrize(
    ("start", "end", "bulge", "centre", "through"),
    [
        ((0, 0), (10, 0), 1.0, (5, 0), (5, -5)),
        ((0, 0), (10, 0), -1.0, (5, 0), (5, 5)),
        (
            (10, 0),
            (0, 10),
            math.tan(math.radians(22.5)),
            (0, 0),
            (10 * math.sqrt(0.5), 10 * math.sqrt(0.5)),
        ),
    ],
)
def test_arc_runs_on_the_side_its_sign_says(
    start: Point, end: Point, bulge: float, centre: Point, through: Point
) -> None:
    """A half circle from left to right runs below for +1; a quarter circle about the origin."""
    arc = Segment(start, end, bulge)

    assert arc.centre == pytest.approx(centre, abs=1e-9)
    assert arc.point_at(0.5) == pytest.approx(through)


def test_a_bulge_belongs_to_the_edge_that_starts_at_its_vertex() -> None:
    """A half disc: the arc leaves the first point, the chord comes back straight."""
    path = Path(((10.0, 0.0), (-10.0, 0.0)), (1.0, 0.0), closed=True)

    assert path.bounds == pytest.approx((-10, 0, 10, 10))
    assert path.area == pytest.approx(50 * math.pi)
