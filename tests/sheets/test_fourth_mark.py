"""A fourth mark where a sheet has room for one: it checks the three others."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.sheets.model import Sheet
from tests.printed import machine, planned

JOB = {"stock": {"card": {"caliper": 0.3, "sheet": "A5"}}}


def laid(length: float, width: float, count: int, *, printed: bool) -> tuple[Sheet, ...]:
    """Trays on A5, which lies upright: their blanks are 40 mm longer and wider."""
    piece = {
        "style": "tray",
        "stock": "card",
        "count": count,
        "size": {"length": length, "width": width, "height": 20.0},
    }
    if printed:
        piece["art"] = [{"roles": "wall", "colour": "#0072B2"}]
    return planned({**JOB, "piece": [piece]}, machine()).sheets


def card(sheet: Sheet) -> BaseGeometry:
    """What the pieces cover, from their cut lines alone."""
    lines = [stroke.path for stroke in sheet.strokes if stroke.path.closed]
    return shapely.union_all([shapely.Polygon(line.points(0.01)) for line in lines])


@pytest.mark.parametrize("printed", [False, True])
@pytest.mark.parametrize(
    ("length", "width", "count"),
    [(40, 30, 1), (40, 30, 4), (60, 40, 2), (150, 70, 1), (150, 88, 1), (30, 25, 6)],
)
def test_a_fourth_mark_stands_in_waste(length: int, width: int, count: int, printed: bool) -> None:
    """Or there is none; and it is never the one in the upper right corner, which would let a sheet
    that is fed upside down go unnoticed."""
    for sheet in laid(length, width, count, printed=printed):
        squares = [shapely.box(*mark.keep_out) for mark in sheet.marks]

        assert len(squares) in (3, 4)
        for square in squares:
            assert square.intersection(card(sheet)).area < 1e-6
        assert shapely.union_all(squares).area == pytest.approx(sum(s.area for s in squares))
        for mark in sheet.marks[3:]:
            assert mark.centre != (sheet.width - 12.0, sheet.height - 12.0)


def test_it_is_there_by_itself() -> None:
    """A small box leaves the best place free: in from the corner by a quarter of the width."""
    (sheet,) = laid(40, 30, 1, printed=True)

    assert sheet.marks[3].centre == (0.75 * sheet.width - 12.0, sheet.height - 12.0)
