"""Boxes of random sizes: what a style accepts folds up without a fault.

Nothing here is a number to be met: the outside truth is that rigid panels meet, and do not pass
through one another. What the checks would say of boxes that are wrong is tested beside them.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, event, given, settings
from hypothesis import strategies as st

from cutlayers.box import Box
from cutlayers.checks import check_box
from cutlayers.construction.style import Card, Dimension, Style, styles
from cutlayers.net.folding import fold
from cutlayers.telling.errors import StyleError

FAULTS = {
    "closure",
    "closure-angle",
    "collision",
    "flaps-meet",
    "tab-misses",
    "tab-overhangs",
    "tab-small",
}

SETTINGS = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.filter_too_much]
)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to a hundredth of a millimetre."""
    return st.integers(math.ceil(low * 100), math.floor(high * 100)).map(lambda n: n / 100)


def value(dimension: Dimension, default: object) -> st.SearchStrategy[Any]:
    """A value within a dimension's own limits, most often one that a maker might choose."""
    match dimension.kind:
        case "length" if dimension.group == "size":
            usual = lengths(25, 200)
            return st.one_of(usual, usual, lengths(dimension.minimum, 400))
        case "length":
            top = min(dimension.maximum, 60.0)
            return st.one_of(st.just(default), lengths(dimension.minimum, top))
        case "angle":
            return st.floats(dimension.minimum, dimension.maximum)
        case "choice":
            return st.sampled_from(dimension.choices)
        case "count":
            return st.integers(int(dimension.minimum), int(dimension.maximum))
        case _:
            return st.booleans()


def boxes(style: Style) -> st.SearchStrategy[tuple[dict[str, Any], Card]]:
    values = {name: value(dimension, default) for name, (dimension, default) in style.table.items()}
    cards = st.builds(
        Card, st.sampled_from([0.1, 0.32, 0.6, 1.5]), st.sampled_from(["inside", "score"])
    )
    return st.tuples(st.fixed_dictionaries(values), cards)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_what_a_style_accepts_folds_without_fault(style: Style) -> None:
    """No closure error above 1e-6 mm, no collision, no flaps that meet, no tab astray."""

    @SETTINGS
    @given(boxes(style))
    def check(box: tuple[dict[str, Any], Card]) -> None:
        values, card = box
        try:
            nets = style.build(style.dimensions(**values), card)
        except StyleError as refused:
            event(refused.field)
            assume(False)
        assert max(fold(net).closure_error for net in nets) <= 1e-6
        found = [each for each in check_box(Box.of(nets, card.caliper)) if each.code in FAULTS]
        assert found == []

    check()


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_what_a_style_refuses_it_refuses_by_name(style: Style) -> None:
    """Whatever the sizes, there is a box or a StyleError for a dimension that the style has."""

    @SETTINGS
    @given(boxes(style))
    def check(box: tuple[dict[str, Any], Card]) -> None:
        values, card = box
        try:
            style.build(style.dimensions(**values), card)
        except StyleError as refused:
            table, _, name = refused.field.rpartition(".")
            assert table in ("size", "options")
            assert style.table[name][0].group == {"size": "size", "options": "option"}[table]

    check()
