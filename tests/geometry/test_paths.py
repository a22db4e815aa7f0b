from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.segments import Bounds, Segment, union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.errors import PathError
from tests.strategies import motions, paths, segments

QUARTER = math.tan(math.radians(90) / 4)
EXAMPLES = {
    "line": Path.line((0.0, 0.0), (30.0, 40.0)),
    "one arc": Path(((0.0, 0.0), (10.0, 0.0)), (1.0,), closed=False),
    "square": Path.rectangle(20.0, 20.0),
    "clockwise square": Path.rectangle(20.0, 20.0).reversed(),
    "circle": Path.circle((5.0, 5.0), 10.0),
    "arc and chord": Path(((10.0, 0.0), (0.0, 10.0)), (QUARTER, 0.0), closed=True),
}


@pytest.mark.parametrize(
    ("name", "length", "area", "bounds"),
    [
        ("line", 50.0, 0.0, (0, 0, 30, 40)),
        # A half circle on 10 mm, below its chord because it turns left; area to the chord.
        ("one arc", 5 * math.pi, 12.5 * math.pi, (0, -5, 10, 0)),
        ("square", 80.0, 400.0, (0, 0, 20, 20)),
        ("clockwise square", 80.0, -400.0, (0, 0, 20, 20)),
        ("circle", 20 * math.pi, 100 * math.pi, (-5, -5, 15, 15)),
        # Segment of a circle: r²(θ − sin θ)/2, chord r·√2.
        (
            "arc and chord",
            5 * math.pi + 10 * math.sqrt(2),
            50 * (math.pi / 2 - 1),
            (0, 0, 10, 10),
        ),
    ],
)
def test_measures_of_simple_shapes(name: str, length: float, area: float, bounds: Bounds) -> None:
    """Length, signed area and bounds are those of school geometry."""
    path = EXAMPLES[name]

    assert path.length == pytest.approx(length)
    assert path.area == pytest.approx(area)
    assert path.bounds == pytest.approx(bounds)


def test_rounded_rectangle_has_the_textbook_area_and_perimeter() -> None:
    """100 × 60 mm, r = 10: 6000 − (4 − π)·r² and 320 − (8 − 2π)·r."""
    path = rounded(((0, 0), (100, 0), (100, 60), (0, 60)), (10,) * 4)

    assert path.area == pytest.approx(5914.159265, abs=1e-6)
    assert path.length == pytest.approx(302.831853, abs=1e-6)
    assert path.bounds == pytest.approx((0, 0, 100, 60))
    assert len(path.bulges) == 8


def test_rounded_corners_of_a_clockwise_outline_turn_right() -> None:
    """The same shape walked the other way: the area only changes its sign."""
    path = rounded(((0, 60), (100, 60), (100, 0), (0, 0)), (10,) * 4)

    assert path.area == pytest.approx(-5914.159265, abs=1e-6)


def test_rounded_corners_may_touch() -> None:
    """A square of 20 with r = 10 is the full circle, without edges of length zero."""
    path = rounded(((0, 0), (20, 0), (20, 20), (0, 20)), (10,) * 4)

    assert path.length == pytest.approx(20 * math.pi)
    assert len(path.bulges) == 4


def test_radius_zero_keeps_the_corner() -> None:
    """Only the corner asked for is rounded."""
    path = rounded(((0, 0), (20, 0), (20, 20), (0, 20)), (0, 0, 5, 0))

    assert path.area == pytest.approx(400 - (1 - math.pi / 4) * 25)
    assert {(0.0, 0.0), (20.0, 0.0), (0.0, 20.0)} <= set(path.vertices)


def test_reflex_corner_is_rounded_on_its_inner_side() -> None:
    """Rounding the inner corner of an L adds (1 − π/4)·r² of material."""
    corners = ((0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60))
    path = rounded(corners, (0, 0, 0, 8, 0, 0))

    assert path.area == pytest.approx(2000 + (1 - math.pi / 4) * 64)


