"""Creases that leave the card, at corners of cuts and across cuts. Places worked by hand."""

from __future__ import annotations

from typing import Literal

import pytest

from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.lines import Kind
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from tests.bringing.drawn import box, cuts, meant, scores

SHEET = box(0, 0, 100, 60)

HOLE = [(Kind.CUT, Path.polygon([(50, 29), (51, 30), (50, 31), (49, 30)]))]
"""1.4 mm along its sides, standing on a corner, as where creases of thick card meet."""


def creases(
    *ends: tuple[Point, Point],
    cut: list[tuple[Kind, Path]],
    what: Literal["trim", "keep"] = "trim",
) -> tuple[set[frozenset[Point]], int]:
    """The scored edges that come of some creases, and how many ends were cut back."""
    cleaned = clean(meant([*SHEET, *cut, *scores(*ends)]), ends=what)
    return {
        frozenset((round(x, 6), round(y, 6)) for x, y in (edge.segment.start, edge.segment.end))
        for edge in cleaned.edges
        if edge.kind is Kind.SCORE
    }, cleaned.counts.trimmed


@pytest.mark.parametrize("past", [0.5, 2.0, 2.7], ids=["amid", "as far as it goes", "beyond"])
def test_a_crease_ends_at_the_corner_of_a_hole(past: float) -> None:
    """Whether it ends in the hole, on its other side or in the panel beyond."""
    left, trimmed = creases(((0, 30), (49 + past, 30)), cut=HOLE)

    assert left == {frozenset({(0, 30), (49, 30)})}
    assert trimmed == 1


def test_a_crease_that_goes_on_along_a_cut_ends_where_that_begins() -> None:
    """The border's first side runs as the crease does, the other one across it."""
    notch = cuts(((0, 20), (30, 20)), ((30, 20), (32, 20)), ((32, 20), (32, 0)))
    left, trimmed = creases(((100, 20), (31, 20)), cut=notch)

    assert left == {frozenset({(100, 20), (32, 20)})}
    assert trimmed == 1


def test_a_crease_that_passes_the_point_of_a_notch_goes_on() -> None:
    """Both sides of the notch are on the one side of the crease."""
    notch = cuts(((40, 60), (50, 30)), ((50, 30), (60, 60)))
    left, trimmed = creases(((0, 30), (51, 30)), ((51, 30), (100, 30)), cut=notch)

    assert left == {frozenset({(0, 30), (50, 30)}), frozenset({(50, 30), (100, 30)})}
    assert trimmed == 0


def test_a_crease_crosses_the_end_of_a_slit() -> None:
    """A cut that ends there parts no card."""
    left, trimmed = creases(((0, 30), (100, 30)), cut=cuts(((98, 30), (98, 50))))

    assert frozenset({(98, 30), (100, 30)}) in left
    assert trimmed == 0


def test_a_crease_far_past_a_corner_is_meant() -> None:
    """As one that is drawn right across a hole: 4 mm, and more than a slip is taken for."""
    left, trimmed = creases(((0, 30), (100, 30)), cut=HOLE)

    assert {frozenset({(0, 30), (49, 30)}), frozenset({(51, 30), (100, 30)})} <= left
    assert trimmed == 0


def test_ends_that_are_to_be_kept_stay() -> None:
    left, trimmed = creases(((0, 30), (50, 30)), cut=HOLE, what="keep")

    assert left == {frozenset({(0, 30), (49, 30)}), frozenset({(49, 30), (50, 30)})}
    assert trimmed == 0


@pytest.mark.parametrize("more", [0.6, 1.4, 2.9])
def test_a_crease_that_crosses_a_cut_and_ends_in_nothing_holds_no_other(more: float) -> None:
    """One that runs over the border of a notch, past the end of another that comes to the notch's
    far side: that one ends on the border, 0.2 mm on, and not on the first."""
    notch = cuts(((0, 20), (60, 20)), ((60, 20), (60, 21)), ((60, 21), (0, 21)))
    upright, short = ((30, 60), (30, 21 - more)), ((30.1, 0), (30.1, 19.8))
    left, _ = creases(upright, short, cut=notch)

    assert left == {frozenset({(30, 60), (30, 21)}), frozenset({(30.1, 0), (30.1, 20)})}


def test_a_crease_in_two_goes_crosses_a_slit() -> None:
    """The first ends just past the slit and 0.2 mm before the second, which is a gap."""
    goes = ((0, 30), (98.5, 30)), ((98.7, 30), (100, 30))
    left, trimmed = creases(*goes, cut=cuts(((98, 20), (98, 50))))

    assert left == {frozenset({(0, 30), (98, 30)}), frozenset({(98, 30), (100, 30)})}
    assert trimmed == 0
