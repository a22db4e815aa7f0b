"""Folding: poses, standing, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.net import Net, Role, Stand
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.shapes import rectangle
from cutlayers.net.space import Pose, turned_about
from cutlayers.telling.errors import NetError

EXACT = 1e-9


def two_panels(fold_deg: float) -> Net:
    """A square with another one hinged to its right edge."""
    return Net.start("pair", "still", rectangle(10, 10)).attach(
        "turned", rectangle(10, 10), to="still.right", role=Role.WALL, fold_deg=fold_deg
    )


@pytest.mark.parametrize(
    ("fold_deg", "expected"),
    [
        (0, (20, 5, 0)),
        (90, (10, 5, -10)),  # mountain: away from the viewer, who looks from +z
        (-90, (10, 5, 10)),
        (180, (0, 5, 0)),
        (-180, (0, 5, 0)),
    ],
)
def test_a_mountain_turns_away_from_the_viewer(
    fold_deg: float, expected: tuple[float, float, float]
) -> None:
    """The far edge's middle goes below the still panel for a mountain, above it for a valley."""
    folded = fold(two_panels(fold_deg))

    assert folded.place("turned", (20, 5)) == pytest.approx(expected, abs=EXACT)


@pytest.mark.parametrize("fraction", [0.0, 0.25, 0.5, 1.0])
def test_a_fraction_turns_each_hinge_by_that_share(fraction: float) -> None:
    """At fraction f the normal has turned by f times the fold angle."""
    folded = fold(two_panels(80), fraction)

    angle = math.radians(80 * fraction)
    assert folded.normal("turned") == pytest.approx((math.sin(angle), 0, math.cos(angle)))


@pytest.mark.parametrize("root", ["still", "turned"])
def test_the_root_decides_only_what_keeps_still(root: str) -> None:
    """Walked from the other panel, a hinge encloses the same angle."""
    net = two_panels(35)
    turned = replace(
        net, panels=(net.panel(root), *(each for each in net.panels if each.name != root))
    )
    folded = fold(turned)

    cosine = sum(
        a * b for a, b in zip(folded.normal("still"), folded.normal("turned"), strict=True)
    )
    assert cosine == pytest.approx(math.cos(math.radians(35)))
    assert folded.normal(root) == (0.0, 0.0, 1.0)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_panels_stay_rigid(style: Style) -> None:
    """All distances inside a panel are those of the flat net."""
    for net in style.build(style.dimensions(), Card(0.3)):
        folded = fold(net, 0.7)
        for panel in net.panels:
            corners = panel.outline.vertices
            for one in corners:
                for other in corners:
                    apart = math.dist(
                        folded.place(panel.name, one), folded.place(panel.name, other)
                    )
                    assert apart == pytest.approx(math.dist(one, other), abs=EXACT)


def test_a_stand_turns_the_front_to_the_viewer() -> None:
    """The front's outside looks along −y, its up is +z, and the middle is over the origin."""
    net = replace(two_panels(90), stand=Stand("turned", up=(0.0, 1.0), lift=7.0))
    folded = fold(net)

    assert folded.normal("turned") == pytest.approx((0, -1, 0), abs=EXACT)
    low, high = folded.bounds
    assert low == pytest.approx((-5, -5, 7), abs=EXACT)
    assert high == pytest.approx((5, 5, 17), abs=EXACT)


def test_a_half_folded_box_keeps_its_root_where_the_finished_one_has_it() -> None:
    """Only the other panels move."""
    net = replace(two_panels(90), stand=Stand("still"))

    assert fold(net, 0.5).pose("still") == fold(net).pose("still")


def placed(style: str) -> dict[str, FoldedNet]:
    """The folded nets of a style's example, by name."""
    found = next(each for each in styles() if each.name == style)
    return {net.name: fold(net) for net in found.build(found.dimensions(), Card(0.3))}