@pytest.mark.parametrize(
    ("points", "radii", "said"),
    [
        (((0, 0), (20, 0), (20, 20)), (11, 11, 0), "corner radii need"),
        (((0, 0), (20, 0), (20, 20)), (-1, 0, 0), "need 3 radii"),
        (((0, 0), (20, 0), (20, 20)), (math.nan, 0, 0), "need 3 radii"),
        (((0, 0), (20, 0), (20, 20)), (1, 1), "need 3 radii"),
        (((0, 0), (20, 0), (20, 0), (20, 20)), (1, 1, 1, 1), "twice"),
    ],
)
def test_impossible_rounding_is_refused(
    points: tuple[Point, ...], radii: tuple[float, ...], said: str
) -> None:
    """Nothing is clamped or dropped."""
    with pytest.raises(PathError, match=said):
        rounded(points, radii)


@pytest.mark.parametrize(
    ("vertices", "bulges", "closed"),
    [
        (((0.0, 0.0),), (), False),
        (((0.0, 0.0),), (1.0,), True),
        (((0.0, 0.0), (1.0, 0.0)), (0.0, 0.0), False),
        (((0.0, 0.0), (1.0, 0.0)), (0.0,), True),
        (((0.0, 0.0), (0.0, 0.0)), (0.0,), False),
        (((0.0, 0.0), (1.0, 0.0), (0.0, 0.0)), (0.0, 0.0, 0.0), True),
        (((0.0, 0.0), (math.nan, 0.0)), (0.0,), False),
        (((0.0, 0.0), (1.0, 0.0)), (math.inf,), False),
    ],
)
def test_impossible_paths_are_refused(
    vertices: tuple[Point, ...], bulges: tuple[float, ...], closed: bool
) -> None:
    """Too few points or bulges, edges of length zero, and numbers that are not finite."""
    with pytest.raises(PathError):
        Path(vertices, bulges, closed)


@settings(max_examples=80)
@given(path=paths())
def test_reversing_twice_gives_the_same_path(path: Path) -> None:
    """Exactly: no coordinate is computed anew."""
    assert path.reversed().reversed() == path


@settings(max_examples=80)
@given(path=paths())
def test_reversing_keeps_the_length_and_turns_the_area(path: Path) -> None:
    """The same line, walked the other way."""
    back = path.reversed()

    assert back.length == pytest.approx(path.length)
    assert back.area == pytest.approx(-path.area, abs=1e-6 * path.length**2)
    assert (back.start, back.end) == (path.end, path.start)


@settings(max_examples=80)
@given(path=paths(), motion=motions())
def test_moving_there_and_back_gives_the_same_path(path: Path, motion: Transform) -> None:
    """Points come back within rounding, bulges exactly."""
    back = path.transformed(motion).transformed(motion.inverse())

    assert back.bulges == path.bulges
    for point, expected in zip(back.vertices, path.vertices, strict=True):
        assert point == pytest.approx(expected, abs=1e-7)


@settings(max_examples=80)
@given(path=paths(), motion=motions())
def test_moving_scales_length_and_area(path: Path, motion: Transform) -> None:
    """Length by the scale, area by its square; a mirror changes the area's sign."""
    moved = path.transformed(motion)
    scale = math.sqrt(abs(motion.determinant))
    slack = 1e-6 * path.length**2 * scale**2

    assert moved.length == pytest.approx(path.length * scale)
    assert moved.area == pytest.approx(path.area * motion.determinant, abs=slack)


@settings(max_examples=80)
@given(segment=segments(), tolerance=st.sampled_from((0.01, 0.1, 1.0, 50.0)))
def test_chords_stay_within_the_tolerance(segment: Segment, tolerance: float) -> None:
    """A chord's middle is the point farthest from its arc, and the ends lie on it."""
    points = [segment.start, *segment.flatten(tolerance)]

    assert points[-1] == segment.end
    if segment.bulge:
        for a, b in pairwise(points):
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            assert math.dist(a, segment.centre) == pytest.approx(segment.radius)
            sagitta = _sagitta(segment, len(points) - 1)
            assert sagitta <= tolerance + 1e-9
            assert abs(segment.radius - math.dist(middle, segment.centre)) <= sagitta + 1e-7


def _sagitta(segment: Segment, count: int) -> float:
    return segment.radius * (1 - math.cos(abs(segment.sweep) / count / 2))


@pytest.mark.parametrize("tolerance", [0.0, -1.0, math.nan])
def test_an_arc_needs_a_positive_tolerance(tolerance: float) -> None:
    """No chords are ever exact."""
    with pytest.raises(PathError, match="more than 0 mm"):
        EXAMPLES["circle"].flattened(tolerance)


