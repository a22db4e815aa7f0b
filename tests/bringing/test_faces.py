"""Which face a point lies in, arcs and all. Worked by hand."""

from __future__ import annotations

from cutlayers.bringing.faces import Finder
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point

SQUARE = Path.rectangle(20.0, 20.0)

DISC = Path(((8.0, 10.0), (12.0, 10.0)), (1.0, 1.0), closed=True)
"""Two half circles of 2 mm radius about (10, 10)."""

ARCHED = Path(((30.0, 0.0), (50.0, 0.0), (50.0, 20.0), (30.0, 20.0)), (1.0, 0, -0.5, 0), True)
"""A side bulges out by half a circle of 10 mm radius, the one across bulges in by 5 mm."""


def test_the_smallest_face_counts() -> None:
    points: dict[Point, int | None] = {
        (1.0, 1.0): 0,
        (10.0, 10.5): 1,
        (10.0, 8.1): 1,
        (10.0, 7.9): 0,
        (25.0, 5.0): None,
    }

    assert Finder([SQUARE, DISC]).at(list(points)) == list(points.values())
    assert Finder([DISC, SQUARE]).at([(10.0, 10.5), (1.0, 1.0)]) == [0, 1]


def test_arcs_bound_faces() -> None:
    points: dict[Point, int | None] = {
        (40.0, -9.9): 0,
        (40.0, -10.1): None,
        (31.0, -8.0): None,
        (40.0, 14.9): 0,
        (40.0, 15.1): None,
        (30.5, 19.0): 0,
    }

    assert Finder([ARCHED]).at(list(points)) == list(points.values())


def test_no_points_are_in_no_face() -> None:
    assert Finder([SQUARE]).at([]) == []
    assert Finder([]).at([(0.0, 0.0)]) == [None]
