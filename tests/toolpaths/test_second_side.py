"""Valleys scored from the back."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Method, Scoring
from cutlayers.telling.words import sentence_of
from cutlayers.toolpaths import Plan, ordered, turned_over, work_out_back
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import STYLE_LINES, cut, fold, machine

BACK = machine(score={"scoring": Scoring(valleys="back")})
STROKES = (
    cut(Path.rectangle(100, 40, (10, 10))),
    fold(Path.line((30, 10), (30, 50))),
    fold(Path.line((80, 10), (80, 50)), Fold.VALLEY),
)
SHEET = (200.0, 100.0)


def plan_back(strokes: Sequence[Stroke], how: Machine) -> Plan | None:
    """The back of a sheet, ordered."""
    worked = work_out_back(strokes, how, *SHEET)
    return None if worked is None else ordered(worked)


def test_the_front_keeps_its_mountains_and_tells_of_the_back() -> None:
    """One of two folds is left, and a note says what to do first."""
    plan = plan_toolpaths(STROKES, BACK)

    (score,) = plan.of(Operation.SCORE)
    assert {point[0] for point in score.path.vertices} == {30}
    (note,) = plan.findings
    assert note.code == "second-side"
    assert "vertical middle line" in sentence_of(note).cure


@pytest.mark.parametrize(
    ("turn", "ends"),
    [
        ("left-right", {(120, 10.5), (120, 49.5)}),
        ("top-bottom", {(80, 89.5), (80, 50.5)}),
    ],
)
def test_the_back_has_the_valleys_mirrored(turn: str, ends: set[tuple[float, float]]) -> None:
    """x 80 on a sheet 200 wide comes to x 120, or y to 100 − y; free edges are still known."""
    how = machine(score={"scoring": Scoring(valleys="back", turn=turn)})  # type: ignore[arg-type]
    plan = plan_back(STROKES, how)

    assert plan is not None
    (score,) = plan.toolpaths
    assert {tuple(round(c, 9) for c in point) for point in score.path.vertices} == ends
    assert score.operation is Operation.SCORE


def test_turning_over_twice_is_nothing() -> None:
    """A mirror undoes itself, and carries the sheet onto itself."""
    for turn in ("left-right", "top-bottom"):
        mirror = turned_over(turn, *SHEET)
        twice = mirror @ mirror
        assert twice.apply((12.0, 34.0)) == pytest.approx((12, 34))
        assert sorted(mirror.apply(corner) for corner in ((0, 0), SHEET)) in (
            [(0, 100), (200, 0)],
            [(0, 100), (200, 0)],
        )
        assert mirror.determinant == -1


@pytest.mark.parametrize(
    "how",
    [
        pytest.param(machine(), id="all from the front"),
        pytest.param(
            machine(
                score={
                    "scoring": Scoring(valleys="back"),
                    "method": Method.PERFORATE,
                    "tool": None,
                }
            ),
            id="worked as rows, which have no side",
        ),
    ],
)
def test_no_back_where_none_is_asked_for(how: object) -> None:
    """Then the front has all the folds."""
    assert plan_back(STROKES, how) is None  # type: ignore[arg-type]
    front = plan_toolpaths(STROKES, how)  # type: ignore[arg-type]
    assert {each.path.start[0] for each in front.of(Operation.SCORE)} == {30, 80}


@pytest.mark.parametrize("name", sorted(STYLE_LINES))
def test_front_and_back_together_score_every_fold_once(name: str) -> None:
    """Lengths of both sides add up to those of one side alone."""
    strokes = STYLE_LINES[name]
    front, back = plan_toolpaths(strokes, BACK), plan_back(strokes, BACK)
    alone = plan_toolpaths(strokes, machine())
    both = [*front.of(Operation.SCORE), *(back.toolpaths if back else ())]

    assert (back is None) == all(each.fold is not Fold.VALLEY for each in strokes)
    assert sorted(round(each.path.length, 6) for each in both) == sorted(
        round(each.path.length, 6) for each in alone.of(Operation.SCORE)
    )
