"""Sheets that published dissections fill without a rest: the perfect packing is known.

- The tangram: seven pieces of a square (Chinese puzzle, described since 1813).
- A rectangle of 33 × 32 in nine unequal squares: Z. Moroń, "O rozkładach prostokątów na kwadraty",
  Przegląd Matematyczno-Fizyczny 3 (1925).
- A square of 112 in twenty-one unequal squares: A. J. W. Duijvestijn, "Simple perfect squared
  square of lowest order", Journal of Combinatorial Theory B 25 (1978).
"""

from __future__ import annotations

import pytest
import shapely

from cutlayers.job.order import Mode, SheetRules
from cutlayers.net import Net
from cutlayers.sheets.placing import Placing, place_pieces
from tests.sheets.judge import complaints, machine, pieces, polygon_net, rectangle_net, stock

TANGRAM = (
    ((0, 0), (4, 0), (2, 2)),
    ((0, 0), (2, 2), (0, 4)),
    ((4, 0), (4, 2), (3, 1)),
    ((2, 2), (3, 3), (1, 3)),
    ((2, 2), (3, 1), (4, 2), (3, 3)),
    ((0, 4), (1, 3), (3, 3), (2, 4)),
    ((4, 2), (4, 4), (2, 4)),
)
"""Corners on the square of side 4."""

MORON = (18, 15, 14, 10, 9, 8, 7, 4, 1)
DUIJVESTIJN = (
    2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50,
)  # fmt: skip

BED = machine(1000.0, 1000.0, 0.0)


def placed(nets: list[Net], width: float, height: float, mode: Mode, rotation: str) -> Placing:
    """All nets once, gap 0, on sheets of this size; judged before it is given back."""
    card = stock(width, height)
    mix = [piece for net in nets for piece in pieces([net], card, rotation=rotation)]
    rules = SheetRules(gap=0.0, mode=mode, seconds=20)
    placing = place_pieces(mix, BED, rules)
    assert [each for s in placing.sheets for each in complaints(s, BED.bed, rules)] == []
    return placing


def tangram(side: float) -> list[Net]:
    scale = side / 4
    return [
        polygon_net([(x * scale, y * scale) for x, y in corners], f"piece {number}")
        for number, corners in enumerate(TANGRAM, start=1)
    ]


def test_the_dissections_are_what_they_are_said_to_be() -> None:
    """Their areas add up to the whole."""
    assert sum(shapely.Polygon(corners).area for corners in TANGRAM) == 16
    assert sum(side**2 for side in MORON) == 33 * 32
    assert sum(side**2 for side in DUIJVESTIJN) == 112**2


@pytest.mark.parametrize("rotation", ["none", "half", "quarter"])
def test_the_tangram_fills_its_square(rotation: str) -> None:
    """The thorough mode finds the perfect packing, not a hair of room to spare."""
    assert placed(tangram(160.0), 160.0, 160.0, "thorough", rotation).count == 1


@pytest.mark.parametrize("rotation", ["none", "quarter"])
def test_the_quick_mode_needs_one_square_more_at_most(rotation: str) -> None:
    """A perfect packing is not its business; two sheets are."""
    assert placed(tangram(160.0), 160.0, 160.0, "quick", rotation).count <= 2


@pytest.mark.parametrize(("sides", "width", "height"), [(MORON, 33, 32), (DUIJVESTIJN, 112, 112)])
def test_squared_rectangles_take_two_sheets_at_most(
    sides: tuple[int, ...], width: int, height: int
) -> None:
    """One is perfect; less than one is impossible, and is never claimed."""
    nets = [rectangle_net(3.0 * side, 3.0 * side, str(side)) for side in sides]

    assert 1 <= placed(nets, 3.0 * width, 3.0 * height, "quick", "none").count <= 2
