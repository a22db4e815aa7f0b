"""Which panel lies on which."""

from __future__ import annotations

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.net.folding import fold
from cutlayers.net.space import dot
from tests.checks.boxes import folded_strip, with_tab
from tests.net.standing import standing


def piles(style: str) -> list[list[str]]:
    """Stacks of two or more panels of a style's example whose layers share a plane, from the inside
    outwards where all panels look the same way, else along the stack's normal."""
    found = style_named(style)
    box = standing(found.build(found.dimensions(), Card(0.3, coarse=1.0)))
    return [[face.name for face in stack.faces] for stack in box.stacks if len(stack.faces) > 1]


@pytest.mark.parametrize("count", [2, 3, 6])
def test_a_pile_folded_to_and_fro_keeps_its_order(count: int) -> None:
    """Mountain and valley by turns: each layer behind the one before."""
    (stack,) = standing([folded_strip(count)]).stacks
    names = [face.name for face in stack.faces]
    front_last = names if dot(stack.normal, (0, -1, 0)) > 0 else names[::-1]

    assert front_last == [f"layer {i}" for i in reversed(range(count))]


@pytest.mark.parametrize(("under", "outermost"), [(True, "left"), (False, "tab")])
def test_a_tab_lies_inside_or_outside_as_it_says(under: bool, outermost: str) -> None:
    """The left wall's outside looks to −x."""
    box = standing([with_tab(under=under)])
    (stack,) = [stack for stack in box.stacks if len(stack.faces) > 1]
    names = [face.name for face in stack.faces]
    if dot(stack.normal, (-1, 0, 0)) < 0:
        names.reverse()

    assert names[-1] == outermost
    levels = {name: stack.from_below["tray", name] for name in names}
    assert sorted(levels.values()) == [0, 1]


def test_every_face_is_in_one_stack() -> None:
    """None lost, none twice."""
    style = style_named("gable-carton")
    box = standing(style.build(style.dimensions(), Card(0.3)))
    listed = [face for stack in box.stacks for face in stack.faces]

    assert len(listed) == len(box.faces)
    assert {(f.net, f.name) for f in listed} == {(f.net, f.name) for f in box.faces}


def test_the_gable_s_piles() -> None:
    """Tabs inside walls, gusset sides inside roofs, the seam tab between strip and back roof."""
    found = piles("gable-carton")

    assert ["left back side", "right back side", "roof tab", "back roof"] in found or [
        "right back side",
        "left back side",
        "roof tab",
        "back roof",
    ] in found
    assert ["wall tab", "back"] in found


def test_layers_with_planes_of_their_own_lie_a_caliper_apart() -> None:
    """Dust flaps below the closing panel, tucks behind the wall, the seam's tab behind the left."""
    style = style_named("tuck-carton")
    (net,) = style.build(style.dimensions(), Card(0.4))
    folded = fold(net)

    for inner, outer in (
        ("left top dust flap", "top"),
        ("top tuck", "front"),
        ("bottom tuck", "back"),
        ("glue tab", "left"),
    ):
        start = folded.place(inner, net.panel(inner).outline.start)
        assert folded.pose(outer).flat(start)[2] == pytest.approx(-0.4), inner
