"""Nets in several parts: what is cut apart, and what is folded as one."""

from __future__ import annotations

import math

import pytest

from cutlayers.geometry.strokes import Operation, Part
from cutlayers.net import Net, Role, linework
from cutlayers.net.folding import fold
from cutlayers.net.parts import cut_apart, joined, parts
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import NetError

CALIPER = 0.5


def corner(caliper: float = CALIPER) -> Net:
    """Two walls, 60 and 40 mm long and 20 mm high, the second with a tab behind the first: the tab
    is drawn on the first, and its crease in line with that one's end."""
    whole = Net.start("corner", "long", rectangle(60, 20), Role.WALL, caliper=caliper)
    whole = whole.attach("short", rectangle(40, 20), to="long.right", own="left", role=Role.WALL)
    apart = cut_apart(whole, "long", "short").attach(
        "tab", rectangle(10, 20), to="short.left", own="right", role=Role.GLUE_TAB, lands_on="long"
    )
    # Where the layers meet the crease stands a caliper inside of the short wall.
    assert apart.panel("short").outline.bounds[0] == pytest.approx(60 + caliper)
    return joined(apart, "tab")


def test_each_part_is_a_blank_of_its_own() -> None:
    """Panels keep their names, and the net its own."""
    found = parts(corner())

    assert [[panel.name for panel in part.panels] for part in found] == [["long"], ["short", "tab"]]
    assert {part.name for part in found} == {"corner"}
    assert [len(part.hinges) for part in found] == [0, 1]


def test_a_net_in_one_part_is_itself() -> None:
    net = Net.start("plate", "plate", rectangle(10, 10))
    assert parts(net) == (net,)


def test_each_part_has_its_own_lines_and_the_joint_is_no_fold() -> None:
    """The outlines have the areas of their parts: 60 × 20, and 39.5 + 10 wide with one crease."""
    strokes = linework(corner())
    outlines = [stroke.path.area for stroke in strokes if stroke.part is Part.OUTLINE]
    folds = [stroke for stroke in strokes if stroke.operation is Operation.SCORE]

    assert outlines == pytest.approx([1200, 20 * (40 - CALIPER + 10)])
    assert [(fold.subject.panel, fold.subject.beyond) for fold in folds] == [("short", "tab")]


@pytest.mark.parametrize("fraction", [0.0, 1.0])
def test_the_tab_lies_a_caliper_inside_of_its_panel_from_the_start(fraction: float) -> None:
    """Outside up, flat or folded, its middle lies 0.5 mm below that of the wall, and each of its
    points below the point of the wall that it is drawn on."""
    folded = fold(corner(), fraction)
    place = folded.pose("long").flat(folded.place("tab", (55, 10)))

    assert place == pytest.approx((55, 10, -CALIPER), abs=1e-9)


def test_what_hangs_on_the_tab_goes_along() -> None:
    """The short wall stands back at a right angle, from a crease at 60.5 mm, 39.5 mm long."""
    folded = fold(corner())
    end = folded.place("short", (100, 10))

    assert end == pytest.approx((60 + CALIPER, 10, -CALIPER - (40 - CALIPER)), abs=1e-9)
    assert math.isclose(folded.normal("short")[0], 1.0)


def test_tabs_and_hinges_that_are_none_are_refused() -> None:
    net = corner()
    with pytest.raises(NetError, match="no hinge between 'long' and 'short'"):
        cut_apart(net, "long", "short")
    with pytest.raises(NetError, match="glued on nothing"):
        joined(net, "short")


def test_parts_that_nothing_joins_are_refused() -> None:
    """A tab that is glued later holds nothing while the box is folded."""
    net = Net.start("pair", "one", rectangle(10, 10)).attach(
        "two", rectangle(10, 10), to="one.right", role=Role.WALL
    )
    with pytest.raises(NetError, match="no hinge connects 'two'"):
        fold(cut_apart(net, "one", "two"))
