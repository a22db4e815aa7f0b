"""A gable lid in card that has thickness: sizes, layers of the ridge, and what is cut for them.

Worked by hand from the angles: a roof leans by φ from upright over a run of half the lid's width
less half of the ridge's thickness, which is four calipers t from the middle of one ridge to that of
the other; sin φ = (d/2 − 2t)/s with its slope s.
"""

from __future__ import annotations

import math

import pytest

from cutlayers.box import build
from cutlayers.box.steps import Action
from cutlayers.checks.punching import check_punching
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.job.limits import Limits
from cutlayers.net import Net
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.parts import parts
from cutlayers.telling.errors import StyleError
from tests.net.standing import standing

CALIPERS = (0.2, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0)
ENDS = ("front", "back")
RIDGE = ("front ridge", "left front strip", "left back strip", "ridge tab", "back ridge")

in_any_card = pytest.mark.parametrize("caliper", CALIPERS)


def nets(caliper: float, **options: float) -> tuple[Net, ...]:
    style = style_named("gable-carton")
    return style.build(style.dimensions(length=80.0, width=60.0, **options), Card(caliper, "score"))


def lid(caliper: float, **options: float) -> FoldedNet:
    return fold(nets(caliper, **options)[1])


def size(net: Net, panel: str) -> tuple[float, float]:
    left, bottom, right, top = net.panel(panel).outline.bounds
    return right - left, top - bottom


@in_any_card
def test_the_five_layers_beside_the_seam_lie_face_to_face(caliper: float) -> None:
    folded = lid(caliper)
    front = folded.pose("front ridge")
    place = folded.net.panel("ridge tab").outline.vertices[0]
    depths = [
        front.flat(folded.place(name, folded.net.panel(name).outline.start))[2] for name in RIDGE
    ]

    assert depths == pytest.approx([-caliper * layer for layer in range(5)], abs=1e-9)
    assert front.flat(folded.place("ridge tab", place))[2] == pytest.approx(-3 * caliper)


@in_any_card
def test_every_loop_closes_in_thick_card(caliper: float) -> None:
    folded = lid(caliper)
    assert len(folded.closures) >= 6
    assert folded.closure_error < 1e-6


@in_any_card
def test_the_lid_measures_what_was_asked_for(caliper: float) -> None:
    """Length and width go over the base with the clearance, the width past the tab too; a wall of
    25 in front, a roof of 50 from fold to fold, a ridge of 18."""
    _, net = nets(caliper, roof_depth=50.0, ridge_height=18.0)
    roof, ridge = (
        next(h.edge for h in net.hinges if (h.first, h.second) == pair).start[1]
        for pair in (("front", "front roof"), ("front roof", "front ridge"))
    )

    assert size(net, "front") == pytest.approx((80 + 2 * caliper + 1, 25))
    assert ridge - roof == pytest.approx(50)
    assert net.panel("front ridge").outline.bounds[3] - ridge == pytest.approx(18)
    left, right = net.panel("right").edge("bottom").start, net.panel("right").edge("bottom").end
    assert right[0] - left[0] == pytest.approx(60 + 3 * caliper + 1)


@in_any_card
def test_gussets_fold_in_below_the_roofs(caliper: float) -> None:
    """On the right by t·cot(φ/2)."""
    _, net = nets(caliper, roof_depth=50.0)
    run = (60 + 3 * caliper + 1) / 2 - 2 * caliper
    half_lean = math.asin(run / 50.0) / 2
    fold_at = net.panel("right gusset").outline.bounds[1]

    assert 25 - fold_at == pytest.approx(caliper / math.tan(half_lean))


@in_any_card
def test_closure_holes_lie_on_each_other_in_all_layers(caliper: float) -> None:
    boxed = standing(nets(caliper, punch=4.0, punch_inset=24.0, ridge_height=24.0))
    found = check_punching(boxed, Card(caliper), Limits(layers=4))
    assert [each.code for each in found] == []


