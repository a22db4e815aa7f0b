"""Rows of cuts on lines of any length and shape."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.profile.operations import Perforation
from cutlayers.telling.words import place_of, sentence_of
from cutlayers.toolpaths.perforation import End, fit_row, perforate
from tests.plans import plan_toolpaths
from tests.toolpaths.shapes import contours, cut, fold, machine

HOW = Perforation(cut=3.0, tie=1.0, minimum_tie=0.5)
EAST_100 = Path.line((0, 0), (100, 0))
ENDS = list(itertools.product(End, End))

rows = st.builds(
    lambda cut, tie, share: Perforation(cut, tie, tie * share),
    st.floats(0.5, 6.0),
    st.floats(0.3, 3.0),
    st.floats(0.3, 1.0),
)


@given(st.floats(0.5, 400.0), rows, st.sampled_from(ENDS))
@settings(max_examples=300, deadline=None)
def test_cuts_and_ties_make_up_the_length(
    length: float, how: Perforation, ends: tuple[End, End]
) -> None:
    """Nothing is left over, no tie is below the least, and no line is parted by one cut."""
    row = fit_row(length, how, *ends)
    if row is None:
        return

    assert row.count * row.cut + row.ties * row.tie == pytest.approx(length)
    assert row.tie >= how.minimum_tie - 1e-9
    assert row.cut <= how.cut + 1e-9
    assert row.ties >= 1
    spans = row.spans()
    assert (spans[0][0] > 0) == (ends[0] is End.TIE)
    assert spans[-1][1] == pytest.approx(length - (row.tie if ends[1] is End.TIE else 0.0))


@given(st.floats(8.0, 400.0), rows, st.sampled_from([End.TIE, End.CUT]))
@settings(max_examples=100, deadline=None)
def test_a_row_is_the_same_from_both_ends(length: float, how: Perforation, end: End) -> None:
    """With like ends the row is symmetric."""
    row = fit_row(length, how, end, end)
    if row is None:
        return

    spans = row.spans()
    mirrored = [length - place for span in reversed(spans) for place in reversed(span)]
    assert [place for span in spans for place in span] == pytest.approx(mirrored, abs=1e-9)


def test_ties_shrink_to_the_least_only_where_else_no_cut_fits() -> None:
    """4.4 mm hold one cut of 3 with ties of 0.7, between the least of 0.5 and the usual 1."""
    row = fit_row(4.4, HOW, End.TIE, End.TIE)

    assert row is not None
    assert (row.count, row.tie) == pytest.approx((1, 0.7))


def test_a_short_line_between_free_edges_keeps_its_tie() -> None:
    """5 mm between two edges: cuts of 2 about a tie of 1, not one cut that parts the card."""
    row = fit_row(5.0, HOW, End.CUT, End.CUT)

    assert row is not None
    assert (row.count, row.cut, row.tie) == (2, 2.0, 1.0)


@given(contours(), rows)
@settings(max_examples=60, deadline=None)
def test_rows_follow_arcs_and_corners(path: Path, how: Perforation) -> None:
    """Measured along any closed line, cuts and ties alternate and make up its length."""
    row = perforate(path, how, End.TIE, End.TIE)
    if row is None:
        return

    pieces = row.cuts(0.0)
    length = sum(piece.length for piece in pieces)
    gaps = [
        after[0] - before[1]
        for before, after in itertools.pairwise(
            [*row.spans, (row.spans[0][0] + path.length, math.inf)]
        )
    ]
    assert length == pytest.approx((1 - row.tie_share) * path.length)
    assert min(gaps) == pytest.approx(row.tie)
    assert length + sum(gaps) == pytest.approx(path.length)


@given(contours(), rows)
@settings(max_examples=40, deadline=None)
def test_corners_lie_in_cuts(path: Path, how: Perforation) -> None:
    """A tear turns only where the card is cut: every sharp corner of a polygon is inside a cut."""
    corners = Path.polygon(path.vertices)
    row = perforate(corners, how, End.TIE, End.TIE)
    legs = [edge.length for edge in corners.segments]
    turned = min(
        abs(
            math.remainder(
                math.atan2(b.direction_at(0)[1], b.direction_at(0)[0])
                - math.atan2(a.direction_at(0)[1], a.direction_at(0)[0]),
                math.tau,
            )
        )
        for a, b in itertools.pairwise((*corners.segments, corners.segments[0]))
    )
    if row is None or min(legs) < 2 * how.cut + how.tie or turned < math.radians(31):
        return

    for at in itertools.accumulate(legs):
        place = at % corners.length
        assert any(
            low < spot < high for low, high in row.spans for spot in (place, place - corners.length)
        )


def test_the_seam_of_a_ring_lies_in_a_tie() -> None:
    """Round a circle there are as many ties as cuts, all alike."""
    ring = Path.circle((0, 0), 10)
    row = perforate(ring, HOW, End.TIE, End.TIE)

    assert row is not None
    count = math.floor(ring.length / 4)
    assert len(row.spans) == count
    assert row.tie == pytest.approx(ring.length / count - 3)
    assert row.spans[0][0] == pytest.approx(row.tie / 2)


def test_a_beam_burns_the_rest_of_each_cut() -> None:
    """With a kerf of 0.2 a cut of 3 is 2.8 of way, but nothing is taken off at a free edge."""
    row = perforate(EAST_100, HOW, End.CUT, End.TIE)

    assert row is not None
    first, second, *_ = row.cuts(0.2)
    assert first.start == (0.0, 0.0)
    assert first.length == pytest.approx(2.9)
    assert second.length == pytest.approx(2.8)


def tear(path: Path) -> Stroke:
    """A tear line."""
    return Stroke(Operation.PERFORATE, path, Part.SLIT, "tear")


def test_a_tear_line_ends_in_a_cut_at_the_edge_and_in_a_tie_at_a_fold() -> None:
    """From the left edge of a panel to a fold inside it."""
    strokes = [
        cut(Path.rectangle(120, 40)),
        fold(Path.line((90, 0), (90, 40))),
        tear(Path.line((0, 20), (90, 20))),
    ]
    plan = plan_toolpaths(strokes, machine())
    pieces = sorted(each.path.bounds for each in plan.of(Operation.PERFORATE))

    assert pieces[0][0] == 0.0
    assert pieces[-1][2] <= 90 - 1.0
    (figures,) = plan.perforated
    assert figures.cuts == len(pieces)
    assert figures.length == 90.0
    assert figures.tie_share == pytest.approx(1 - figures.cuts * 3 / 90)
    assert figures.cuts_per_inch == pytest.approx(25.4 / (3 + figures.tie))


def test_scores_worked_as_a_row_hold_at_both_ends() -> None:
    """A fold from edge to edge must not begin to tear: it ends in ties."""
    from cutlayers.profile.operations import Method

    how = machine(score={"method": Method.PERFORATE, "tool": None})
    plan = plan_toolpaths([cut(Path.rectangle(120, 40)), fold(Path.line((60, 0), (60, 40)))], how)
    spans = sorted((each.path.bounds[1], each.path.bounds[3]) for each in plan.of(Operation.SCORE))

    assert spans[0][0] >= 1.0
    assert spans[-1][1] <= 39.0
    assert {each.tool.name for each in plan.of(Operation.SCORE)} == {"needle"}


def test_a_line_too_short_is_reported_and_left_whole() -> None:
    """The finding names place, length and the least length that would do."""
    line = tear(Path.line((10, 20), (12, 20)))
    plan = plan_toolpaths([cut(Path.rectangle(120, 40)), line], machine())

    assert plan.of(Operation.PERFORATE) == ()
    (finding,) = plan.findings
    assert finding.code == "too-short-to-perforate"
    assert "(11.0, 20.0)" in place_of(finding)
    assert "2.00 mm" in sentence_of(finding).found


def test_rows_finer_than_the_kerf_are_refused() -> None:
    """A kerf of 0.2 mm burns a tie of 0.2 mm away: nothing is perforated, and that is an error."""
    how = machine("beam", perforate={"perforation": Perforation(2.0, 0.5, 0.2)})
    line = tear(Path.line((0, 20), (120, 20)))
    plan = plan_toolpaths([cut(Path.rectangle(120, 40)), line], how)

    assert plan.of(Operation.PERFORATE) == ()
    assert plan.by_hand == (line,)
    assert [finding.code for finding in plan.findings] == ["row-finer-than-kerf"]
