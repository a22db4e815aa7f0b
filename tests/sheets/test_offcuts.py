"""What is left of a sheet, against hand-worked rectangles."""

from __future__ import annotations

import pytest

from cutlayers.geometry.transforms import Transform
from cutlayers.sheets.model import Placed, Sheet
from cutlayers.sheets.offcuts import off_cuts, used_share
from cutlayers.sheets.register import register_marks
from tests.sheets.judge import CUTTER, pieces, rectangle_net, stock


def sheet(*boxes: tuple[float, float, float, float], marks: bool = False) -> Sheet:
    """A 300 × 200 sheet with boxes (x, y, width, height) on it."""
    card = stock(300, 200)
    placed = tuple(
        Placed(pieces([rectangle_net(wide, high)], card)[0], Transform.translation(x, y))
        for x, y, wide, high in boxes
    )
    found = register_marks(300, 200, CUTTER.register) if marks else ()
    return Sheet(card, 1, 300, 200, placed, found)


def test_used_share_is_area_over_area() -> None:
    """100 × 60 twice of 300 × 200: 12000 of 60000."""
    assert used_share(sheet((0, 0, 100, 60), (150, 90, 100, 60))) == pytest.approx(0.2)


def test_an_empty_sheet_is_all_left() -> None:
    """One rectangle, exactly the sheet."""
    assert off_cuts(sheet()) == ((0.0, 0.0, 300.0, 200.0),)


def test_the_largest_rectangle_is_exact() -> None:
    """A 120 × 90.3 piece in the corner leaves 180 × 200 beside it, then 120 × 109.7 above it."""
    assert [
        tuple(round(side, 6) for side in box) for box in off_cuts(sheet((0, 0, 120, 90.3)))
    ] == [(120.0, 0.0, 300.0, 200.0), (0.0, 90.3, 120.0, 200.0)]


def test_narrow_strips_are_not_told() -> None:
    """A piece that leaves 40 mm all round leaves nothing worth keeping."""
    assert off_cuts(sheet((40, 40, 220, 120))) == ()


def test_marks_are_kept_out_of_off_cuts() -> None:
    """What is printed on is not clean card."""
    marked = sheet(marks=True)
    squares = [mark.keep_out for mark in marked.marks]
    for left, bottom, right, top in off_cuts(marked):
        for square in squares:
            apart = (
                square[2] <= left + 1e-9
                or square[0] >= right - 1e-9
                or square[3] <= bottom + 1e-9
                or square[1] >= top - 1e-9
            )
            assert apart
