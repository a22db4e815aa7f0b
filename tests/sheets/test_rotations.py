"""Which turns a piece may have."""

from __future__ import annotations

import math

import pytest

from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle
from cutlayers.sheets.placing import place_pieces
from cutlayers.sheets.rotations import allowed_turns, main_fold_directions, turns
from cutlayers.telling.errors import PlacementError
from tests.sheets.judge import machine, pieces, rectangle_net, stock


def strip() -> Net:
    """Three walls in a row: two folds that run up and down."""
    net = Net.start("strip", "one", rectangle(30, 80), Role.WALL)
    net = net.attach("two", rectangle(40, 80), to="one.right", own="left", role=Role.WALL)
    return net.attach("three", rectangle(30, 80), to="two.right", own="left", role=Role.WALL)


@pytest.mark.parametrize(
    ("rotation", "angles"),
    [("none", {0}), ("half", {0, 180}), ("quarter", {0, 90, 180, 270})],
)
def test_turns_by_name(rotation: str, angles: set[int]) -> None:
    """As the words say."""
    assert set(turns(rotation)) == angles  # type: ignore[arg-type]


def test_main_folds_of_a_strip_run_up_and_down() -> None:
    """The walls' folds, 90° from the net's x axis."""
    assert main_fold_directions(strip()) == pytest.approx((90.0,))


def test_a_net_without_folds_has_no_direction() -> None:
    """A plain card may lie any way."""
    assert main_fold_directions(rectangle_net(10, 20)) == ()


@pytest.mark.parametrize(
    ("size", "grain", "way", "turned", "expected"),
    [
        ((210, 297), "long", "along", False, (0.0, 180.0)),  # fibres up, folds up
        ((210, 297), "short", "along", False, (90.0, 270.0)),  # fibres across the page
        ((210, 297), "long", "across", False, (90.0, 270.0)),
        ((210, 297), "long", "along", True, (90.0, 270.0)),  # the sheet lies turned on the bed
        ((297, 210), "long", "along", False, (90.0, 270.0)),  # landscape: fibres along the width
    ],
)
def test_grain_decides_between_upright_and_quarter(
    size: tuple[float, float], grain: str, way: str, turned: bool, expected: tuple[float, ...]
) -> None:
    """Folds of the strip run up; grain is a side of the sheet."""
    card = stock(*size, grain)

    angles = allowed_turns(strip(), "quarter", way, card, turned)  # type: ignore[arg-type]

    assert angles == pytest.approx(expected)


def test_placed_folds_run_along_the_fibres() -> None:
    """On the sheet itself: every fold between walls is parallel to the long side."""
    card = stock(300, 200, "long")
    placing = place_pieces(pieces([strip()], card, 3, grain="along"), machine(305, 305, 5.0))

    for sheet in placing.sheets:
        for placed in sheet.placed:
            net = placed.piece.net.transformed(placed.place)
            for hinge in net.hinges:
                (x0, y0), (x1, y1) = hinge.edge.start, hinge.edge.end
                assert math.isclose(y0, y1, abs_tol=1e-9)
                assert not math.isclose(x0, x1, abs_tol=1.0)


def test_grain_and_no_turning_can_be_at_odds() -> None:
    """Told, not overruled."""
    with pytest.raises(PlacementError, match='rotation is "none"'):
        allowed_turns(strip(), "none", "along", stock(210, 297, "short"), False)


def test_unknown_grain_is_refused() -> None:
    """Nothing is guessed."""
    with pytest.raises(PlacementError, match=r"stock\.card\.grain is unknown"):
        allowed_turns(strip(), "quarter", "along", stock(210, 297), False)
