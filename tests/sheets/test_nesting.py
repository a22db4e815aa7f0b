"""Layouts of many kinds: jigsaws with a known perfect answer, searching, stopping."""

from __future__ import annotations

import itertools
import random
import sys
from collections.abc import Iterator
from types import SimpleNamespace

import pytest
import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from cutlayers.job.order import SheetRules
from cutlayers.net import Net
from cutlayers.profile.machine import Bed
from cutlayers.sheets import placing as placing_module
from cutlayers.sheets.laying import (
    LaidPiece,
    PieceKind,
    Regions,
    Room,
    is_sound,
    lay_pieces,
    leftmost,
)
from cutlayers.sheets.model import Piece
from cutlayers.sheets.nesting import quick_plan
from cutlayers.sheets.outlines import Points, no_fit_region, outline_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.sheets.plans import SheetPlan, fewest_sheets, sheets_in
from cutlayers.sheets.strip_search import GRACE_S, SearchFailedError, fits_on_one
from cutlayers.sheets.thorough import Search, TimeUpError
from cutlayers.telling.budget import Budget
from cutlayers.telling.errors import Cancelled, PlacementError
from tests.sheets.judge import (
    complaints,
    machine,
    pieces,
    polygon_net,
    random_job,
    rectangle_net,
    stock,
)

BARE = SheetRules(gap=0.0)


def guillotine(
    chance: random.Random, width: float, height: float, depth: int
) -> list[tuple[float, float]]:
    """Sides of boxes that make up a box, cut again and again from edge to edge."""
    if depth == 0:
        return [(width, height)]
    share = chance.uniform(0.35, 0.65)
    if width > height:
        parts = ((width * share, height), (width * (1 - share), height))
    else:
        parts = ((width, height * share), (width, height * (1 - share)))
    return [side for part in parts for side in guillotine(chance, *part, depth - 1)]


def kinds(*nets: Net, turns: tuple[float, ...] = (0.0, 90.0, 180.0, 270.0)) -> list[PieceKind]:
    return [PieceKind(outline_of(net), turns) for net in nets]


def test_four_boxes_make_up_the_sheet() -> None:
    """A jigsaw of 100 × 60 in quarters, gap 0: the perfect packing is found by the quick mode."""
    card = stock(100, 60)
    mix = pieces([rectangle_net(50, 30)], card, 4, rotation="none")

    placing = place_pieces(mix, machine(200, 200, 0.0), BARE)

    assert placing.count == 1
    assert list(complaints(placing.sheets[0], Bed(200, 200), BARE)) == []


def test_two_wedges_make_up_a_sheet() -> None:
    """Two trapezia that are one rectangle by half a turn: bounding boxes would need two sheets."""
    wedge = polygon_net([(0, 0), (70, 0), (30, 50), (0, 50)])
    card = stock(100, 50)

    placing = place_pieces(pieces([wedge], card, 2), machine(200, 200, 0.0), BARE)

    assert placing.count == 1
    assert list(complaints(placing.sheets[0], Bed(200, 200), BARE)) == []


@pytest.mark.parametrize("seed", range(6))
def test_jigsaws_of_boxes_never_beat_their_area(seed: int) -> None:
    """Eight boxes cut from one sheet: one sheet is perfect, and no plan claims less."""
    chance = random.Random(seed)
    sides = guillotine(chance, 240, 160, 3)
    card = stock(240, 160)
    mix = [piece for w, h in sides for piece in pieces([rectangle_net(w, h, f"{w} {h}")], card)]

    placing = place_pieces(mix, machine(300, 300, 0.0), BARE)

    assert sum(w * h for w, h in sides) == pytest.approx(240 * 160)
    assert 1 <= placing.count <= 2
    for sheet in placing.sheets:
        assert list(complaints(sheet, Bed(300, 300), BARE)) == []


def test_pieces_lie_in_the_bays_of_others() -> None:
    """Crosses of 60 mm arms with squares of 56 between them: no bounding box method does it."""
    cross = polygon_net(
        [
            (60, 0),
            (120, 0),
            (120, 60),
            (180, 60),
            (180, 120),
            (120, 120),
            (120, 180),
            (60, 180),
            (60, 120),
            (0, 120),
            (0, 60),
            (60, 60),
        ],
        "cross",
    )
    card = stock(190, 190)
    mix = pieces([cross], card) + pieces([rectangle_net(55, 55, "square")], card, 4)

    placing = place_pieces(mix, machine(200, 200, 5.0), SheetRules(gap=4.0))

    assert placing.count == 1
    assert list(complaints(placing.sheets[0], Bed(200, 200, 5.0), SheetRules(gap=4.0))) == []


