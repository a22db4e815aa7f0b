"""Many shapes at once: each gets what it would get by itself."""

from __future__ import annotations

import pytest
import shapely

from cutlayers.geometry.overlays import area, areas, polygons, rings_of, shared

SQUARE = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
TRIANGLE = [(10.0, 0.0), (12.0, 0.0), (10.0, 2.0)]
BOW = [(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)]
"""It crosses itself in the middle: two triangles of 1 mm²."""


def test_polygons_are_those_made_one_by_one() -> None:
    """Rings of different lengths, in their order; none give none."""
    assert polygons([SQUARE, TRIANGLE]) == [shapely.Polygon(SQUARE), shapely.Polygon(TRIANGLE)]
    assert polygons([]) == []


def test_areas_take_apart_only_what_crosses_itself() -> None:
    """By hand: 16, 2 and twice 1 mm²."""
    found = areas([SQUARE, BOW, TRIANGLE])

    assert [each.area for each in found] == pytest.approx([16.0, 2.0, 2.0])
    assert found == [area(SQUARE), area(BOW), area(TRIANGLE)]
    assert areas([]) == []


def test_borders_come_outer_first_and_back_at_their_start() -> None:
    """Of a part with a hole, of two parts, and of an empty shape, each under its own."""
    hole = [(1.0, 1.0), (1.0, 2.0), (2.0, 2.0), (2.0, 1.0)]
    holed = shapely.Polygon(SQUARE, [hole])
    two = shapely.MultiPolygon([shapely.Polygon(TRIANGLE), holed])

    assert rings_of([holed, shapely.Polygon(), two]) == [
        [[*SQUARE, SQUARE[0]], [*hole, hole[0]]],
        [],
        [[*TRIANGLE, TRIANGLE[0]], [*SQUARE, SQUARE[0]], [*hole, hole[0]]],
    ]


def test_what_many_share_with_one_or_each_with_its_own() -> None:
    """By hand: a box over a quarter of the square, beside the triangle, touching both."""
    shapes = [shapely.Polygon(SQUARE), shapely.Polygon(TRIANGLE)]
    quarter, beside = shapely.box(2, 2, 6, 6), shapely.box(4, 0, 10, 4)

    assert shared(shapes, quarter) == pytest.approx([4.0, 0.0])
    assert shared(shapes, beside) == pytest.approx([0.0, 0.0])
    assert shared(shapes, [quarter, shapely.Polygon(TRIANGLE)]) == pytest.approx([4.0, 2.0])
    assert shared([], quarter) == []
