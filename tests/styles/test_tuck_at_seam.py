"""A tuck that goes behind the wall with the seam's tab is two layers narrower."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.telling.errors import StyleError


@pytest.mark.parametrize("caliper", [1.0, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("clearance", [0.0, 0.5])
def test_a_carton_too_short_for_it_is_refused_by_its_length(
    caliper: float, clearance: float
) -> None:
    """One that is long enough for straight tucks alone; the length that is named does."""
    style = style_named("tuck-carton")
    card = Card(caliper, "inside")

    def build(length: float, ends: str) -> None:
        sizes = {"length": length, "width": 20.0, "height": 40.0}
        style.build(style.dimensions(**sizes, tab=4.0, clearance=clearance, ends=ends), card)

    with pytest.raises(StyleError) as straight:
        build(1.0, "straight")
    short = float(str(straight.value.works))
    build(short + 0.6, "straight")
    with pytest.raises(StyleError) as refused:
        build(short + 0.6, "reverse")

    assert refused.value.field == "size.length"
    build(float(str(refused.value.works)), "reverse")
