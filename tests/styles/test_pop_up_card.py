"""A pop-up card's lines, worked by hand: nothing is creased across the slits of its boxes."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles.pop_up_card import PopUpCard, build
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.net import linework
from cutlayers.profile.operations import Method, Scoring
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import machine

# A card of 120 mm with halves of 80 and three boxes. Three tenths of the length are left in four
# gaps: 9 mm each. The rest makes boxes of 84 / 3 = 28 mm: from 9, from 46 and from 83. The largest
# rises 36 mm and stands out 30; the others have one and two thirds of both.
CARD = PopUpCard(length=120.0, height=80.0, steps=3, rise=36.0, depth=30.0)
GAPS = [(0.0, 9.0), (37.0, 46.0), (74.0, 83.0), (111.0, 120.0)]
BOXES = [(9.0, 37.0, 12.0, 10.0), (46.0, 74.0, 24.0, 20.0), (83.0, 111.0, 36.0, 30.0)]
"""Left, right, rise and depth."""

Row = list[tuple[float, float]]


def strokes() -> tuple[Stroke, ...]:
    """The card's lines."""
    (net,) = build(CARD, Card(0.3, "score"))
    return linework(net)


def level(paths: list[Path], at: float) -> Row:
    """Where paths run along y = `at`, from left to right."""
    ends = [sorted((path.start, path.end)) for path in paths]
    return sorted(
        (round(one[0], 6), round(other[0], 6))
        for one, other in ends
        if one[1] == pytest.approx(at) and other[1] == pytest.approx(at)
    )


def test_the_card_is_creased_beside_its_boxes_and_each_box_three_times() -> None:
    """In the gaps of the fold; of each box at its rise, at its depth, and between top and front.

    The top is as deep as the box, so it and the front part at rise − depth: 2, 4 and 6 mm. That
    crease alone turns away from the others.
    """
    folds = [each for each in strokes() if each.operation is Operation.SCORE]
    valleys = [each.path for each in folds if each.fold is Fold.VALLEY]
    mountains = [each.path for each in folds if each.fold is Fold.MOUNTAIN]

    assert level(valleys, 0.0) == GAPS
    for left, right, rise, depth in BOXES:
        assert level(valleys, rise) == level(valleys, -depth) == [(left, right)]
        assert level(mountains, rise - depth) == [(left, right)]
    assert (len(valleys), len(mountains)) == (len(GAPS) + 2 * len(BOXES), len(BOXES))


def test_slits_run_from_the_rise_to_the_depth_and_the_card_stays_whole() -> None:
    """One at each side of each box, straight through the fold; round them one plain rectangle."""
    cuts = [each for each in strokes() if each.operation is Operation.CUT]
    slits = [each.path for each in cuts if each.part is Part.SLIT]
    (outline,) = (each.path for each in cuts if each.part is not Part.SLIT)

    wanted = [(x, -depth, rise) for *ends, rise, depth in BOXES for x in ends]
    found = [path.bounds for path in slits]
    assert (
        sorted((round(x, 6), round(low, 6), round(high, 6)) for x, low, _, high in found) == wanted
    )
    assert all(left == pytest.approx(right) for left, _, right, _ in found)
    assert outline.closed
    assert outline.bounds == pytest.approx((0.0, -80.0, 120.0, 80.0))
    assert abs(outline.area) == pytest.approx(120.0 * 160.0)


def worked(**score: object) -> list[Path]:
    """The creases as a tool is to follow them."""
    plan = plan_toolpaths(strokes(), machine(score=score))
    return [each.path for each in plan.of(Operation.SCORE)]


def test_scores_of_the_fold_stop_short_of_the_slits() -> None:
    """Half a millimetre from the card's ends and from each slit: 8 mm are left of each 9."""
    scores = worked(scoring=Scoring(pull_back=0.5))

    assert level(scores, 0.0) == [(left + 0.5, right - 0.5) for left, right in GAPS]
    for left, right, rise, depth in BOXES:
        for at in (rise, rise - depth, -depth):
            assert level(scores, at) == [(left + 0.5, right - 0.5)]


def test_a_perforated_fold_has_its_ties_at_the_slits() -> None:
    """Cuts of 3 mm and ties of 1: a gap of 9 mm holds ⌊(9 − 1) / (3 + 1)⌋ = 2 cuts and so three
    ties of (9 − 6) / 3 = 1 mm, one at each slit: no cut of the row runs into one, or over a box."""
    rows = worked(method=Method.PERFORATE, tool=None)

    wanted = [(left + at, left + at + 3.0) for left, _ in GAPS for at in (1.0, 5.0)]
    assert level(rows, 0.0) == wanted
