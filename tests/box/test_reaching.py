"""Does a finger get in to what is pressed from inside?"""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.box import Box, Tool, build
from cutlayers.box.reaching import pressed, presses
from cutlayers.box.stages import Stage, stages
from cutlayers.box.steps import Action
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.guide import assembly_words

HIDDEN = {
    "gusseted-envelope": (Tool.PENCIL, {"square up"}),
    "platonic-solid": (Tool.NOTHING, {"glue"}),
}
"""By hand: an envelope 15 mm deep, less its card, is as wide as a finger and the gusset beside it;
the last face of a solid closes on its tabs. All else is glued lying flat, or has an open side that
is wider than a finger."""


def box(style: str, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(0.3))


def tools(whole: Box) -> set[Tool]:
    return {press.tool for press in presses(whole, stages(whole, pressed(whole)))}


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_no_style_needs_a_hand_where_none_gets_in(style: Style) -> None:
    """At the sizes of its example."""
    found = build(style, style.dimensions(), Card(0.3)).unreached

    tool, actions = HIDDEN.get(style.name, (None, set()))
    assert {press.tool for press in found} == ({tool} if tool else set())
    assert {press.step.action.value for press in found} == actions


def test_the_last_face_of_a_cube_closes_on_tabs_that_nobody_reaches() -> None:
    """One of six faces is the lid, glued last; whatever is glued before it has an open side of 60
    mm square."""
    cube = box("platonic-solid", solid="cube", edge=60.0)

    found = list(presses(cube, stages(cube, pressed(cube))))

    *before, last = [step for step in cube.steps() if step.action in (Action.SEAM, Action.GLUE)]
    assert [press.panel for press in found] == [
        name for step in (*before, last) for name in step.panels
    ]
    for press in found:
        assert press.tool is (Tool.NOTHING if press.step == last else Tool.FINGER)


@pytest.mark.parametrize(
    ("across", "high", "tool"),
    [
        (20.0, 20.0, Tool.FINGER),
        (10.0, 20.0, Tool.PENCIL),
        (40.0, 200.0, Tool.FINGER),
        (20.0, 200.0, Tool.PENCIL),
        (20.0, 80.0, Tool.FINGER),
        (20.0, 140.0, Tool.PENCIL),
    ],
)
def test_a_finger_needs_its_own_width_and_a_hand_behind_it(
    across: float, high: float, tool: Tool
) -> None:
    """A finger is 12 mm thick, a pencil 7. Half way down a tray 200 mm high, 100 mm from its rim, a
    finger of 80 mm needs a hand of 30 mm in the tray behind it; so it does at the lower end of a
    tab whose middle is 70 mm from the rim."""
    tray = box("tray", length=across, width=across, height=high, tab=min(8.0, across / 2))

    assert tools(tray) == {tool}


def test_a_bottom_that_is_squared_up_under_a_closed_top_is_out_of_reach() -> None:
    """Its panels are pushed down from above; once the top is tucked in, nobody can."""
    carton = box("crash-lock-carton", length=70.0, width=45.0, height=100.0)
    square = next(stage for stage in stages(carton) if stage.step.action is Action.SQUARE)
    closed = replace(square, nets=carton.assembly.boxes)

    def found(stage: Stage) -> dict[str, Tool]:
        return {press.panel: press.tool for press in presses(carton, [stage])}

    bottoms = {"front bottom", "back bottom"}
    assert found(square) == dict.fromkeys(bottoms, Tool.FINGER)
    assert found(closed) == dict.fromkeys(bottoms, Tool.NOTHING)


def test_it_is_said_what_to_press_with() -> None:
    """For one and for several."""
    assert "*a*: press there with the end of a pencil" in assembly_words.pressed(["a"], Tool.PENCIL)
    said = assembly_words.pressed(["a", "b"], Tool.NOTHING)
    assert said.startswith("Nothing gets in to *a* and *b*: press from outside")
    assert said.endswith("hold them until they stay.")


def test_what_is_pressed_on_the_table_needs_no_finger_inside() -> None:
    """A carton's seam is glued lying flat, and an envelope's tabs lie on its front."""
    assert tools(box("tuck-carton")) == set()
    assert tools(box("envelope")) == {Tool.FINGER}
