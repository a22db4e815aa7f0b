"""Turns of hinges from the flat blank to the finished box."""

from __future__ import annotations

from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.box import Box, build
from cutlayers.box.moves import Motion
from cutlayers.box.stages import stages
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.net import Hinge
from tests.boxes import boxes, trying

STILL = {"hang-tag"}
"""Without a fold, and of one piece."""


def box(style: str, caliper: float = 0.3, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


def moving(whole: Box) -> list[tuple[str, list[str]]]:
    """What is done, and the panels that swing in it, one after the other."""
    return [
        (motion.step.action.value, [each.first for move in motion.moves for each in move.swing])
        for motion in whole.motions
    ]


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@trying(few=3)
@given(data=st.data())
def test_every_hinge_turns_from_flat_to_where_the_finished_box_has_it(
    style: Style, data: st.DataObject
) -> None:
    """No hinge is left out, none jumps, and none is turned that the box does not have."""
    whole = data.draw(boxes(style)).built
    at: dict[str, dict[Hinge, float]] = defaultdict(dict)
    for motion in whole.motions:
        for turn in (turn for move in motion.moves for turn in move.turns):
            assert turn.from_deg == at[motion.step.net].get(turn.hinge, 0.0) != turn.to_deg
            at[motion.step.net][turn.hinge] = turn.to_deg

    assert len([*stages(whole)]) >= len(whole.motions)
    assert bool(whole.motions) == (len(whole.nets) > 1 or any(net.hinges for net in whole.nets))
    for folded in whole.assembly.boxes:
        for hinge in folded.net.hinges:
            assert at[folded.net.name].get(hinge, 0.0) == pytest.approx(hinge.fold_deg)


def test_walls_rise_with_the_tabs_that_are_glued() -> None:
    """The long walls of a tray carry the tabs, the short ones go over them, one side after the
    other: common practice."""
    assert moving(box("tray")) == [("glue", ["front", "back", "left"]), ("glue", ["right"])]


def test_a_carton_is_glued_flat_and_squared_up() -> None:
    """Glued lying flat, its tube has two creases folded right over and two open."""
    seam, square, *rest = box("tuck-carton").motions

    assert all(move.pressed for move in seam.moves)
    assert _turns(seam) == {("right", "back"): (0, 180), ("front", "left"): (0, 180)}
    assert _turns(square) == {
        ("front", "left"): (180, 90),
        ("front", "right"): (0, 90),
        ("right", "back"): (180, 90),
        ("back", "glue tab"): (0, 90),
    }
    assert [motion.step.action.value for motion in rest] == ["fold in", "tuck"] * 2


def _turns(motion: Motion) -> dict[tuple[str, str], tuple[float, float]]:
    return {
        (turn.hinge.first, turn.hinge.second): (turn.from_deg, turn.to_deg)
        for move in motion.moves
        for turn in move.turns
    }


def test_a_pop_up_moves_all_at_once() -> None:
    """Its boxes and its halves hang together."""
    (motion,) = box("pop-up-card").motions

    (move,) = motion.moves
    assert not move.swing and len(move.turns) == len(box("pop-up-card").nets[0].hinges)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_the_last_stage_is_the_finished_box(style: Style) -> None:
    """Every panel of the nets that are shown lies where the finished box has it; the lid of two
    pieces is there with its base."""
    whole = build(style, style.dimensions(), Card(0.3))
    found = [*stages(whole)]

    if style.name in STILL:
        assert not found
        return
    finished = {folded.net.name: folded for folded in whole.assembly.boxes}
    assert {each.net.name for each in found[-1].nets} == {*finished}
    for folded in found[-1].nets:
        for panel in folded.net.panels:
            at, wanted = (
                each.place(panel.name, panel.outline.start)
                for each in (folded, finished[folded.net.name])
            )
            assert at == pytest.approx(wanted, abs=0.02)


def test_nets_slide_from_where_they_are_clear() -> None:
    """A lid as high as its base comes down over all of it; a drawer 90 mm long inside comes into a
    sleeve that is as long outside, from the right; strips as high as their tray is inside, 30 mm,
    come down into each other."""
    slides = {
        name: [motion.slide for motion in box(name).motions if motion.slide]
        for name in ("telescope-box", "sleeve-and-drawer", "partition")
    }

    assert [[(each.way, each.past) for each in found] for found in slides.values()] == [
        [((0, 0, -1), ("base",))],
        [((-1, 0, 0), ("sleeve",))],
        [
            ((0, 0, -1), ("long strip 1",)),
            ((0, 0, -1), ("long strip 1", "cross strip 1")),
        ],
    ]
    for name, far in (("telescope-box", 35), ("sleeve-and-drawer", 90), ("partition", 30)):
        assert all(far <= each.far <= far + 1 for each in slides[name])


def test_strips_wait_for_those_whose_slots_go_over_them() -> None:
    """Two strips along the tray do not go into each other; each across goes over both."""
    steps = box("partition", rows=3).steps()

    assert [(step.net, step.targets) for step in steps] == [
        (f"cross strip {index}", ("long strip 1", "long strip 2")) for index in (1, 2)
    ]


def test_open_flaps_of_a_pillow_run_on_straight() -> None:
    """A face that bends has its rulings along the pack, and an open flap carries them on: the tube
    is as long as its blank. With both ends closed, each along its end line, it is as long as the
    size says; every strip stays joined to the next."""
    whole = box("pillow-pack", length=110.0, width=75.0)
    (net,) = whole.nets
    found = [*stages(whole)]

    long = [high[2] - low[2] for low, high in (stage.nets[0].bounds for stage in found)]

    assert net.facets is not None
    _, y0, _, y1 = net.facets.bounds
    assert long[0] == pytest.approx(y1 - y0, abs=0.01)
    assert long[-1] == pytest.approx(110.0, abs=1.0)
    assert all(stage.nets[0].closure_error < 0.05 for stage in found)


def test_a_gables_gussets_go_in_before_its_ridges_meet() -> None:
    """Half way both roofs lean in, equally, and the gussets have come inwards."""
    by_action = {each.step.action.value: each for each in stages(box("gable-carton"))}
    lid = next(net for net in by_action["gussets"].nets if net.net.name == "lid")
    angle = {(h.first, h.second): h.fold_deg for h in lid.net.hinges}
    (upright,) = by_action["seam"].nets

    assert angle["back", "back roof"] == pytest.approx(angle["front", "front roof"], abs=0.5)
    assert 10 < angle["front", "front roof"] < 35
    assert all(angle[side, f"{side} gusset"] > 10 for side in ("left", "right"))
    assert abs(upright.normal("front roof")[2]) < 1e-6
