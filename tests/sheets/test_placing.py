"""Pieces on sheets, judged by shapely on the panels themselves."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.job.order import SheetRules
from cutlayers.profile.machine import Bed
from cutlayers.sheets.base import sheet_on_bed
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import in_unit
from cutlayers.telling.refusing import refused_line
from tests.sheets.judge import complaints, machine, pieces, random_job, rectangle_net, stock

RANDOM_JOBS = 60
"""A sample; `python -m tests.benchmarks.bench_nesting --judge 2000` judges two thousand."""


@pytest.mark.parametrize("seed", range(RANDOM_JOBS))
def test_random_jobs_keep_borders_marks_gaps_and_lines(seed: int) -> None:
    """No overlap, no border or mark entered, the gap kept, every line as long as before."""
    mix, cutter, rules = random_job(seed)
    try:
        placing = place_pieces(mix, cutter, rules)
    except PlacementError as error:
        assert "too wide" in str(error) or "too high" in str(error) or "marks" in str(error)
        return

    found = [
        (sheet.number, complaint)
        for sheet in placing.sheets
        for complaint in complaints(sheet, cutter.bed, rules)
    ]
    laid = Counter[str]()
    for sheet in placing.sheets:
        for placed in sheet.placed:
            laid[placed.piece.name] += sheet.copies

    assert found == []
    assert laid == Counter(piece.name for piece in mix)


@pytest.mark.parametrize("seed", range(0, 24, 4))
def test_random_jobs_in_the_thorough_mode(seed: int) -> None:
    """The same of what the search heuristic finds, and never more sheets than the quick mode."""
    mix, cutter, rules = random_job(seed)
    thorough = SheetRules(gap=rules.gap, border=rules.border, mode="thorough", seconds=2)
    try:
        quick = place_pieces(mix, cutter, rules)
    except PlacementError:
        return
    placing = place_pieces(mix, cutter, thorough)

    assert [
        complaint
        for sheet in placing.sheets
        for complaint in complaints(sheet, cutter.bed, thorough)
    ] == []
    assert placing.count <= quick.count


def test_a_piece_that_just_fits_is_placed() -> None:
    """100 × 80 within a 110 × 90 sheet with a margin of 5 on all sides."""
    card = stock(110, 90)

    placing = place_pieces(pieces([rectangle_net(100, 80)], card), machine(110, 90, 5.0))

    place = placing.sheets[0].placed[0].place
    assert place.apply((0.0, 0.0)) == pytest.approx((5.0, 5.0), abs=1e-9)


def test_a_piece_too_large_is_refused_by_how_much() -> None:
    """105.5 mm into 100 mm is 5.5 mm too wide, the better way round; 100/105.5 is 5.2 % less."""
    with pytest.raises(PlacementError) as caught:
        place_pieces(pieces([rectangle_net(105.5, 80)], stock(110, 90)), machine(110, 90, 5.0))

    assert str(caught.value) == (
        'card is 105.5 mm × 80 mm; a sheet of "card" has 100 mm × 80 mm within the machine\'s '
        "reach: 5.5 mm too wide, even in its best turn; use a larger sheet, or make the box 6 % "
        "smaller."
    )


def test_a_piece_that_the_marks_hinder_is_told_so() -> None:
    """It is not too large, but three corners are taken."""
    with pytest.raises(PlacementError, match="the register marks are in the way"):
        place_pieces(pieces([rectangle_net(99, 79)], stock(110, 90)), machine(110, 90, 5.0, 3))


def test_no_turning_where_none_is_allowed() -> None:
    """A tall piece on a wide sheet fits by a quarter turn alone."""
    tall = pieces([rectangle_net(50, 140)], stock(160, 100), rotation="none")

    with pytest.raises(PlacementError, match=r"40 mm too high; use"):
        place_pieces(tall, machine(160, 100, 0.0))


def test_a_refusal_is_told_in_the_unit_of_the_job_too() -> None:
    """1 in is 25.4 mm. A name with the place of a length in it keeps its lengths."""
    big = pieces([rectangle_net(254, 127)], stock(203.2, 101.6), rotation="none")
    big = [replace(piece, name="lid {}") for piece in big]
    with pytest.raises(PlacementError) as caught:
        place_pieces(big, machine(300, 300, 0.0))

    (refusal,) = in_unit("in", caught.value.refusals)
    assert refused_line(refusal) == (
        'lid { } is 254 mm (10 in) × 127 mm (5 in); a sheet of "card" has 203.2 mm (8 in) × '
        "101.6 mm (4 in) within the machine's reach: 50.8 mm (2 in) too wide and 25.4 mm (1 in) "
        "too high; use a larger sheet, or make the box 20 % smaller."
    )


def test_a_sheet_that_the_bed_cannot_take_is_refused() -> None:
    """With the bed's size, and what to do."""
    with pytest.raises(PlacementError, match=r"does not fit the bed of 200 mm × 100 mm; trim"):
        sheet_on_bed(stock(201, 100), Bed(200, 100))


