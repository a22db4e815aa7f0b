"""Sizes on a ruler: equal ones stay equal, and the box still closes and fits."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from cutlayers.box import Blank, Box, build
from cutlayers.checks import Limits, check_box
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.guide.angles import settled
from cutlayers.guide.coarse import with_whole_steps
from cutlayers.guide.fits import RoundedBox, limits_by_hand, round_box
from cutlayers.guide.rounding import Grid, _Move, _Term, changed
from cutlayers.guide.ruler import RULERS, Ruler
from cutlayers.net import Feature, Net, Role, Work
from cutlayers.net.folding import fold
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import NetError

QUICK = (Phase.explicit, Phase.generate)
"""Without shrinking: each example folds a box, and a failing one is small enough to read."""

SIXTEENTHS = RULERS["1/16in"]


def box(style: str, caliper: float = 0.3, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


def by_hand(style: str, **dims: object) -> tuple[Net, ...]:
    """The nets of a box as a hand makes them, without steps that no ruler shows."""
    found = style_named(style)
    return found.build(found.dimensions(**dims), Card(0.3, coarse=1.0))


def rounded(net: Net, ruler: Ruler) -> Net:
    grid = Grid.of(Blank(net), ruler)
    return grid.rounded(grid.best()).net


def on_ruler(exact: Box, ruler: Ruler) -> RoundedBox:
    """The box rounded, what is wrong with it as it is being known."""
    return round_box(exact, ruler, check_box(exact))


def sides(net: Net, panel: str) -> tuple[float, float]:
    left, bottom, right, top = net.panel(panel).outline.bounds
    return right - left, top - bottom


def test_a_tray_in_sixteenths_is_what_a_ruler_gives() -> None:
    """90 × 60 × 30 mm inside in 0.3 mm card, scores at 90.3, 60.3, 30.15: by hand 3 9/16,
    2 3/8 and 1 3/16 in (90.4875, 60.325, 30.1625 mm)."""
    (tray,) = (rounded(net, SIXTEENTHS) for net in box("tray").nets)

    assert sides(tray, "base") == pytest.approx((57 * 25.4 / 16, 38 * 25.4 / 16))
    assert sides(tray, "front")[1] == pytest.approx(19 * 25.4 / 16)


@pytest.mark.parametrize(
    ("caliper", "ruler", "steps"),
    [
        (0.3, "1/16in", [0.0]),
        (0.9, "1/16in", [25.4 / 16, 0.0]),
        (0.3, "0.5mm", [0.5, 0.0]),
        (0.2, "0.5mm", [0.0]),
        (1.0, "1mm", [1.0]),
        (1.6, "1mm", [2.0]),
    ],
)
def test_steps_between_layers_are_whole_divisions_and_none_below_half_of_one(
    caliper: float, ruler: str, steps: list[float]
) -> None:
    """A caliper rounded by hand to what the ruler shows; where that is more than the card, a box
    without steps is tried as well."""
    made = with_whole_steps(box("tray", caliper), RULERS[ruler])

    assert [each.nets[0].caliper for each in made] == pytest.approx(steps)


@pytest.mark.parametrize("ruler", RULERS.values(), ids=list(RULERS))
@settings(max_examples=12, deadline=None, phases=QUICK)
@example(51.12859728705801, 51.12859728705801, 92.16249862875927)
@given(st.floats(40, 150), st.floats(20, 60), st.floats(50, 150))
def test_equal_panels_stay_equal_and_near(
    ruler: Ruler, length: float, width: float, height: float
) -> None:
    """Opposite walls of a carton stay alike, and no wall is off by more than a division.

    Steps between layers of 0.3 mm card are below half a division of every ruler but one in half
    millimetres, on which they come out as a division or none.
    """
    made = box("tuck-carton", length=length, width=width, height=height)
    (exact,) = with_whole_steps(made, ruler)[0].nets
    carton = rounded(exact, ruler)

    # The back ends a layer inside of the left wall, where the ruler shows as much.
    step = ruler.step if exact.caliper else 0.0
    for one, other in (("front", "back"), ("left", "right")):
        assert sides(carton, one)[1] == pytest.approx(sides(carton, other)[1], abs=1e-9)
        narrower = sides(carton, one)[0] - sides(carton, other)[0]
        # Rounded to the nearest, a step may come out as two divisions.
        most = 2 * step if one == "front" else 0.0
        assert -1e-9 <= narrower <= most + 1e-9
        for size, wanted in zip(sides(carton, one), sides(exact, one), strict=True):
            assert abs(size - wanted) <= ruler.step + 1e-9
            assert size / ruler.step == pytest.approx(round(size / ruler.step), abs=1e-6)


def test_halves_stay_halves() -> None:
    """A gable's gusset folds in the middle, on a line of the ruler: it is an even number of
    sixteenths wide."""
    _, lid = (rounded(net, SIXTEENTHS) for net in by_hand("gable-carton"))
    left, _, right, _ = lid.panel("left gusset").outline.bounds
    strip = lid.panel("left back strip").outline.bounds

    assert round((right - left) / SIXTEENTHS.step) % 2 == 0
    assert strip[2] - strip[0] == pytest.approx((right - left) / 2)


@settings(max_examples=10, deadline=None, phases=QUICK)
@given(st.floats(50, 120), st.floats(30, 50), st.floats(0.55, 1.2))
def test_a_gable_finds_its_own_lean(length: float, width: float, slope: float) -> None:
    """With rounded sizes a roof leans acos(w / 2s) from level, so its fold is 90° less that
    (rafter triangle: half the width over the slope), and the loops close."""
    roof = slope * (width + 2)
    _, exact = by_hand("gable-carton", length=length, width=width, height=60, roof_depth=roof)
    lid = settled(rounded(exact, SIXTEENTHS))
    wide, roof = sides(lid, "left gusset")
    lean = math.degrees(math.acos(wide / 2 / roof))

    (hinge,) = [h for h in lid.hinges if {h.first, h.second} == {"front", "front roof"}]
    assert hinge.fold_deg == pytest.approx(90 - lean, abs=1e-6)
    assert fold(lid).closure_error < 1e-6


def test_a_lid_that_no_longer_goes_on_gets_room() -> None:
    """Base 59.7 mm between scores is 37.6 sixteenths, so 38; lid 59.7 + 0.6 + 0.8 = 61.1 is 38.5,
    nearest 38 as well, which cannot go over the base; one of them gets the next sixteenth."""
    exact = box("gable-carton", length=59.4, width=50, clearance=0.8)
    result = on_ruler(exact, SIXTEENTHS)
    base, lid = (sides(net, "front")[0] for net in result.box.nets)

    assert {finding.code for finding in result.reasons} == {"lid-tight"}
    assert lid - base >= SIXTEENTHS.step - 1e-9
    assert all(
        abs(each.taken - each.nearest) <= SIXTEENTHS.step + 1e-9 for each in result.adjustments
    )
    assert check_box(result.box) == ()


@pytest.mark.parametrize(
    ("style", "ruler", "dims"),
    [
        ("gable-carton", "1/16in", {"length": 60.325, "width": 60.325, "height": 61.9125}),
        ("gable-carton", "1/16in", {"length": 60.325, "width": 60.325, "height": 62, "punch": 4.8}),
        ("telescope-box", "1/16in", {"length": 60, "width": 40, "height": 30}),
        ("tuck-carton", "0.5mm", {"length": 60, "width": 30, "height": 90, "slit": 8}),
    ],
)
def test_a_rounding_that_is_free_is_found(style: str, ruler: str, dims: dict[str, Any]) -> None:
    """Where any two sizes changed by a division make the box right, it is not said that none do.

    The other search knows nothing of what a fault names: it tries all pairs in turn.
    """
    exact = box(style, **dims)
    result = on_ruler(exact, RULERS[ruler])
    if not result.left:
        assert check_box(result.box, limits=limits_by_hand(RULERS[ruler], Limits())) == ()
        return
    known = {finding.code for finding in check_box(exact)}
    for plain in with_whole_steps(exact, RULERS[ruler]):
        grids = [Grid.of(blank, RULERS[ruler]) for blank in plain.blanks]
        moves = [(i, move) for i, grid in enumerate(grids) for move in grid.moves()]
        for pair in itertools.combinations(moves, 2):
            chosen = [grid.best() for grid in grids]
            for index, move in pair:
                chosen[index] = changed(chosen[index], move)
            try:
                nets = [settled(g.rounded(c).net) for g, c in zip(grids, chosen, strict=True)]
            except NetError:
                continue
            found = check_box(Box(tuple(map(Blank, nets)), plain.card, plain.origin))
            assert {finding.code for finding in found} - known, pair


def test_flaps_that_would_meet_are_made_shorter() -> None:
    """Dust flaps of 17.65 mm, half of 35.3, round to 18 on a millimetre ruler and the wall to 35:
    together a millimetre too long."""
    exact = box("tuck-carton", length=35.0, width=55.7)
    result = on_ruler(exact, RULERS["1mm"])

    assert {finding.code for finding in result.reasons} == {"flaps-meet"}
    assert [(each.nearest, each.taken) for each in result.adjustments] == [(18.0, 17.0)]
    assert check_box(result.box) == ()


def test_a_box_that_fits_at_the_nearest_is_left_there() -> None:
    """Nothing is changed, and nothing told, where nothing is wrong."""
    result = on_ruler(box("tray"), SIXTEENTHS)

    assert (result.reasons, result.adjustments, result.left) == ((), (), ())


def test_parts_too_small_for_the_ruler_are_rounded_point_by_point() -> None:
    """A strip of 0.4 mm vanishes on a millimetre ruler; nobody is sent to a ruler she has not."""
    net = Net.start("strip", "one", rectangle(40, 20), Role.WALL).attach(
        "two", rectangle(0.4, 20), to="one.right", own="left", role=Role.WALL
    )
    with pytest.raises(NetError, match="too small"):
        rounded(net, RULERS["1mm"])

    assert on_ruler(Box.of((net,), Card(0.3)), RULERS["1mm"]).pointwise


def test_slanted_panels_are_said_to_be_uneven() -> None:
    """The six walls of a hexagonal box hang on slanted folds that no square grid keeps alike; a
    gable's slanted creases are mirror images and stay so."""
    assert on_ruler(box("prism-box"), SIXTEENTHS).uneven
    assert not on_ruler(box("gable-carton"), SIXTEENTHS).uneven