def test_the_lower_bound_counts_areas() -> None:
    """Five squares of 60 × 60 into 100 × 100: 18000 of 10000 mm² need two sheets."""
    room = Room((0, 0, 100, 100), (), 0.0)

    assert fewest_sheets(kinds(rectangle_net(60, 60)), {0: 5}, room) == 2


def test_a_plan_lays_exactly_the_demand() -> None:
    """Not a piece more or less, whatever is repeated."""
    found = kinds(rectangle_net(60, 40), rectangle_net(35, 35))
    regions = Regions(found, Room((0, 0, 200, 150), (), 3.0))
    plan = quick_plan(regions, {0: 37, 1: 22})
    laid = [0, 0]
    for repeated in plan:
        for piece in repeated.layout:
            laid[piece.kind] += repeated.sheets

    assert laid == [37, 22]
    assert sheets_in(plan) >= fewest_sheets(found, {0: 37, 1: 22}, regions.room)


@pytest.mark.parametrize("marks", [0, 3])
def test_the_search_lays_what_the_quick_mode_cannot(marks: int) -> None:
    """Twelve trays on a sheet on which the quick mode finds room for eleven."""
    from cutlayers.construction.card import Card
    from cutlayers.construction.styles import style_named

    style = style_named("tray")
    dims = style.dimensions(length=100, width=70, height=25, tab=12, taper=20)
    nets = style.build(dims, Card(0.5, "outside"))
    card = stock(420, 594)
    cutter = machine(620, 620, 5.0, marks)
    mix = pieces(nets, card, 12)
    thorough = SheetRules(mode="thorough", seconds=20)

    quick, searched = place_pieces(mix, cutter), place_pieces(mix, cutter, thorough)

    assert (quick.count, searched.count) == (2, 1)
    assert list(complaints(searched.sheets[0], Bed(620, 620, 5.0), thorough)) == []


def test_the_search_finds_the_same_again() -> None:
    """One seed, one answer."""
    wedge = polygon_net([(0, 0), (70, 0), (30, 50), (0, 50)])
    regions = Regions(kinds(wedge), Room((0, 0, 260, 160), ((0, 0, 15, 15),), 2.0))

    first, second = (fits_on_one(regions, {0: 9}, 6, 1) for _ in range(2))

    assert first is not None
    assert first == second
    assert is_sound(regions.kinds, first, regions.room)


def test_the_search_gives_up_when_its_time_is_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """What cannot fit is not found, and nothing more is waited for once a clock of ours says so:
    it is a second on whenever it is asked, so four looks are as long as the search may take."""
    looks = itertools.count()
    clock = SimpleNamespace(monotonic=lambda: next(looks))
    monkeypatch.setattr("cutlayers.sheets.strip_search.time", clock)
    regions = Regions(kinds(rectangle_net(51, 51)), Room((0, 0, 100, 100), (), 0.0))

    assert fits_on_one(regions, {0: 2}, 1, 1) is None
    assert next(looks) <= 1 + 1 + GRACE_S


def test_a_layout_too_close_is_no_sound_one() -> None:
    """The check on what the heuristic gives back can fail."""
    from cutlayers.sheets.laying import LaidPiece

    found = kinds(rectangle_net(40, 40))
    room = Room((0, 0, 100, 100), ((90, 90, 100, 100),), 4.0)

    assert is_sound(found, (LaidPiece(0, 0.0, 0, 0), LaidPiece(0, 0.0, 44, 0)), room)
    assert not is_sound(found, (LaidPiece(0, 0.0, 0, 0), LaidPiece(0, 0.0, 43.9, 0)), room)
    assert not is_sound(found, (LaidPiece(0, 0.0, -0.1, 0),), room)
    assert not is_sound(found, (LaidPiece(0, 0.0, 55, 55),), room)


def test_stopping_keeps_the_best_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """An interruption in the search leaves whole sheets and a note."""

    def found_then_stopped(
        regions: object, demand: object, plan: SheetPlan, search: object
    ) -> Iterator[SheetPlan]:
        yield plan
        raise KeyboardInterrupt

    monkeypatch.setattr(placing_module, "better_plans", found_then_stopped)
    card = stock(200, 100)
    mix = pieces([rectangle_net(80, 60)], card, 5)

    placing = place_pieces(mix, machine(305, 305, 0.0), SheetRules(mode="thorough"))

    assert sum(len(sheet.placed) * sheet.copies for sheet in placing.sheets) == 5
    assert [finding.code for finding in placing.findings] == ["search-stopped"]