def test_a_sheet_is_turned_if_only_that_fits() -> None:
    """A portrait sheet on a landscape bed."""
    assert sheet_on_bed(stock(100, 200), Bed(200, 100)) == (200, 100)


def test_sheets_that_are_alike_are_one_with_copies() -> None:
    """Forty trays, two on a sheet of A4: twenty sheets, one set of files."""
    nets = style_named("tray").build(_tray(), Card(0.5))
    placing = place_pieces(pieces(nets, stock(210, 297), 40), machine(305, 305, 5.0))

    assert [(len(sheet.placed), sheet.copies) for sheet in placing.sheets] == [(2, 20)]
    assert placing.count == 20


def test_the_last_sheet_holds_the_rest() -> None:
    """Seven at two a sheet: three alike and one with a single tray."""
    nets = style_named("tray").build(_tray(), Card(0.5))
    placing = place_pieces(pieces(nets, stock(210, 297), 7), machine(305, 305, 5.0))

    assert [(len(sheet.placed), sheet.copies) for sheet in placing.sheets] == [(2, 3), (1, 1)]


def test_stocks_lie_on_sheets_of_their_own() -> None:
    """Two kinds of card never share a sheet."""
    from dataclasses import replace

    white, grey = stock(210, 297), replace(stock(210, 297), name="grey")
    mix = pieces([rectangle_net(50, 50)], white, 2) + pieces([rectangle_net(50, 50)], grey, 2)

    placing = place_pieces(mix, machine(305, 305))

    assert [sheet.stock.name for sheet in placing.sheets] == ["card", "grey"]


def test_fill_lays_as_many_as_a_sheet_holds() -> None:
    """Squares of 50 with a gap of 10: five by five in 290 mm (5·50 + 4·10 = 290)."""
    card = stock(300, 300)
    filling = pieces([rectangle_net(50, 50)], card, fill=True)

    placing = place_pieces(filling, machine(305, 305, 5.0), SheetRules(gap=10.0))

    assert [len(sheet.placed) for sheet in placing.sheets] == [25]
    assert list(complaints(placing.sheets[0], Bed(305, 305, 5.0), SheetRules(gap=10.0))) == []


def test_fill_lays_complete_boxes() -> None:
    """A base and a lid for each box, never a base alone."""
    style = style_named("gable-carton")
    nets = style.build(style.dimensions(length=40, width=40, height=40), Card(0.3))
    card = stock(600, 400)
    filling = [piece for net in nets for piece in pieces([net], card, fill=True)]
    from dataclasses import replace

    filling = [replace(piece, order="favour") for piece in filling]
    placing = place_pieces(filling, machine(620, 420, 5.0, 3))

    laid = Counter(placed.piece.name for placed in placing.sheets[0].placed)
    assert len(placing.sheets) == 1
    assert laid["base"] == laid["lid"] >= 5
    assert list(complaints(placing.sheets[0], Bed(620, 420, 5.0), SheetRules())) == []


def test_the_border_a_printer_needs_is_kept() -> None:
    """The larger of the machine's margin and the rule's border counts."""
    card = stock(120, 100)
    square = pieces([rectangle_net(50, 50)], card)

    placing = place_pieces(square, machine(200, 200, 5.0), SheetRules(border=12.5))

    corner = placing.sheets[0].placed[0].place.apply((0.0, 0.0))
    assert min(corner) >= 12.5 - 1e-9


def test_the_same_pieces_lie_the_same_way_again() -> None:
    """Nothing depends on the run."""
    mix, cutter, rules = random_job(46)

    first, second = (place_pieces(mix, cutter, rules) for _ in range(2))

    assert [[placed.place for placed in sheet.placed] for sheet in first.sheets] == [
        [placed.place for placed in sheet.placed] for sheet in second.sheets
    ]


def test_one_piece_a_sheet_starts_no_heavy_machinery(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where one bounding box a sheet is all there can be, no no-fit region is ever worked out."""
    from cutlayers.sheets import laying, strip_search

    def never(*_: object) -> None:
        raise AssertionError("heavy machinery started")

    monkeypatch.setattr(laying, "no_fit_region", never)
    monkeypatch.setattr(strip_search, "fits_on_one", never)
    card = stock(200, 200)
    thorough = SheetRules(mode="thorough", seconds=5)

    alone = place_pieces(pieces([rectangle_net(60, 40)], card), machine(305, 305, 5.0, 3), thorough)
    large = place_pieces(
        pieces([rectangle_net(150, 130)], card, 3), machine(305, 305, 5.0, 3), thorough
    )

    assert (alone.count, large.count) == (1, 3)


def _tray() -> Any:
    return style_named("tray").dimensions(length=100, width=70, height=25)
