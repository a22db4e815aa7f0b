from __future__ import annotations

import math

import pytest
from hypothesis import given, settings

from cutlayers.geometry.transforms import Point, Transform
from tests.strategies import angles_deg, motions, points


@settings(max_examples=60)
@given(motion=motions(), point=points())
def test_inverse_brings_every_point_back(motion: Transform, point: Point) -> None:
    """A motion and then its inverse leave a point where it was."""
    back = motion.inverse().apply(motion.apply(point))

    assert back == pytest.approx(point, abs=1e-8)


@settings(max_examples=60)
@given(first=motions(), second=motions(), point=points())
def test_product_applies_the_right_hand_motion_first(
    first: Transform, second: Transform, point: Point
) -> None:
    """`first @ second` is second, then first."""
    expected = first.apply(second.apply(point))

    assert (first @ second).apply(point) == pytest.approx(expected, rel=1e-9, abs=1e-6)


@settings(max_examples=60)
@given(motion=motions(), a=points(), b=points())
def test_similarity_scales_every_distance_alike(motion: Transform, a: Point, b: Point) -> None:
    """A similarity stretches distances by the square root of its area scale."""
    assert motion.is_similarity
    assert math.dist(motion.apply(a), motion.apply(b)) == pytest.approx(
        math.dist(a, b) * math.sqrt(abs(motion.determinant)), abs=1e-7
    )


@pytest.mark.parametrize(
    ("angle_deg", "expected"),
    [(0, (3.0, 4.0)), (90, (-4.0, 3.0)), (180, (-3.0, -4.0)), (-90, (4.0, -3.0))],
)
def test_quarter_turns_are_exact(angle_deg: float, expected: Point) -> None:
    """Right angles lose no bit, so what was parallel to the sheet stays so."""
    assert Transform.rotation(angle_deg).apply((3.0, 4.0)) == expected


def test_rotation_about_a_point_turns_left() -> None:
    """(2, 1) turned by 90° about (1, 1) is straight above it."""
    assert Transform.rotation(90, about=(1.0, 1.0)).apply((2.0, 1.0)) == (1.0, 2.0)


def test_mirror_swaps_left_and_right() -> None:
    """A point 2 mm right of the axis comes to lie 2 mm left of it, and areas change sign."""
    mirror = Transform.mirror(10.0)

    assert mirror.apply((12.0, 5.0)) == (8.0, 5.0)
    assert mirror.determinant == -1.0


@settings(max_examples=60)
@given(start=points(), to_start=points(), angle=angles_deg)
def test_onto_carries_a_segment_to_its_goal(start: Point, to_start: Point, angle: float) -> None:
    """Segments of one length come to lie on each other, ends included."""
    end = (start[0] + 40.0, start[1])
    to_end = Transform.rotation(angle, about=to_start).apply((to_start[0] + 40.0, to_start[1]))
    carry = Transform.onto(start, end, to_start, to_end)

    assert carry.apply(start) == pytest.approx(to_start, abs=1e-9)
    assert carry.apply(end) == pytest.approx(to_end, abs=1e-9)
    assert carry.determinant == pytest.approx(1.0)


def test_uneven_scale_is_no_similarity() -> None:
    """A circle stretched one way only would become an ellipse."""
    assert not Transform(xx=2.0).is_similarity
    assert not Transform(xy=0.5).is_similarity


def test_inverse_of_a_flattening_motion_is_refused() -> None:
    """What lost a dimension cannot be brought back."""
    with pytest.raises(ZeroDivisionError):
        Transform(yy=0.0).inverse()