@pytest.mark.parametrize("letters", [1, 4])
def test_letters_cost_the_search_nothing(letters: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody measures a letter out with a ruler, so its corners are no places to be rounded: as
    many sums are made as for the same box without a word on it."""
    (plain,) = box("tray").nets
    (x, y) = plain.panel("base").outline.vertices[0]
    ring = [(3 + 2.31 * math.cos(i), 3 + 2.17 * math.sin(i)) for i in (j * 0.31 for j in range(20))]
    written = plain.work(
        "base",
        *(
            Feature(
                Work.WINDOW,
                Path.polygon([(x + 8 + 7.3 * n + a, y + 9 + b) for a, b in ring]),
                "lettering B",
                traced=True,
            )
            for n in range(letters)
        ),
    )

    def counting(method: Callable[..., Any], calls: list[int]) -> Callable[..., Any]:
        def counted(*given: Any) -> Any:
            calls.append(1)
            return method(*given)

        return counted

    sums: list[int] = []
    for method in (_Term.misfit, _Move.gain):
        monkeypatch.setattr(
            _Term if method is _Term.misfit else _Move,
            method.__name__,
            counting(method, sums),
        )
    on_ruler(Box.of((plain,), Card(0.3)), SIXTEENTHS)
    wanted = len(sums)
    sums.clear()
    result = on_ruler(Box.of((written,), Card(0.3)), SIXTEENTHS)

    assert 0 < len(sums) == wanted
    assert len(result.box.nets[0].panel("base").features) == letters


def test_a_letter_goes_with_its_panel_and_keeps_its_shape() -> None:
    """A letter in the middle of a panel is still there when the panel is rounded."""
    (plain,) = box("tray").nets
    left, bottom, right, top = plain.panel("base").outline.bounds
    middle = ((left + right) / 2, (bottom + top) / 2)
    corners = [(middle[0] + dx, middle[1] + dy) for dx, dy in ((-3.3, -4.1), (3.3, -4.1), (0, 4.1))]
    letter = Feature(Work.WINDOW, Path.polygon(corners), "lettering A", traced=True)
    base = rounded(plain.work("base", letter), SIXTEENTHS).panel("base")
    left, bottom, right, top = base.outline.bounds
    x0, y0, x1, y1 = base.features[0].path.bounds

    assert (x1 - x0, y1 - y0) == pytest.approx((6.6, 8.2))
    assert (x0 + x1, y0 + y1) == pytest.approx((left + right, bottom + top))


SMALLEST = {"length": 90, "width": 60, "height": 30, "columns": 2, "rows": 2}
"""One strip each way."""


@pytest.mark.parametrize("caliper", [0.3, 2.0])
@pytest.mark.parametrize(
    "dims",
    [
        SMALLEST,
        {**SMALLEST, "length": 91, "columns": 3},
        {**SMALLEST, "length": 97, "width": 63, "height": 33, "columns": 4, "rows": 3},
        {**SMALLEST, "length": 101.6, "width": 76.2, "height": 31.75, "columns": 3},
    ],
    ids=["one-each", "two-across", "three-across", "four-by-three-inches"],
)
@pytest.mark.parametrize("ruler", RULERS.values(), ids=list(RULERS))
def test_strips_on_a_ruler_stand_in_their_slots(
    ruler: Ruler, dims: dict[str, float], caliper: float
) -> None:
    """Slots a division beside their exact places take the strips with them, and no slot is
    narrower than the card that goes into it: a maker puts strips where the slots are."""
    found = on_ruler(box("partition", caliper, **dims), ruler)

    assert not found.left
    strips = {net.name: (net, slots_of(net)) for net in found.box.nets}
    long = [each for name, each in strips.items() if name.startswith("long")]
    cross = [each for name, each in strips.items() if name.startswith("cross")]
    for (one, along), (other, across) in itertools.product(long, cross):
        assert one.stand is not None and other.stand is not None
        (x, y), (u, v) = one.stand.at, other.stand.at
        half = caliper / 2 - 1e-6
        assert any(low + x + half <= u <= high + x - half for low, high in along)
        # A strip that stands across is turned left: its flat left end lies in front.
        assert any(low + v + half <= y <= high + v - half for low, high in across)


def slots_of(strip: Net) -> list[tuple[float, float]]:
    """From where to where each slot of a strip goes, from its middle: corners half way up."""
    (panel,) = strip.panels
    left, bottom, right, top = panel.outline.bounds
    inner = sorted({x - (left + right) / 2 for x, y in panel.outline.vertices if bottom < y < top})
    return list(zip(inner[::2], inner[1::2], strict=True))


def test_a_slot_of_thin_card_stays_a_slot() -> None:
    """0.3 mm card goes through a slot of 0.45 mm: less than a third of a sixteenth, and still a
    sixteenth wide on a ruler with sixteenths."""
    found = on_ruler(box("partition", 0.3, **SMALLEST), SIXTEENTHS)

    for net in found.box.nets:
        (slot,) = slots_of(net)
        assert slot[1] - slot[0] == pytest.approx(25.4 / 16)
