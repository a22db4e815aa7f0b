"""Closing in small turns: what passes, what has to be held, and what would not get by."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.box import Box, build
from cutlayers.box.closing import ends
from cutlayers.box.walking import closing, walk
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.net.slabs import allowed

STILL = {"hang-tag", "partition", "pillow-pack", "pop-up-card"}
"""Without a panel that swings by itself, or with curved folds."""


def box(style: str, caliper: float = 0.3, **dims: object) -> Box:
    found = style_named(style)
    return build(found, found.dimensions(**dims), Card(caliper))


@pytest.mark.parametrize(("caliper", "turn_deg"), [(0.3, 5.0), (1.0, 15.0)])
@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_every_style_closes_without_passing_through_itself(
    style: Style, caliper: float, turn_deg: float
) -> None:
    """At its example's size, in turns of 5° at most; in thick card in larger ones.

    Card stretches by one per cent on the outside of a bend as tight as 50 calipers, and is none the
    worse: from memory.
    """
    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})

    ways = walk(build(style, dims, Card(caliper)), turn_deg)

    assert bool(ways) == (style.name not in STILL)
    for way in ways:
        assert way.depth <= allowed(caliper) or way.radius >= 50 * caliper, way


def test_a_tuck_has_to_be_folded_farther_to_clear_the_wall() -> None:
    """A tuck t deep at right angles on a panel w deep swings in a circle of radius √(w² + t²) about
    the panel's fold, and the wall that it goes behind stands w from there: 50² + 15² is 52.2².
    It has to come to lie behind that wall, so its tip would go through it by 2.2 mm. Folded
    farther, it clears the wall: there is a way, and it is told how far."""
    tall = box("tuck-carton", length=60.0, width=50.0, height=100.0, tuck=15.0)
    assert math.hypot(50, 15) - 50 > 2.0

    (top,) = [way for way in walk(tall) if way.panels == ("top", "top tuck")]

    assert top.held_deg > 0.0
    assert top.depth == 0.0


def test_flaps_that_come_after_their_lid_do_not_get_by() -> None:
    """The order of an end turned round: the dust flaps would go through the closed top, as deep
    as the card is thick at least."""
    carton = box("tuck-carton")
    (folded,) = carton.assembly.boxes
    bottom, top = ends(folded.net, carton.assembly)
    wrong = replace(top, groups=top.groups[::-1])

    stuck = [way for way in closing(folded, carton, (bottom, wrong)) if way.depth > 0.3]

    assert {way.panels for way in stuck} == {
        ("left top dust flap",),
        ("right top dust flap",),
    }
    assert all(way.between is not None and way.radius < math.inf for way in stuck)


def test_turns_are_as_small_as_asked_for() -> None:
    """Right angles, in turns of 5° and of 15°."""
    assert {way.turns for way in walk(box("snap-lock-carton"))} == {18}
    assert {way.turns for way in walk(box("snap-lock-carton"), 15.0)} == {6}


def test_walls_rise_before_those_that_go_over_their_tabs() -> None:
    """The long walls of a tray carry the tabs, the short ones go over them."""
    names = [way.panels[0] for way in walk(box("tray"))]

    assert names == ["front", "back", "left", "right"]
