"""Grain across the main folds, and blanks that are too large."""

from __future__ import annotations

import pytest

from cutlayers.checks.grain import check_grain
from cutlayers.checks.sheet import check_sheet
from cutlayers.construction.style import Card, style_named
from cutlayers.net import Net
from cutlayers.telling.words import place_of, sentence_of
from tests.checks.boxes import square_tray


def carton() -> Net:
    style = style_named("tuck-carton")
    (net,) = style.build(style.dimensions(), Card(0.3))
    return net


def test_a_tube_wants_its_grain_along_its_upright_folds() -> None:
    """Three hinges between four walls, 90.3 mm each."""
    assert check_grain(carton(), (0.0, 1.0)) == ()
    (finding,) = check_grain(carton(), (1.0, 0.0))
    assert finding.code == "grain"
    assert (
        "271 mm of the main folds run across the grain and 0 mm along it"
        in sentence_of(finding).found
    )


@pytest.mark.parametrize("grain", [(1.0, 0.0), (0.0, 2.0)])
def test_a_square_tray_is_the_same_either_way(grain: tuple[float, float]) -> None:
    """As much fold along as across: turning does not help, so nothing is said."""
    assert check_grain(square_tray("tray", 60, 20), grain) == ()


@pytest.mark.parametrize(
    ("room", "code"),
    [
        ((100, 100), None),
        ((100, 120), None),
        ((99.9, 120), "blank-too-large"),
        ((59, 300), "panel-too-large"),
    ],
)
def test_a_blank_must_lie_on_its_sheet(room: tuple[float, float], code: str | None) -> None:
    """A tray of 60 mm with walls of 20 mm is 100 mm square when flat."""
    found = check_sheet([square_tray("tray", 60, 20)], room)

    assert [each.code for each in found] == ([code] if code else [])


def test_a_blank_may_be_turned() -> None:
    """A strip of 270 × 20 mm in a room of 30 × 280 mm."""
    from cutlayers.net.shapes import rectangle

    net = Net.start("strip", "only", rectangle(270, 20))
    assert check_sheet([net], (30, 280)) == ()


def test_the_panel_at_fault_is_named() -> None:
    """The base is what no sheet of that width can hold."""
    (finding,) = check_sheet([square_tray("tray", 60, 20)], (59, 300))
    assert place_of(finding) == "tray: base"