def test_flattening_keeps_straight_paths_as_they_are() -> None:
    """Nothing to do gives the very same path."""
    assert EXAMPLES["square"].flattened(0.1) is EXAMPLES["square"]


@settings(max_examples=80)
@given(path=paths(), cuts=st.lists(st.floats(0.01, 0.99), min_size=1, max_size=4, unique=True))
def test_parts_add_up_to_the_whole(path: Path, cuts: list[float]) -> None:
    """Cut anywhere, the pieces are as long together as the path, and meet."""
    stops = [0.0, *sorted(share * path.length for share in cuts), path.length]
    spans = [(a, b) for a, b in pairwise(stops) if b - a > 1e-6]
    parts = [path.part(a, b) for a, b in spans]

    assert math.fsum(part.length for part in parts) == pytest.approx(path.length)
    for (a, b), part in zip(spans, parts, strict=True):
        assert part.length == pytest.approx(b - a, abs=1e-6)
        assert part.start == pytest.approx(path.point_at(a), abs=1e-6)
        assert part.end == pytest.approx(path.point_at(b), abs=1e-6)


def test_an_empty_part_is_refused() -> None:
    """There is no path of length zero."""
    with pytest.raises(PathError, match="nothing lies between"):
        EXAMPLES["line"].part(10.0, 10.0)


@settings(max_examples=80)
@given(segment=segments(), fraction=st.floats(0.0, 1.0))
def test_points_of_an_arc_lie_at_their_fraction(segment: Segment, fraction: float) -> None:
    """A point splits the length in its fraction and the arc's two parts keep centre and radius."""
    at = segment.point_at(fraction)
    if segment.bulge:
        assert math.dist(at, segment.centre) == pytest.approx(segment.radius)
    if 0.001 < fraction < 0.999:
        first, second = segment.part(0.0, fraction), segment.part(fraction, 1.0)
        assert first.end == second.start == at
        assert first.length == pytest.approx(fraction * segment.length)
        assert second.length == pytest.approx((1 - fraction) * segment.length)


@pytest.mark.parametrize("bulge", [1e-6, 1e-10, 1e-14, -1e-14])
def test_points_of_a_nearly_straight_arc_are_exact(bulge: float) -> None:
    """The sagitta is |bulge|·chord/2, however far away the centre may be."""
    at = Segment((0.0, 0.0), (100.0, 0.0), bulge).point_at(0.5)

    assert at == pytest.approx((50.0, -50.0 * bulge), abs=1e-12)


@settings(max_examples=80)
@given(segment=segments(), fraction=st.floats(0.01, 0.99))
def test_direction_is_the_slope_of_the_points(segment: Segment, fraction: float) -> None:
    """The unit tangent agrees with the difference of two near points."""
    before, after = segment.point_at(fraction - 1e-5), segment.point_at(fraction + 1e-5)
    step = math.dist(before, after)
    slope = ((after[0] - before[0]) / step, (after[1] - before[1]) / step)

    assert segment.direction_at(fraction) == pytest.approx(slope, abs=1e-4)
    assert math.hypot(*segment.direction_at(fraction)) == pytest.approx(1.0)


@settings(max_examples=80)
@given(path=paths())
def test_bounds_hold_all_points_and_no_more(path: Path) -> None:
    """Against the box of many points along the path."""
    fine = path.points(0.001)
    xs, ys = zip(*fine, path.end, strict=True)
    expected = (min(xs), min(ys), max(xs), max(ys))

    assert path.bounds == pytest.approx(expected, abs=0.0011)


def test_a_closed_path_may_start_at_any_corner() -> None:
    """The shape stays, the first point changes."""
    path = EXAMPLES["square"].started_at(2)

    assert path.start == (20.0, 20.0)
    assert path.area == EXAMPLES["square"].area
    with pytest.raises(PathError, match="only a closed path"):
        EXAMPLES["line"].started_at(0)


def test_an_uneven_scale_of_arcs_is_refused() -> None:
    """An ellipse is no path; straight edges may be stretched."""
    with pytest.raises(PathError, match="flatten"):
        EXAMPLES["circle"].transformed(Transform(xx=2.0))

    assert EXAMPLES["square"].transformed(Transform(xx=2.0)).area == 800.0


def test_union_of_no_boxes_is_refused() -> None:
    """There is no smallest box around nothing."""
    with pytest.raises(ValueError, match="unpack"):
        union_bounds([])
