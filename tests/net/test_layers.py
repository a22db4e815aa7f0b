"""Creases that stand where layers of card meet."""

from __future__ import annotations

import math

import pytest

from cutlayers.geometry.paths import Path
from cutlayers.net import Net, Role
from cutlayers.net.folding import fold
from cutlayers.net.layers import crease_step, drawn_in
from cutlayers.net.shapes import rectangle
from cutlayers.telling.errors import NetError

SQUARE = Path.rectangle(40, 30)


@pytest.mark.parametrize(
    ("host", "panel", "fold_deg", "calipers"),
    [
        (0, 1, 90.0, 1.0),  # a tab on a wall
        (0, 2, 90.0, 2.0),
        (0, 1, 60.0, 2 / math.sqrt(3)),  # a hexagon's: 1/sin 60°
        (0, 1, 120.0, 2 / math.sqrt(3)),
        (1, 1, 90.0, 1.0),  # two tabs of one seam: tan 45°
        (1, 1, 60.0, 1 / math.sqrt(3)),  # tan 30°
        (1, 1, -60.0, -1 / math.sqrt(3)),  # a valley stands farther out
        (0, 0, 90.0, 0.0),
        (0, 1, 0.0, 0.0),
        (0, 1, 180.0, 0.0),
    ],
)
def test_a_crease_stands_where_the_middles_of_two_layers_cross(
    host: int, panel: int, fold_deg: float, calipers: float
) -> None:
    """Worked by hand: parallels of two lines that cross at 180° − φ cross (b − a cos φ)/sin φ
    short of where the lines do."""
    assert crease_step(host, panel, fold_deg) == pytest.approx(calipers)


@pytest.mark.parametrize("turned_deg", [45.0, 60.0, 90.0, 120.0])
def test_a_tab_lies_a_caliper_inside_of_its_wall_whatever_the_corner(turned_deg: float) -> None:
    """Two walls that turn by an angle, and a tab on the one behind the other."""
    net = Net.start("net", "one", rectangle(40, 30), Role.WALL, caliper=0.7)
    net = net.attach("base", rectangle(40, 5), to="one.bottom", role=Role.BASE)
    other = Net.start("net", "one", rectangle(40, 30), Role.WALL)
    other = other.attach(
        "two", rectangle(20, 30), to="one.right", own="left", role=Role.WALL, fold_deg=turned_deg
    )
    net = net.attach(
        "tab",
        rectangle(10, 30),
        to="one.right",
        own="left",
        role=Role.GLUE_TAB,
        fold_deg=turned_deg,
        lands_on="two",
    )
    tab, wall = fold(net), fold(other).pose("two")

    heights = {
        round(wall.flat(tab.place("tab", corner))[2], 9)
        for corner in net.panel("tab").outline.vertices
    }

    assert heights == {-0.7}
    # What hangs below keeps to the shorter wall, and is as wide as before.
    hinge = next(hinge for hinge in net.hinges if hinge.second == "base")
    drawn = 0.7 / math.sin(math.radians(turned_deg))
    assert hinge.edge.length == pytest.approx(40 - drawn)
    assert net.panel("base").outline.area == pytest.approx(200)


def test_a_net_without_thickness_has_no_steps() -> None:
    net = Net.start("net", "one", rectangle(40, 30), Role.WALL)
    net = net.attach("tab", rectangle(30, 10), to="one.right", role=Role.GLUE_TAB, lands_on="one")

    assert net.panel("one").outline == SQUARE


def test_an_edge_is_drawn_in_along_those_beside_it() -> None:
    """A triangle of 60 × 40 whose slanted side goes in by 6: similar, smaller by 6 of the height
    of 33.2820 over that side (60 · 40/√(60² + 40²))."""
    triangle = Path.polygon([(0, 0), (60, 0), (0, 40)])

    moved = drawn_in(triangle, 1, 6.0)

    share = 1 - 6 / (2400 / math.hypot(60, 40))
    assert moved.area == pytest.approx(1200 * share**2)
    assert moved.vertices[0] == (0, 0)


@pytest.mark.parametrize("by", [30.0, 45.0])
def test_an_edge_is_not_drawn_through_its_panel(by: float) -> None:
    with pytest.raises(NetError, match="leaves nothing"):
        drawn_in(SQUARE, 0, by)


def test_an_edge_that_folds_is_not_drawn_in() -> None:
    """Its hinge would be left behind."""
    net = Net.start("net", "one", rectangle(40, 30)).attach(
        "two", rectangle(30, 10), to="one.right", role=Role.FLAP
    )

    with pytest.raises(NetError, match="no edge left"):
        net.draw_in("one.right", 1.0)
