"""Points folded flat: mountains less valleys must be ±2 (Maekawa and Justin)."""

from __future__ import annotations

import pytest

from cutlayers.checks.flat import check_flat
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net import Net
from cutlayers.telling.words import place_of
from tests.checks.test_closing import four_round_a_point


@pytest.mark.parametrize(
    ("folds_deg", "fine"),
    [
        ((180, 180, 180, -180), True),
        ((-180, -180, 180, -180), True),
        ((180, 180, 180, 180), False),
        ((180, -180, 180, -180), False),
        ((180, 180, -180, -180), False),
        ((90, 180, 90, 180), True),  # not folded flat, so nothing is asked of it
    ],
)
def test_three_of_one_kind_and_one_of_the_other(folds_deg: tuple[float, ...], fine: bool) -> None:
    """Four creases at right angles, as when a sheet is folded twice."""
    found = check_flat(four_round_a_point(*folds_deg))

    assert (found == ()) == fine
    if not fine:
        assert found[0].code == "flat-point"
        assert "(10.0, 10.0) mm" in place_of(found[0])


def test_creases_that_end_at_a_border_are_free() -> None:
    """A strip folded to and fro has no inner point."""
    style = style_named("gable-carton")
    lid: Net = style.build(style.dimensions(), Card(0.3))[1]

    assert check_flat(lid) == ()
