"""Grain across the main folds."""

from __future__ import annotations

import pytest

from cutlayers.checks.grain import check_grain
from cutlayers.construction.style import Card, style_named
from cutlayers.net import Net
from cutlayers.telling.words import sentence_of
from tests.checks.boxes import square_tray


def carton() -> Net:
    style = style_named("tuck-carton")
    (net,) = style.build(style.dimensions(), Card(0.3))
    return net


def test_a_tube_wants_its_grain_along_its_upright_folds() -> None:
    """Three hinges between four walls, 90.3 mm each less a caliper of 0.3 mm at both ends, where
    the side walls end a layer inside."""
    assert check_grain(carton(), (0.0, 1.0)) == ()
    (finding,) = check_grain(carton(), (1.0, 0.0))
    assert finding.code == "grain"
    assert (
        "269 mm of the main folds run across the grain and 0 mm along it"
        in sentence_of(finding).found
    )


@pytest.mark.parametrize("grain", [(1.0, 0.0), (0.0, 2.0)])
def test_a_square_tray_is_the_same_either_way(grain: tuple[float, float]) -> None:
    """As much fold along as across: turning does not help, so nothing is said."""
    assert check_grain(square_tray("tray", 60, 20), grain) == ()