@pytest.mark.parametrize(
    ("options", "field"),
    [
        ({"lid_height": 10.0}, "options.lid_height"),
        ({"ridge_height": 8.0}, "options.ridge_height"),
        ({"tab": 8.0}, "options.tab"),
    ],
)
def test_what_the_layers_of_3_mm_board_leave_nothing_of_is_refused(
    options: dict[str, float], field: str
) -> None:
    with pytest.raises(StyleError) as refused:
        nets(3.0, **options)
    assert refused.value.field == field


def in_two(caliper: float, **options: float) -> FoldedNet:
    return lid(caliper, lid_parts=2, **options)


def test_in_two_parts_a_lid_of_sheets_is_the_same_lid() -> None:
    """Without thickness a joint takes no room: every panel lies where that of the lid in one part
    does."""
    one, two = lid(0.0), in_two(0.0)

    for panel in one.net.panels:
        for corner in panel.outline.vertices:
            assert two.place(panel.name, corner) == pytest.approx(one.place(panel.name, corner))


@in_any_card
def test_each_part_is_half_of_the_strip_and_a_tab(caliper: float) -> None:
    """Score to score the lid is 80 + 2c + 1 mm long and 60 + 2c + 1 mm wide over its base: half a
    caliper c on each side lies outside of the base's creases, and half inside of the lid's. The
    seam's tab makes it a caliper wider. Each part has one wall of each, and a tab of 12 mm and the
    caliper that folds right over take of it."""
    length, width = 80 + 2 * caliper + 1, 60 + 3 * caliper + 1
    halves = [part.bounds for part in parts(nets(caliper, lid_parts=2)[1])]

    assert len(halves) == 2
    for left, bottom, right, top in halves:
        assert right - left == pytest.approx(length + width + 12 + caliper)
        assert top - bottom == pytest.approx(halves[0][3] - halves[0][1])


@in_any_card
def test_in_two_parts_both_ends_have_their_five_layers(caliper: float) -> None:
    """From the front: ridge, strips, the tab of the back; or ridge, the joint's tab, strips."""
    folded = in_two(caliper)
    front = folded.pose("front ridge")
    joint = ("front ridge", "front ridge tab", "right front strip", "right back strip")
    for names in (RIDGE, (*joint, "back ridge")):
        depths = [
            front.flat(folded.place(name, folded.net.panel(name).outline.start))[2]
            for name in names
        ]
        assert depths == pytest.approx([-caliper * layer for layer in range(5)], abs=1e-9)
    assert folded.closure_error < 1e-6


@in_any_card
def test_in_two_parts_the_walls_stand_a_tab_farther_apart(caliper: float) -> None:
    """Front and back each have a tab inside: two calipers more than the base, its clearance and the
    creases take; so there is as much room before the base as behind it."""
    folded = in_two(caliper)
    front, back = (folded.place(name, folded.net.panel(name).outline.start) for name in ENDS)

    assert back[1] - front[1] == pytest.approx(60 + 2 * caliper + 1 + 2 * caliper)
    assert back[1] == pytest.approx(-front[1])


def test_a_lid_in_two_parts_is_joined_flat_before_all_else_is_glued() -> None:
    """And it goes together without bending anything, as the one in one part does."""
    style = style_named("gable-carton")
    box = build(style, style.dimensions(lid_parts=2), Card(0.3))
    own = [step for step in box.steps() if step.net == "lid"]

    assert [step.action for step in own] == [
        Action.FOLD,
        Action.JOIN_PARTS,
        Action.SEAM,
        Action.JOIN_OVER,
        Action.GUSSETS,
        Action.RIDGES,
    ]
    assert own[1].panels == ("front wall tab", "front roof tab", "front ridge tab")
    assert own[1].targets == ("front", "front roof", "front ridge")
    assert not any(way.bends for way in box.ways)
