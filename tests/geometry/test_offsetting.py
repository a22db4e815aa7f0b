"""Closed paths moved sideways."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.offsetting import offset, offset_parts
from cutlayers.geometry.paths import Path, rounded
from cutlayers.telling.errors import CollapseError, PathError
from tests.toolpaths.shapes import ROUND, contours, polygon

SQUARE = Path.rectangle(40, 40)
NOTCHED = Path.polygon(
    [(0, 0), (60, 0), (60, 20), (30.1, 20), (30.1, 10), (29.9, 10), (29.9, 20), (0, 20)]
)
"""A plate with a notch 0.2 mm wide and 10 mm deep."""


def test_distance_zero_gives_the_path_itself() -> None:
    """Nothing is moved by nothing."""
    assert offset(SQUARE, 0.0) is SQUARE


def test_an_open_path_has_no_sides() -> None:
    """An open path is refused."""
    with pytest.raises(PathError, match="closed"):
        offset(Path.line((0, 0), (1, 0)), 1.0)


def test_a_square_grows_arcs_at_its_corners() -> None:
    """Each convex corner becomes a quarter circle about itself: bulge tan(90°/4)."""
    moved = offset(SQUARE, 2.0)

    arcs = [edge for edge in moved.segments if edge.bulge]
    assert [edge.bulge for edge in arcs] == pytest.approx([math.tan(math.pi / 8)] * 4)
    assert {tuple(round(c, 6) + 0.0 for c in edge.centre) for edge in arcs} == {
        (0, 0),
        (40, 0),
        (40, 40),
        (0, 40),
    }
    assert moved.bounds == pytest.approx((-2, -2, 42, 42))


def test_a_square_shrinks_to_a_square() -> None:
    """Inward there is no arc: the concave side is trimmed."""
    moved = offset(SQUARE, -5.0)

    assert moved.bounds == pytest.approx((5, 5, 35, 35))
    assert not any(moved.bulges)
    assert len(moved.vertices) == 4


@pytest.mark.parametrize("distance", [0.5, -0.5, 3.0, -3.0])
def test_an_arc_keeps_its_centre(distance: float) -> None:
    """The offset of an arc of radius r is an arc of radius r ± d about the same centre."""
    moved = offset(rounded([(0, 0), (60, 0), (60, 40), (0, 40)], [8, 8, 8, 8]), distance)

    arcs = [edge for edge in moved.segments if edge.bulge]
    assert [edge.radius for edge in arcs] == pytest.approx([8 + distance] * 4)
    assert sorted(tuple(round(c, 6) for c in edge.centre) for edge in arcs) == [
        (8, 8),
        (8, 32),
        (52, 8),
        (52, 32),
    ]


def test_a_clockwise_path_moves_into_its_hole() -> None:
    """Positive is to the right of the walk, which in a hole is away from the card."""
    moved = offset(Path.circle((5, 5), 10).reversed(), 1.0)

    assert moved.area == pytest.approx(-math.pi * 81)


def test_a_narrow_notch_is_named_not_mended() -> None:
    """The collapse tells where: in the notch, which runs from x 29.9 to 30.1."""
    with pytest.raises(CollapseError) as caught:
        offset(NOTCHED, 0.15)

    x, y = caught.value.place
    assert 29.9 <= x <= 30.1
    assert 10 <= y <= 20
    assert "0.3 mm" in str(caught.value)


def test_a_notch_wider_than_twice_the_distance_stays() -> None:
    """0.2 mm take an offset of 0.05 mm."""
    assert len(offset(NOTCHED, 0.05).segments) > 8


@pytest.mark.parametrize("radius", [0.1, 0.29])
def test_a_hole_smaller_than_the_distance_is_swallowed_whole(radius: float) -> None:
    """Nothing is left of it, and the loss is the whole hole."""
    hole = Path.circle((3, 4), radius).reversed()
    moved = offset_parts(hole, 0.3)

    assert moved.loops == ()
    assert [loss.path for loss in moved.losses] == [hole]
    assert moved.losses[0].depth == math.inf


def test_a_waist_too_narrow_parts_the_path() -> None:
    """Two plates joined by a waist 1 mm wide shrink to two paths; the waist is the loss."""
    plates = Path.polygon(
        [
            *((0, 0), (20, 0), (20, 9.5), (40, 9.5), (40, 0), (60, 0)),
            *((60, 20), (40, 20), (40, 10.5), (20, 10.5), (20, 20), (0, 20)),
        ]
    )
    moved = offset_parts(plates, -0.75)

    # About the waist's two corners run arcs of 0.75 mm, which meet in the middle of it: between
    # them and the straight border lies 2·∫(0.75 − √(0.75² − u²))du, u from 0 to 0.5.
    bay = 2 * (0.375 - (0.5 * math.sqrt(0.3125) + 0.5625 * math.asin(0.5 / 0.75)) / 2)
    assert [loop.area for loop in moved.loops] == pytest.approx([18.5**2 + bay] * 2)
    lost = [loss for loss in moved.losses if not loss.is_corner]
    assert sorted(edge for loss in lost for edge in loss.whole) == [2, 8]
    with pytest.raises(CollapseError):
        offset(plates, -0.75)


def test_a_pocket_with_a_narrow_mouth_becomes_a_loop_of_its_own() -> None:
    """A keyhole whose slot is narrower than twice the distance: the round part stays."""
    keyhole = Path(
        ((0, 0), (40, 0), (40, 40), (20.2, 40), (20.2, 20), (19.8, 20), (19.8, 40), (0, 40)),
        (0, 0, 0, 0, -3.0, 0, 0, 0),
        closed=True,
    )
    moved = offset_parts(keyhole, 0.25)

    assert len(moved.loops) == 2
    assert [loop.area > 0 for loop in moved.loops].count(False) == 1


def test_a_waist_of_two_arcs_is_a_loss_within_each() -> None:
    """Two arcs of sagitta 9.6 mm leave a waist of 0.8 mm: half a millimetre from either side
    parts the path in two, and the loss is the middle of each arc, not one of their corners."""
    hourglass = Path(((0, 0), (40, 0), (40, 20), (0, 20)), (-0.48, 0, -0.48, 0), closed=True)
    moved = offset_parts(hourglass, -0.5)

    assert len(moved.loops) == 2
    losses = sorted(moved.losses, key=lambda loss: loss.edges)
    waist = [loss for loss in losses if not loss.is_corner]
    assert [(loss.edges, loss.whole) for loss in waist] == [((0,), ()), ((2,), ())]
    assert [loss.middle for loss in waist] == [
        pytest.approx((20.0, 9.6), abs=1e-6),
        pytest.approx((20.0, 10.4), abs=1e-6),
    ]


def test_a_cusp_of_card_gets_half_a_circle() -> None:
    """Where an edge goes back beside the one before it, inside, the point of card is convex."""
    cusp = Path(((0, 0), (40, 0), (0, 15)), (0, -math.tan(math.atan2(15, 40) / 2), 0), closed=True)
    moved = offset(cusp, 1.0)

    assert max(edge.bulge for edge in moved.segments) == pytest.approx(1.0)
    assert moved.bounds[2] == pytest.approx(41.0)


@given(contours(), st.sampled_from([0.05, 0.1, 0.5, 1.0, -0.05, -0.5, -1.0]))
@settings(max_examples=60, deadline=None)
def test_moved_paths_enclose_what_shapely_says(path: Path, distance: float) -> None:
    """Area and outline agree with shapely's own buffer, whatever became of the path."""
    moved = offset_parts(path, distance)
    mine = sum(loop.area for loop in moved.loops)
    theirs = polygon(path).buffer(distance, quad_segs=ROUND)

    assert mine == pytest.approx(theirs.area, abs=1e-3 * path.length)
    for loop in moved.loops:
        for point in loop.vertices:
            assert theirs.boundary.distance(shapely.Point(point)) < 2e-3


