"""Boxes into a sheet with forbidden squares."""

from __future__ import annotations

import random

import shapely

from cutlayers.sheets.packing import FreeSpace


def test_random_boxes_never_overlap_and_keep_the_gap() -> None:
    """Two hundred sheets filled with random boxes, judged by shapely."""
    chance = random.Random(1)
    for _ in range(200):
        area = (
            chance.uniform(0, 10),
            chance.uniform(0, 10),
            chance.uniform(100, 300),
            chance.uniform(100, 300),
        )
        forbidden = [(5.0, 5.0, 25.0, 25.0), (area[2] - 20, 5.0, area[2], 25.0)]
        gap = chance.choice((0.0, 2.0, 7.5))
        space = FreeSpace(area, forbidden, gap)
        laid = []
        for _ in range(20):
            wide, high = chance.uniform(10, 90), chance.uniform(10, 90)
            spot = space.place(wide, high)
            if spot:
                wide, high = (high, wide) if spot.turned else (wide, high)
                laid.append(shapely.box(spot.x, spot.y, spot.x + wide, spot.y + high))
        bound = shapely.box(*area).buffer(1e-6, join_style="mitre")
        squares = [shapely.box(*box).buffer(-1e-6) for box in forbidden]

        assert laid
        assert all(bound.covers(box) for box in laid)
        assert not any(box.intersects(square) for box in laid for square in squares)
        for one in range(len(laid)):
            for other in range(one):
                overlap = laid[one].buffer(-1e-6).intersects(laid[other])
                assert not overlap
                assert laid[one].distance(laid[other]) >= gap - 1e-6


def test_four_quarters_fill_the_whole() -> None:
    """Exact fits are found."""
    space = FreeSpace((0.0, 0.0, 100.0, 60.0), (), 0.0)

    spots = [space.place(50, 30, turns=(False,)) for _ in range(5)]

    assert sorted((spot.x, spot.y) for spot in spots if spot) == [
        (0, 0),
        (0, 30),
        (50, 0),
        (50, 30),
    ]
    assert spots[4] is None


def test_turns_can_be_forbidden() -> None:
    """A tall box in a low space."""
    space = FreeSpace((0.0, 0.0, 100.0, 40.0), (), 0.0)

    assert space.place(30, 90, turns=(False,)) is None
    assert space.place(30, 90, turns=(True,)) is not None