def test_a_broken_search_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The quick mode's sheets are used, and a warning says so."""

    def broken(
        regions: object, demand: object, plan: SheetPlan, search: object
    ) -> Iterator[SheetPlan]:
        raise SearchFailedError
        yield plan

    monkeypatch.setattr(placing_module, "better_plans", broken)
    mix = pieces([rectangle_net(80, 60)], stock(200, 100), 5)

    placing = place_pieces(mix, machine(305, 305, 0.0), SheetRules(mode="thorough"))

    assert placing.count == 2
    assert [finding.code for finding in placing.findings] == ["search-failed"]


def test_a_search_that_is_called_off_ends_with_its_process() -> None:
    """The question that calls it off is asked while the heuristic runs; no process stays."""
    import multiprocessing

    running: list[bool] = []

    def gone() -> bool:
        running.append(bool(multiprocessing.active_children()))
        return running[-1]

    mix = pieces([rectangle_net(55, 55)], stock(100, 100), 4)
    rules = SheetRules(mode="thorough", seconds=300, gap=0.0)

    with pytest.raises(Cancelled):
        place_pieces(mix[:2], machine(120, 120, 0.0), rules, budget=Budget(cancel=gone))
    assert running[-1]
    assert multiprocessing.active_children() == []


def test_a_heuristic_that_breaks_down_is_noticed() -> None:
    """A piece too large for the strip makes it panic; that is no 'not found'."""
    regions = Regions(kinds(rectangle_net(40, 40)), Room((0, 0, 10, 10), (), 0.0))

    with pytest.raises(SearchFailedError):
        fits_on_one(regions, {0: 1}, 2, 1)


@pytest.mark.parametrize("seed", range(40))
def test_no_fit_regions_cover_every_pair_of_parts(seed: int) -> None:
    """The region's area is that of the same union on a grid, for a star beside itself turned."""
    from cutlayers.sheets.outlines import no_fit_region, turned
    from tests.sheets.judge import _star

    star = outline_of(polygon_net(_star(random.Random(seed))))
    for angle in (0.0, 90.0, 180.0):
        moving = tuple(turned(part, angle) for part in star.parts)
        hulls = [
            shapely.MultiPoint([(a[0] - b[0], a[1] - b[1]) for a in one for b in other]).convex_hull
            for one in star.parts
            for other in moving
        ]
        sure = shapely.union_all(hulls, grid_size=1e-8)

        assert no_fit_region(star.parts, moving, 0.0).area == pytest.approx(sure.area, rel=1e-6)


def test_the_search_tells_its_seconds() -> None:
    """Progress adds up to the seconds given, and the end is told."""
    now = [0.0]
    told: list[int] = []
    search = Search(Budget(5, clock=lambda: now[0]), 1, told.append)
    for moment in (0.4, 1.2, 3.9):
        now[0] = moment
        search.tick()
    now[0] = 6.0
    with pytest.raises(TimeUpError):
        search.tick()
    search.finish()

    assert sum(told) == 5


def different_trays(count: int) -> list[Piece]:
    """Trays of as many sizes, one of each, none like another."""
    from cutlayers.construction.card import Card
    from cutlayers.construction.styles import style_named

    style = style_named("tray")
    sizes = ({"length": 60 + i, "width": 40 + i / 2, "height": 20} for i in range(count))
    nets = [net for size in sizes for net in style.build(style.dimensions(**size), Card(0.5))]
    return pieces(nets, stock(297, 420))