@given(contours(bends=False), st.floats(0.05, 3.0))
@settings(max_examples=40, deadline=None)
def test_out_and_in_again_gives_back_a_convex_outline(path: Path, distance: float) -> None:
    """A convex outline comes back from any offset; corners reappear where the arcs were."""
    hull = polygon(path).convex_hull
    assert isinstance(hull, shapely.Polygon)
    corners = [(x, y) for x, y in hull.exterior.coords[:-1]]
    convex = Path.polygon(corners if hull.exterior.is_ccw else corners[::-1])
    back = offset_parts(offset(convex, distance), -distance)

    assert sum(loop.area for loop in back.loops) == pytest.approx(convex.area, abs=1e-3)


@given(contours(), st.floats(0.05, 1.0))
@settings(max_examples=30, deadline=None)
def test_turning_the_path_round_turns_the_offset_round(path: Path, distance: float) -> None:
    """Left of a path is right of the reversed one, losses included."""
    one, other = offset_parts(path, -distance), offset_parts(path.reversed(), distance)

    assert sorted(loop.area for loop in one.loops) == pytest.approx(
        sorted(-loop.area for loop in other.loops)
    )
    assert {loss.whole for loss in one.losses} == {
        tuple(len(path.bulges) - 1 - edge for edge in reversed(loss.whole)) for loss in other.losses
    }


@pytest.mark.parametrize("distance", [-0.125, 0.125])
def test_rounding_at_a_corner_loses_no_piece_of_no_length(distance: float) -> None:
    """Three arcs, of which one ends where it is lost by the last digits: by an independent library
    the area is that of the outline grown or shrunk by as much."""
    corners = ((0.0, 0.0), (3.99964733, -0.502813322), (3.999639574, 0.0))
    outline = Path(corners, (1.000010841, 0.995574236, 0.882158638), closed=True)

    moved = offset_parts(outline, distance)

    (loop,) = moved.loops
    drawn = shapely.Polygon(outline.points(1e-4)).buffer(-distance, quad_segs=64)
    other = shapely.Polygon(outline.points(1e-4)).buffer(distance, quad_segs=64)
    assert min(abs(each.area - loop.area) for each in (drawn, other)) < 5e-3
