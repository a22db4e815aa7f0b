"""How scores end."""

from __future__ import annotations

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part
from cutlayers.profile.operations import Method, Scoring
from cutlayers.telling.words import place_of
from cutlayers.toolpaths.places import Lines
from cutlayers.toolpaths.score import end_ticks, pull_back
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import STYLE_LINES, cut, fold, line, machine

PLATE = Path.rectangle(100, 40)
CUTS = Lines([PLATE, Path.circle((50, 20), 5).reversed()])


@pytest.mark.parametrize(
    ("start", "end", "left"),
    [
        pytest.param((30, 0), (30, 40), ((30, 0.5), (30, 39.5)), id="from edge to edge"),
        pytest.param((30, 0), (30, 20), ((30, 0.5), (30, 20)), id="from an edge inward"),
        pytest.param((30, 10), (30, 40), ((30, 10), (30, 39.5)), id="from inside to an edge"),
        pytest.param((30, 10), (30, 30), ((30, 10), (30, 30)), id="inside"),
        pytest.param((0, 20), (45, 20), ((0.5, 20), (44.5, 20)), id="from an edge to a hole"),
        pytest.param((100, 40), (60, 10), ((99.6, 39.7), (60, 10)), id="from a corner"),
    ],
)
def test_scores_stop_short_of_free_edges(
    start: tuple[float, float], end: tuple[float, float], left: tuple[tuple[float, float], ...]
) -> None:
    """Half a millimetre at each end that lies on a cut, and at no other."""
    (done,), findings = pull_back([fold(Path.line(start, end))], CUTS, 0.5)

    assert [c for point in done.path.vertices for c in point] == pytest.approx(
        [c for point in left for c in point]
    )
    assert findings == ()


def test_a_score_too_short_is_kept_and_reported() -> None:
    """0.8 mm from edge to edge cannot lose 0.5 mm twice."""
    short = fold(Path.line((30, 0), (30, 0.8)))
    edges = Lines([Path.rectangle(100, 0.8)])

    (done,), (finding,) = pull_back([short], edges, 0.5)

    assert done is short
    assert finding.code == "score-too-short"
    assert "(30.0, 0.4)" in place_of(finding)


@pytest.mark.parametrize("name", sorted(STYLE_LINES))
@pytest.mark.parametrize("distance", [0.5, 1.0])
def test_no_score_of_any_style_comes_near_a_free_edge(name: str, distance: float) -> None:
    """Both ends of every score keep the pull-back from the cut that they ran into."""
    strokes = STYLE_LINES[name]
    plan = plan_toolpaths(strokes, machine(score={"scoring": Scoring(pull_back=distance)}))
    nominal = {
        round(stroke.path.length, 6): stroke.path
        for stroke in strokes
        if stroke.operation is Operation.SCORE
    }

    cuts = [line(each.path) for each in strokes if each.operation is Operation.CUT]
    scores = plan.of(Operation.SCORE)
    assert len(scores) >= len(nominal)
    for each in scores:
        for end in (each.path.start, each.path.end):
            ring = line(Path.circle(end, distance / 4))
            assert not any(cut_line.intersects(ring) for cut_line in cuts)


def test_ticks_lie_on_both_ends_of_the_score() -> None:
    """A score of 40 mm becomes two drawn lines of 3 mm on it."""
    first, last = end_ticks([fold(Path.line((30, 0), (30, 40)))], 3.0)

    assert first.path.vertices == ((30, 0), (30, 3))
    assert last.path.vertices == ((30, 37), (30, 40))
    assert {first.operation, last.operation} == {Operation.DRAW}
    assert first.part is Part.MARK


def test_a_score_of_two_ticks_is_drawn_whole() -> None:
    """What would leave no gap is not parted."""
    (whole,) = end_ticks([fold(Path.line((0, 0), (8, 0)))], 3.0)

    assert whole.path.length == 8


STROKES = (cut(PLATE), fold(Path.line((30, 0), (30, 40))), fold(Path.line((60, 0), (60, 40))))


@pytest.mark.parametrize(
    ("method", "layer", "tool", "count", "by_hand"),
    [
        (Method.DRAW, Operation.DRAW, "pen", 2, 2),
        (Method.TICKS, Operation.DRAW, "pen", 4, 2),
        (Method.PERFORATE, Operation.SCORE, "needle", 18, 0),
        (Method.BY_HAND, Operation.SCORE, "", 0, 2),
    ],
)
def test_machines_without_a_scoring_tool(
    method: Method, layer: Operation, tool: str, count: int, by_hand: int
) -> None:
    """Drawn lines, ticks, rows on the score's own layer, or nothing; the hand's share is told.

    A line of 40 mm holds ⌊(40 − 1)/(3 + 1)⌋ = 9 cuts of 3 mm with a tie at both ends."""
    plan = plan_toolpaths(STROKES, machine(score={"method": method, "tool": None}))

    worked = plan.of(layer)
    assert len(worked) == count
    assert {each.tool.name for each in worked} == ({tool} if tool else set())
    assert len(plan.by_hand) == by_hand
    assert len(plan.of(Operation.CUT)) == 1
    assert plan.findings == ()