@pytest.mark.parametrize("count", [16, 40])
def test_many_different_pieces_take_few_no_fit_regions(
    count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So many for each sheet at most, and not one for each pair of pieces in each turn.

    40 trays have 40 · 40 · 4 = 6400; counted by hand.
    """
    from cutlayers.sheets import laying, nesting

    asked: list[int] = []

    def counted(still: tuple[Points, ...], moving: tuple[Points, ...], gap: float) -> BaseGeometry:
        asked.append(1)
        return no_fit_region(still, moving, gap)

    monkeypatch.setattr(laying, "no_fit_region", counted)
    cutter = machine(620, 620, 5.0)

    placing = place_pieces(different_trays(count), cutter)

    # One sheet more than are used may have been tried: a plan by boxes can be the better one.
    assert len(asked) <= (placing.count + 1) * nesting.MOST_OF_MANY
    assert sum(len(sheet.placed) for sheet in placing.sheets) == count
    assert [e for s in placing.sheets for e in complaints(s, cutter.bed, SheetRules())] == []


def test_rough_parts_cover_the_blank_and_little_more() -> None:
    """A comb of 30 notches 1 mm deep becomes two parts at most; an ell keeps its bay."""
    from cutlayers.sheets.outlines import ROUGH

    teeth = [(x, 40.0 - (x % 2)) for x in range(60, -1, -1)]
    comb = outline_of(polygon_net([(0, 0), (60, 0), *teeth]))
    ell = outline_of(polygon_net([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)]))

    for outline, most in ((comb, 2), (ell, 2)):
        parts = shapely.union_all([shapely.Polygon(part) for part in outline.rough_parts])

        assert len(outline.rough_parts) <= most
        assert parts.buffer(1e-9).covers(shapely.Polygon(outline.ring))
        assert parts.area <= outline.area * (1 + ROUGH)


def test_a_thumb_cut_is_touched_and_not_entered() -> None:
    """A star against a half circle, gap 0 (a case found)."""
    mix, cutter, rules = random_job(216)

    placing = place_pieces(mix, cutter, rules)

    assert [e for s in placing.sheets for e in complaints(s, cutter.bed, rules)] == []


def test_parts_with_sharp_tips_keep_them() -> None:
    """Ten needles side by side in a slot of their own width: no tip is worn off to make room."""
    from cutlayers.sheets.outlines import no_fit_region

    needle = ((0.0, 0.0), (100.0, 0.0), (0.0, 0.01))
    point = ((0.0, 0.0), (1.0, -1.0), (1.0, 1.0))
    region = no_fit_region((needle,), (point,), 0.0)

    # The point's tip just inside the needle's far end: 1e-4 mm from it, 5e-9 mm thick there.
    assert region.contains(shapely.Point(99.0, 0.003))
    assert region.bounds[2] > 100.0 - 1e-6


def test_no_fit_regions_agree_with_shapely() -> None:
    """Just inside the region two pieces are nearer than the gap, just outside they are not."""
    from cutlayers.sheets.outlines import no_fit_region

    chance = random.Random(5)
    ell = outline_of(polygon_net([(0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)]))
    wedge = outline_of(polygon_net([(0, 0), (40, 0), (10, 30)]))
    region = no_fit_region(ell.parts, wedge.parts, 3.0)
    still, moving = shapely.Polygon(ell.ring), shapely.Polygon(wedge.ring)
    for _ in range(400):
        x, y = chance.uniform(-60, 90), chance.uniform(-60, 90)
        apart = still.distance(shapely.affinity.translate(moving, x, y))
        if region.contains(shapely.Point(x, y)):
            assert apart < 3.0 * 1.5
        else:
            assert apart >= 3.0 - 1e-6


def test_ways_that_begin_alike_share_what_is_left_free(monkeypatch: pytest.MonkeyPatch) -> None:
    """A longer sequence takes up what a shorter one, by the same rule, has worked out: its pieces
    are kept out of once each, whoever asks."""
    regions = Regions(
        kinds(rectangle_net(40, 30), rectangle_net(20, 10)), Room((0, 0, 200, 150), (), 3.0)
    )
    asked: list[LaidPiece] = []
    beside = Regions.beside

    def counted(self: Regions, still: LaidPiece, kind: int, angle_deg: float) -> BaseGeometry:
        asked.append(still)
        return beside(self, still, kind, angle_deg)

    monkeypatch.setattr(Regions, "beside", counted)
    turns = {0: (0.0,), 1: (0.0,)}
    first = lay_pieces(regions, [0, 0, 0], leftmost, turns)
    assert asked == list(first[:2])
    longer = lay_pieces(regions, [0, 0, 0, 0, 1], leftmost, turns)

    # Before the fourth lies the third alone is new; the other kind keeps out of all four.
    assert longer[:3] == first
    assert asked[2:] == [first[2], *longer[:4]]


@pytest.mark.parametrize("gap", [5e-324, 1e-300, 1e-12, 1e-7, 2e-7, 1e-6])
def test_a_gap_next_to_nothing_is_none(gap: float) -> None:
    """A gap that no buffer can be drawn with (a case found): two wedges make up the sheet."""
    wedge = polygon_net([(0, 0), (70, 0), (30, 50), (0, 50)])
    rules = SheetRules(gap=gap)

    placing = place_pieces(pieces([wedge], stock(100.1, 50), 2), machine(200, 200, 0.0), rules)
    (piece,) = pieces([wedge], stock(100.1, 50), 1, fill=True)
    filled = place_pieces([piece], machine(200, 200, 0.0), rules)

    assert placing.count == 1
    assert len(filled.sheets[0].placed) == 2
    assert list(complaints(placing.sheets[0], Bed(200, 200), rules)) == []


def test_without_spyrrow_the_extra_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """The thorough mode alone needs it; the quick mode goes on without."""
    monkeypatch.setitem(sys.modules, "spyrrow", None)
    mix = pieces([rectangle_net(80, 60)], stock(200, 100), 5)

    with pytest.raises(PlacementError, match=r"pip install 'cutlayers\[thorough\]'"):
        place_pieces(mix, machine(305, 305, 0.0), SheetRules(mode="thorough"))

    assert place_pieces(mix, machine(305, 305, 0.0)).count == 2
