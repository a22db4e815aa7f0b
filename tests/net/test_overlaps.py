"""Which side of an outline a point lies on, against shapely."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Transform
from cutlayers.net.overlaps import crossing, encloses, fraction_on
from cutlayers.net.shapes import Shape
from tests.net.strategies import flat, motions, roots

coordinates = st.floats(-70, 70)


@settings(max_examples=200, deadline=None)
@given(roots(), motions(), coordinates, coordinates)
def test_encloses_agrees_with_shapely(shape: Shape, motion: Transform, x: float, y: float) -> None:
    """Off the line by more than the chords of the flattened outline are, both say the same."""
    path = shape.outline.transformed(motion)
    point = motion.apply((x, y))
    polygon = flat(path, 1e-3)
    spot = shapely.Point(point)
    assume(polygon.exterior.distance(spot) > 2e-3)

    assert encloses(path, point) == polygon.contains(spot)
    assert encloses(path.reversed(), point) == polygon.contains(spot)


@pytest.mark.parametrize("bulge", [1.0, 0.4, -0.4, 2.5, -2.5])
@pytest.mark.parametrize("walked", [1, -1])
def test_a_point_on_the_chord_of_an_arc_is_on_neither_side_of_doubt(
    bulge: float, walked: int
) -> None:
    """The middle of a chord is inside where the arc bulges out, outside where it bulges in."""
    path = Path(
        ((0, 0), (20, 0), (20, 80), (0, 80)), (bulge, 0, 0, 0), closed=True
    )  # the chord runs along y = 0, and the arc below it where the bulge is positive
    path = path if walked > 0 else path.reversed()

    assert encloses(path, (10.0, 0.0)) == (bulge > 0)


CROSSINGS = {
    "two lines": (Segment((0, 0), (10, 10)), Segment((0, 10), (10, 0)), (5, 5)),
    "a line and an arc": (
        Segment((0, -5), (0, 15)),
        Segment((10, 0), (-10, 0), 1.0),
        (0, 10),
    ),
    "two arcs": (
        Segment((10, 0), (-10, 0), 1.0),
        Segment((22, 0), (2, 0), 1.0),
        (6, 8),
    ),
    "lines that only meet": (Segment((0, 0), (10, 10)), Segment((5, 5), (10, 0)), None),
    "lines that would cross farther on": (Segment((0, 0), (4, 4)), Segment((0, 10), (10, 0)), None),
    "one line twice": (Segment((0, 0), (10, 0)), Segment((5, 0), (15, 0)), None),
    "a line that touches an arc": (
        Segment((-20, 10), (20, 10)),
        Segment((10, 0), (-10, 0), 1.0),
        None,
    ),
    "a line over the missing half": (
        Segment((0, -5), (0, -15)),
        Segment((10, 0), (-10, 0), 1.0),
        None,
    ),
    "circles in one another": (
        Segment((10, 0), (-10, 0), 1.0),
        Segment((5, 0), (-5, 0), 1.0),
        None,
    ),
    "circles that touch": (
        Segment((10, 0), (-10, 0), 1.0),
        Segment((0, 10), (0, 30), 1.0),
        None,
    ),
}


@pytest.mark.parametrize(("one", "other", "place"), CROSSINGS.values(), ids=CROSSINGS.keys())
def test_edges_cross_only_inside_both(
    one: Segment, other: Segment, place: tuple[float, float] | None
) -> None:
    """Each way round; 6-8-10 is the right triangle of the two arcs."""
    for first in (one, one.reversed()):
        for second in (other, other.reversed()):
            for found in (crossing(first, second), crossing(second, first)):
                assert found == (place if place is None else pytest.approx(place))


@pytest.mark.parametrize("fraction", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("bulge", [0.0, 0.3, -1.0, 2.0])
def test_the_place_on_an_edge_is_found_again(fraction: float, bulge: float) -> None:
    """A point at a fraction of the length is found at that fraction."""
    edge = Segment((3.0, 4.0), (40.0, -7.0), bulge)

    assert fraction_on(edge, edge.point_at(fraction)) == pytest.approx(fraction)


@pytest.mark.parametrize("bulge", [0.0, 0.3])
def test_places_off_an_edge_and_its_ends_are_not_on_it(bulge: float) -> None:
    """An end is no inner place, and a micrometre beside is beside."""
    edge = Segment((0.0, 0.0), (40.0, 0.0), bulge)
    x, y = edge.point_at(0.5)

    assert fraction_on(edge, edge.start) in (None, 0.0)
    assert fraction_on(edge, (x, y + 1e-3)) is None
    assert not math.isclose(y + 1e-3, y)
