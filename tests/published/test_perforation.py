"""Rows of cuts and ties against hand-worked rows and the trade's arithmetic."""

from __future__ import annotations

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.profile.operations import Perforation
from cutlayers.toolpaths.perforation import End, fit_row, perforate


@pytest.mark.parametrize(
    ("length", "cut", "tie", "count", "fitted"),
    [(100.0, 3.0, 1.0, 24, 1.12), (83.5, 4.0, 1.0, 16, 1.147059), (5.0, 3.0, 1.0, 1, 1.0)],
)
def test_a_row_with_a_tie_at_both_ends(
    length: float, cut: float, tie: float, count: int, fitted: float
) -> None:
    """n = ⌊(L − t)/(c + t)⌋ cuts, ties of (L − n·c)/(n + 1): counting, by hand."""
    row = fit_row(length, Perforation(cut, tie, tie), End.TIE, End.TIE)

    assert row is not None
    assert (row.count, row.cut) == (count, cut)
    assert row.tie == pytest.approx(fitted, rel=1e-6)
    assert row.ties == count + 1


def test_a_length_that_holds_no_cut_stays_uncut() -> None:
    """2.5 mm have no room for a cut of 3 mm between two ties."""
    assert fit_row(2.5, Perforation(3.0, 1.0, 0.5), End.TIE, End.TIE) is None


@pytest.mark.parametrize(
    ("cuts_per_inch", "pitch"),
    [
        (4, 6.35),
        (6, 4.2333),
        (8, 3.175),
        (10, 2.54),
        (12, 2.1167),
        (18, 1.4111),
        (50, 0.508),
        (72, 0.3528),
    ],
)
def test_cuts_per_inch_is_an_inch_over_the_pitch(cuts_per_inch: float, pitch: float) -> None:
    """TPI = 25.4/pitch, the print trade's measure; rows that fit without any change."""
    tie = pitch / 3
    row = perforate(
        Path.line((0, 0), (40 * pitch + tie, 0)),
        Perforation(pitch - tie, tie, tie),
        End.TIE,
        End.TIE,
    )

    assert row is not None
    assert row.cuts_per_inch == pytest.approx(cuts_per_inch, rel=1e-4)


def test_twelve_to_the_inch_at_two_to_one() -> None:
    """12 TPI at cut to tie 2:1 is cuts of 1.4111 and ties of 0.7056 mm; a third of it holds."""
    pitch = 25.4 / 12
    how = Perforation(2 * pitch / 3, pitch / 3, 0.5)
    row = perforate(Path.line((0, 0), (25.4 * 4 + how.tie, 0)), how, End.TIE, End.TIE)

    assert (how.cut, how.tie) == pytest.approx((1.4111, 0.7056), abs=5e-5)
    assert row is not None
    assert row.cuts_per_inch == pytest.approx(12, rel=1e-3)
    assert len(row.spans) == 48
    assert row.tie_share == pytest.approx(1 / 3, abs=0.01)