@pytest.mark.parametrize(
    ("style", "net", "panel", "normal"),
    [
        ("tray", "tray", "front", (0, -1, 0)),
        ("tray", "tray", "left", (-1, 0, 0)),
        ("tray", "tray", "right", (1, 0, 0)),
        ("tray", "tray", "back", (0, 1, 0)),
        ("tray", "tray", "base", (0, 0, -1)),
        ("gable-carton", "base", "left", (-1, 0, 0)),
        ("gable-carton", "lid", "left", (-1, 0, 0)),
        ("gable-carton", "lid", "back", (0, 1, 0)),
        ("tuck-carton", "carton", "left", (-1, 0, 0)),
        ("tuck-carton", "carton", "top", (0, 0, 1)),
        ("tuck-carton", "carton", "bottom", (0, 0, -1)),
    ],
)
def test_panels_stand_where_their_names_say(
    style: str, net: str, panel: str, normal: tuple[float, float, float]
) -> None:
    """Left is left of the viewer who looks at the front, and every outside faces out."""
    assert placed(style)[net].normal(panel) == pytest.approx(normal, abs=EXACT)


@pytest.mark.parametrize(
    ("style", "net", "panel", "up"),
    [
        ("tray", "tray", "front", (0, -1)),
        ("tray", "tray", "back", (0, 1)),
        ("tray", "tray", "base", (0, 1)),  # level: towards the back
        ("gable-carton", "lid", "front roof", (0, 1)),
        ("gable-carton", "lid", "left gusset", (0, 1)),
        ("tuck-carton", "carton", "top", (0, -1)),  # hinged at the back, so the back is below
    ],
)
def test_upright_is_up_on_the_standing_box(
    style: str, net: str, panel: str, up: tuple[float, float]
) -> None:
    """Leaning panels have the steepest way up, level ones the way to the back."""
    assert placed(style)[net].upright(panel) == up


def test_a_flat_point_is_found_again() -> None:
    """`flat` undoes `place`, height included."""
    pose = turned_about((3, 4), (0.6, 0.8), 33).after(turned_about((1, 1), (0.0, 1.0), 120))

    assert pose.flat(pose.place((7, -2), 1.5)) == pytest.approx((7, -2, 1.5))


def test_quarter_turns_are_exact() -> None:
    """Four quarter turns about one line are no turn at all, to the last bit."""
    pose = Pose()
    for _ in range(4):
        pose = pose.after(turned_about((0, 0), (1.0, 0.0), 90))

    assert pose == Pose()


def test_a_loop_that_does_not_meet_tells_its_gap() -> None:
    """Four squares round a point with one of the four hinges turned leave a wedge open."""
    square = rectangle(10, 10)
    net = Net.start("window", "a", square)
    net = net.attach("b", square, to="a.right", own="left", role=Role.WALL, fold_deg=0)
    net = net.attach("d", square, to="a.top", role=Role.WALL, fold_deg=0)
    net = net.attach("c", square, to="b.top", role=Role.WALL, fold_deg=10)
    net = net.close("c.left", "d.right", fold_deg=0)
    (closure,) = fold(net).closures

    # The far end of the shared edge is 10 mm from the hinge about which only c has turned.
    assert closure.gap == pytest.approx(2 * 10 * math.sin(math.radians(5)))
    assert {closure.hinge.first, closure.hinge.second} == {"c", "d"}


def test_a_loop_that_meets_at_the_wrong_angle_tells_it() -> None:
    """The edges may coincide while the hinge says another angle."""
    square = rectangle(10, 10)
    net = Net.start("window", "a", square)
    net = net.attach("b", square, to="a.right", own="left", role=Role.WALL, fold_deg=25)
    net = net.attach("d", square, to="a.top", role=Role.WALL, fold_deg=0)
    net = net.attach("c", square, to="b.top", role=Role.WALL, fold_deg=0)
    net = net.close("c.left", "d.right", fold_deg=20)
    (closure,) = fold(net).closures

    assert closure.gap == pytest.approx(0, abs=EXACT)
    assert closure.angle_deg == pytest.approx(5)


@pytest.mark.parametrize("fraction", [-0.1, 1.5, math.nan])
def test_a_fraction_outside_is_refused(fraction: float) -> None:
    """Nothing folds beyond its angle."""
    with pytest.raises(NetError, match="from 0 to 1"):
        fold(two_panels(90), fraction)


def test_a_loose_panel_is_refused_by_name() -> None:
    """A panel that no hinge holds has no place in space."""
    net = replace(two_panels(90), hinges=())
    with pytest.raises(NetError, match="'turned'"):
        fold(net)
