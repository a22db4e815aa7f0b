from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate

from cutlayers.artwork.regions import Region, Regions, _first_share, area_of, share_out
from cutlayers.construction.card import Card
from cutlayers.construction.styles import styles
from cutlayers.geometry.overlays import GRID, as_area, without
from cutlayers.net import Net, Role
from cutlayers.net.shapes import glue_tab, rectangle


def cross_net() -> Net:
    """A base 60 × 40 with two walls 20 high in front and at the right."""
    net = Net.start("cross", "base", rectangle(60, 40))
    net = net.attach("front", rectangle(60, 20), to="base.bottom", role=Role.WALL)
    return net.attach("right", rectangle(40, 20), to="base.right", role=Role.WALL)


def regions(net: Net, printed: list[str], spreading: list[str], bleed: float) -> dict[str, Region]:
    return Regions(net, tuple(printed), frozenset(spreading), bleed).of_panels


def test_bleed_runs_past_cut_edges_alone() -> None:
    """A wall with one fold and three cut edges: 3 mm round those, two rounded corners there,
    nothing over the fold."""
    found = regions(cross_net(), ["front"], ["front"], 3.0)["front"]

    expected = 60 * 3 + 2 * 20 * 3 + 2 * math.pi * 9 / 4
    assert found.bleed.area == pytest.approx(expected, rel=1e-3)
    assert found.panel.area == 60 * 20
    assert found.bleed.intersection(area_of(cross_net().panel("base").outline)).area < 1e-9


def test_neighbours_share_the_waste_between_them() -> None:
    """In the inner corner between two walls each has what is nearer: the diagonal parts it."""
    found = regions(cross_net(), ["front", "right"], ["front", "right"], 3.0)
    front, right = found["front"].bleed, found["right"].bleed
    # The inner corner of the two walls is at (60, 0); the waste lies to the right and below.
    corner = shapely.box(60, -3, 63, 0)

    assert front.intersection(right).area < 1e-9
    assert front.intersection(corner).area == pytest.approx(4.5, abs=0.5)
    assert right.intersection(corner).area == pytest.approx(4.5, abs=0.5)
    assert shapely.union_all([front, right]).intersection(corner).area == pytest.approx(9, abs=0.05)


def test_bleed_goes_on_over_a_hidden_glue_tab() -> None:
    """So that the seam shows no white; a tab that lands outside would show it."""
    net = Net.start("wall", "wall", rectangle(50, 30), Role.WALL)
    tab = glue_tab(30, 12, 3)
    under = net.attach("tab", tab, to="wall.right", role=Role.GLUE_TAB, lands_on="wall")
    over = net.attach("tab", tab, to="wall.right", role=Role.GLUE_TAB, lands_on="wall", under=False)
    area = area_of(under.panel("tab").outline)

    hidden = regions(under, ["wall"], ["wall"], 3.0)["wall"].bleed.intersection(area)
    shown = regions(over, ["wall"], ["wall"], 3.0)["wall"].bleed.intersection(area)

    # A strip 3 mm wide of a tab 30 mm long that tapers by 3 mm over 12, so by 0.75 at each end.
    assert hidden.area == pytest.approx(3 * (30 + 28.5) / 2, abs=1e-6)
    assert shown.area == 0.0


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_ink_stays_within_cut_and_bleed(style: object) -> None:
    """On every style: no bleed farther out than asked for, none on another printed panel."""
    for net in style.build(style.dimensions(), Card(0.3)):  # type: ignore[attr-defined]
        names = [panel.name for panel in net.panels]
        found = regions(net, names, names, 3.0)
        panels = {name: area_of(net.panel(name).outline) for name in names}
        for name in names:
            assert found[name].bleed.difference(panels[name].buffer(3.01)).area < 1e-3
            for other in names:
                if other != name:
                    assert found[name].whole.intersection(panels[other]).area < 1e-3
                    assert found[name].bleed.intersection(found[other].bleed).area < 1e-3


@settings(max_examples=10, deadline=None)
@given(x=st.integers(-400, 400), y=st.integers(-400, 400))
def test_corners_alike_are_parted_alike_and_once(x: int, y: int) -> None:
    """Wherever they lie: boxes of other heights have the same corners elsewhere."""
    one, two = shapely.box(0, 0, 30, 20), shapely.box(30, 20, 60, 40)
    both = shapely.union(one, two)
    parts = [(as_area(each), as_area(without(each.buffer(3.0), both))) for each in (one, two)]
    there = [(translate(own, x, y), translate(beyond, x, y)) for own, beyond in parts]

    here = share_out(parts, 3.0)
    known = _first_share.cache_info().misses
    moved = share_out(there, 3.0)

    assert _first_share.cache_info().misses == known
    for mine, other in zip(here, moved, strict=True):
        assert translate(mine, x, y).symmetric_difference(other).area < 60 * 3 * GRID


@settings(max_examples=25, deadline=None)
@given(
    gap=st.floats(0.2, 8.0),
    bleed=st.floats(0.5, 5.0),
    shift=st.floats(-20.0, 20.0),
)
def test_two_pieces_meet_halfway(gap: float, bleed: float, shift: float) -> None:
    """Whatever their gap: bleeds do not overlap, none reaches the other piece, and the waste
    between them is left white only where both are too far away."""
    one, two = shapely.box(0, 0, 30, 20), shapely.box(30 + gap, shift, 60, shift + 20)
    bleeds = [without(each.buffer(bleed), each) for each in (one, two)]
    parts = [
        (each, beyond)
        for each, beyond in zip((one, two), bleeds, strict=True)
        if isinstance(beyond, shapely.Polygon)
    ]
    assert len(parts) == 2

    mine, theirs = share_out(parts, bleed)

    assert mine.intersection(theirs).area < 1e-6
    # Borders of 20 mm may lie beside each other by a step of the grid.
    assert mine.intersection(two).area < 20 * GRID
    assert theirs.intersection(one).area < 20 * GRID
    wanted = shapely.union_all([one.buffer(bleed), two.buffer(bleed)])
    assert shapely.union_all([one, two, mine, theirs]).area == pytest.approx(wanted.area, rel=1e-6)
