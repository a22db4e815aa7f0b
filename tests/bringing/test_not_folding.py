"""Lines between panels that cannot all be creases, where all lines look alike."""

from __future__ import annotations

from itertools import pairwise

from cutlayers.bringing.lines import Kind
from tests.bringing.test_kinds import box, kinds, line


def test_creases_that_cross_where_others_end_are_no_slits() -> None:
    """A bag's: that the lower end of an upright crease is the end of two others shows that no flaps
    are parted there."""
    found = kinds(
        box(0, 0, 90, 60),
        line(30, 0, 30, 60),
        line(0, 20, 90, 20),
        line(30, 0, 10, 20),
        line(30, 0, 50, 20),
        line(10, 20, 10, 60),
        line(50, 20, 50, 60),
    )

    assert found == [Kind.CUT, *[Kind.SCORE] * 6]


def test_a_step_that_stands_out_of_a_card_is_cut_at_its_sides() -> None:
    """Worked by hand: a sheet folded in its middle, with a step in it. Two creases would meet at
    each corner of the step, three where the other creases end on its sides, and fewer than four do
    not fold. Each slit passes all corners on its side, a crease two at most."""
    found = kinds(
        box(0, 0, 100, 120),
        line(0, 60, 30, 60),
        line(70, 60, 100, 60),
        line(30, 40, 70, 40),
        line(30, 55, 70, 55),
        line(30, 75, 70, 75),
        line(30, 40, 30, 75),
        line(70, 40, 70, 75),
    )

    assert found == [Kind.CUT, *[Kind.SCORE] * 5, Kind.CUT, Kind.CUT]


def test_a_crease_in_chords_of_a_curve_folds() -> None:
    """Where two chords meet there are two creases only, but they are one line."""
    arc = [(0, 20), (30, 28), (60, 31), (90, 28), (120, 20)]
    chords = [line(*one, *other) for one, other in pairwise(arc)]

    assert kinds(box(0, 0, 120, 60), *chords) == [Kind.CUT, *[Kind.SCORE] * 4]


def test_four_creases_that_meet_in_the_middle_fold() -> None:
    """A sheet that is pressed in at its middle: none of its creases is cut."""
    creases = [line(50, 50, *end) for end in ((0, 0), (100, 0), (100, 100), (0, 100))]

    assert kinds(box(0, 0, 100, 100), *creases) == [Kind.CUT, *[Kind.SCORE] * 4]


def test_a_narrow_gap_amid_panels_is_no_panel() -> None:
    """0.8 mm wide and 62 long, with creases that end on it: a slot in thick card."""
    found = kinds(
        box(0, 0, 102, 80),
        line(20, 0, 20, 80),
        line(82, 0, 82, 80),
        box(20, 40, 62, 0.8),
        line(51, 40.8, 51, 80),
    )

    assert found == [Kind.CUT, Kind.SCORE, Kind.SCORE, Kind.CUT, Kind.SCORE]
