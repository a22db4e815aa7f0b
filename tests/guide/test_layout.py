"""Where texts go on a drawing."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.guide.layout import label_inside, overlap, spread

SQUARE = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]


@given(st.lists(st.floats(0, 100), min_size=1, max_size=20))
def test_spread_labels_never_overlap(places: list[float]) -> None:
    """They keep their order, their distance and the room they are given."""
    spots = spread(sorted(places), 3.0, -6.0, 106.0)

    assert all(b - a >= 3.0 - 1e-9 for a, b in itertools.pairwise(spots))
    assert spots[0] >= -6.0 - 1e-9 and spots[-1] <= 106.0 + 1e-9


@pytest.mark.parametrize(
    ("places", "expected"),
    [
        ([10.0, 20.0], [10.0, 20.0]),
        ([10.0, 10.0], [8.5, 11.5]),
        ([10.0, 11.0, 30.0], [9.0, 12.0, 30.0]),
        ([0.0, 0.0, 0.0], [0.0, 3.0, 6.0]),
    ],
)
def test_spread_moves_no_more_than_it_must(places: list[float], expected: list[float]) -> None:
    """Labels that have room stay; a crowd gathers about its middle, held to the ends."""
    assert spread(places, 3.0, 0.0, 40.0) == pytest.approx(expected)


def test_a_name_is_broken_where_it_does_not_fit_on_one_line() -> None:
    """Then turned, then made smaller."""
    wide = label_inside("left top dust flap", SQUARE, (3.4,), ())
    narrow = [(0.0, 0.0), (8.0, 0.0), (8.0, 60.0), (0.0, 60.0)]
    turned = label_inside("left top dust flap", narrow, (3.4,), ())

    assert wide is not None and wide.lines == ("left top dust flap",)
    assert turned is not None and turned.turned


def test_a_name_keeps_clear_of_what_is_there() -> None:
    """Room that is taken is left alone; where none is left there is no label."""
    taken = (14.0, 14.0, 26.0, 26.0)
    label = label_inside("front", SQUARE, (3.4,), [taken])

    assert label is not None and not overlap(label.box, taken)
    assert label_inside("front", SQUARE, (3.4,), [(0.0, 0.0, 40.0, 40.0)]) is None
