"""Building nets by attaching, and what is refused."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold
from cutlayers.geometry.transforms import Transform
from cutlayers.net import Feature, Net, Panel, Role, Work
from cutlayers.net.shapes import Shape, polygon, rectangle
from cutlayers.telling.errors import NetError
from tests.net.strategies import flat, free_nets, nets

BASE = Net.start("n", "base", rectangle(60, 40))
HALF_DISC = Shape(Path(((0, 0), (20, 0)), (0.0, 1.0), closed=True), ("bottom", "dome"))


@pytest.mark.parametrize(
    ("edge", "bounds"),
    [
        ("bottom", (0, -15, 60, 0)),
        ("right", (60, 0, 75, 40)),
        ("top", (0, 40, 60, 55)),
        ("left", (-15, 0, 0, 40)),
    ],
)
def test_an_attached_panel_lies_outside_its_edge(edge: str, bounds: tuple[float, ...]) -> None:
    """A flap 15 deep on each side of a 60 × 40 base; the shared edge is the hinge."""
    wide = 60 if edge in ("bottom", "top") else 40

    net = BASE.attach("flap", rectangle(wide, 15), to=f"base.{edge}", role=Role.FLAP)

    assert net.panel("flap").outline.bounds == pytest.approx(bounds)
    assert net.hinges[0].edge == BASE.root.edge(edge)
    assert (net.hinges[0].first, net.hinges[0].second) == ("base", "flap")


@pytest.mark.parametrize(
    ("wide", "at", "span", "hinged"),
    [
        (20, None, (20, 40), (20, 40)),
        (20, 5.0, (35, 55), (35, 55)),
        (20, 50.0, (-10, 10), (0, 10)),
        (20, -5.0, (45, 65), (45, 60)),
        (80, None, (-10, 70), (0, 60)),
    ],
    ids=["centred", "from the start", "past the end", "before the start", "wider"],
)
def test_a_panel_of_another_width_is_centred_or_begins_where_told(
    wide: float, at: float | None, span: tuple[float, float], hinged: tuple[float, float]
) -> None:
    """On the top edge, which runs from right to left; only what both have is hinged."""
    net = BASE.attach("flap", rectangle(wide, 15), to="base.top", at=at, role=Role.FLAP)

    left, _, right, _ = net.panel("flap").outline.bounds
    assert (left, right) == pytest.approx(span)
    edge = net.hinges[0].edge
    assert (edge.end[0], edge.start[0]) == pytest.approx(hinged)


def test_another_edge_of_the_new_panel_can_be_hinged() -> None:
    """The left edge of a 25 × 40 wall on the right edge of the base: it stands upright there."""
    net = BASE.attach("wall", rectangle(25, 40), to="base.right", own="left", role=Role.WALL)

    assert net.panel("wall").outline.bounds == pytest.approx((60, 0, 85, 40))
    assert net.panel("wall").edge("bottom").start == pytest.approx((60, 0))


def test_an_arc_from_another_formula_is_still_the_same_arc() -> None:
    """Bulges that differ in their last bits, as tan(π/8) and √2 − 1 do, are hinged."""
    root = Shape(
        Path(((0, 0), (20, 0), (20, 20)), (0.0, math.tan(math.pi / 8), 0.0), closed=True),
        ("bottom", "rim", "back"),
    )
    flap = Shape(
        Path(
            ((0, 0), (20, 0), (20, 30), (0, 30)),
            (1 - math.nextafter(math.sqrt(2), 2), 0, 0, 0),
            closed=True,
        ),
        ("bottom", "right", "top", "left"),
    )

    net = Net.start("n", "root", root).attach("flap", flap, to="root.rim", role=Role.FLAP)

    assert net.hinges[0].edge == root.outline.segments[1]


@settings(max_examples=50, deadline=None)
@given(nets())
def test_a_hinge_lies_on_the_borders_of_both_its_panels(net: Net) -> None:
    """Its first panel lies on its left, its second on its right."""
    for hinge in net.hinges:
        ux, uy = hinge.edge.direction_at(0.5)
        x, y = hinge.edge.point_at(0.5)
        for name, side in ((hinge.first, 1e-4), (hinge.second, -1e-4)):
            ring = net.panel(name).outline
            spot = (x - side * uy, y + side * ux)
            assert _inside(ring, spot), f"{hinge} is not on the border of {name}"
            assert not _inside(ring, (x + side * uy, y - side * ux))


@settings(max_examples=50, deadline=None)
@given(free_nets())
def test_panels_keep_their_size_wherever_they_are_attached(net: Net) -> None:
    """Edge lengths and area are those of the shape; bulges to the last bit."""
    moved = net.transformed(Transform.translation(300, -20) @ Transform.rotation(33.3))

    for panel, other in zip(net.panels, moved.panels, strict=True):
        assert panel.outline.bulges == other.outline.bulges
        assert panel.outline.area == pytest.approx(other.outline.area)
        for one, two in zip(panel.outline.segments, other.outline.segments, strict=True):
            assert one.length == pytest.approx(two.length, abs=1e-9)


def test_the_root_keeps_what_is_worked_in_its_shape() -> None:
    """A shape with a window gives a root with a window, as it does an attached panel."""
    window = Feature(Work.WINDOW, Path.rectangle(10, 10, (5, 5)), "window")
    shape = Shape(rectangle(60, 40).outline, rectangle(60, 40).edges, (window,))

    net = Net.start("n", "base", shape).attach("lid", shape, to="base.right", role=Role.LID, at=0)

    assert net.root.features == (window,)
    (moved,) = net.panel("lid").features
    # The lid hangs from the base's right edge, from y = 60 down to y = 0.
    assert moved.path.bounds == pytest.approx((65, 45, 75, 55))


def test_features_move_with_their_panel() -> None:
    """A punch 5 from the hinge and 20 along it lies there on the flat net."""
    punch = Feature(Work.PUNCH, Path.circle((20, 5), 2), "hole")
    shape = Shape(rectangle(60, 15).outline, rectangle(60, 15).edges, (punch,))

    net = BASE.attach("flap", shape, to="base.top", role=Role.FLAP)

    left, bottom, right, top = net.panel("flap").features[0].path.bounds
    assert ((left + right) / 2, (bottom + top) / 2) == pytest.approx((20, 45))


def test_close_hinges_panels_that_lie_edge_to_edge() -> None:
    """Two flaps on two panels side by side, closed along the line between them."""
    net = BASE.attach("wall", rectangle(30, 40), to="base.right", own="left", role=Role.WALL)
    net = net.attach("one", rectangle(60, 15), to="base.top", role=Role.FLAP)
    net = net.attach("two", rectangle(30, 15), to="wall.top", role=Role.FLAP)

    net = net.close("one.right", "two.left", fold_deg=-180)

    assert net.hinges[-1].edge.length == pytest.approx(15)
    assert net.hinges[-1].fold is Fold.VALLEY
    assert [h.second for h in net.hinges_of(["two"])] == ["two", "two"]


@pytest.mark.parametrize(
    ("shape", "options", "message"),
    [
        (rectangle(60, 15), {"name": "base"}, "net 'n' already has a panel 'base'"),
        (rectangle(60, 15), {"to": "lid.top"}, "net 'n' has no panel 'lid'; it has base"),
        (
            rectangle(60, 15),
            {"to": "base.front"},
            "panel 'base' has no edge 'front'; it has bottom, right, top, left",
        ),
        (rectangle(60, 15), {"own": "hinge"}, "panel 'flap' has no edge 'hinge'"),
        (HALF_DISC, {"own": "dome"}, "the edges of 'flap' and 'base.top' are not alike"),
        (rectangle(20, 15), {"at": 60.0}, "panel 'flap' does not touch 'base.top'"),
        (rectangle(20, 15), {"at": -20.0}, "panel 'flap' does not touch 'base.top'"),
    ],
)
def test_attaching_refuses(shape: Shape, options: dict[str, object], message: str) -> None:
    """Doubled and unknown names, edges of different kinds, and edges that only meet in a point."""
    wanted: dict[str, object] = {"name": "flap", "to": "base.top", "role": Role.FLAP, **options}
    name = wanted.pop("name")

    with pytest.raises(NetError) as caught:
        BASE.attach(name, shape, **wanted)  # type: ignore[arg-type]

    assert str(caught.value).startswith(message)


@pytest.mark.parametrize(
    ("one", "other", "message"),
    [
        ("base.right", "wall.right", "do not lie edge to edge"),
        ("base.top", "wall.top", "do not lie edge to edge"),
        ("base.right", "wall.left", "are hinged already"),
        ("wall.left", "base.right", "are hinged already"),
    ],
)
def test_closing_refuses(one: str, other: str, message: str) -> None:
    """Edges elsewhere, in one line side by side, and a hinge that is there, either way round."""
    net = BASE.attach("wall", rectangle(30, 40), to="base.right", own="left", role=Role.WALL)

    with pytest.raises(NetError, match=message):
        net.close(one, other, fold_deg=90)


@pytest.mark.parametrize(
    ("outline", "edges", "message"),
    [
        (Path.rectangle(9, 9).reversed(), "abcd", "needs a closed counter-clockwise outline"),
        (Path.polyline([(0, 0), (9, 0), (9, 9)]), "ab", "needs a closed counter-clockwise outline"),
        (Path.rectangle(9, 9), "abc", "needs a name for each of its edges"),
        (Path.rectangle(9, 9), "abca", "has two edges of one name"),
    ],
)
def test_a_panel_refuses(outline: Path, edges: str, message: str) -> None:
    """Clockwise and open outlines, and edges without a name of their own."""
    with pytest.raises(NetError, match=f"panel 'p' {message}"):
        Panel("p", Role.WALL, outline, tuple(edges))


@pytest.mark.parametrize(
    ("work", "path", "message"),
    [
        (Work.PUNCH, Path.line((0, 0), (1, 0)), "punch 'x' needs a closed path"),
        (Work.WINDOW, Path.line((0, 0), (1, 0)), "window 'x' needs a closed path"),
        (Work.SLIT, Path.rectangle(1, 1), "slit 'x' needs an open path"),
        (Work.TEAR, Path.rectangle(1, 1), "tear 'x' needs an open path"),
    ],
)
def test_a_feature_refuses(work: Work, path: Path, message: str) -> None:
    """Holes that are open, slits that are closed."""
    with pytest.raises(NetError, match=message):
        Feature(work, path, "x")


def test_a_net_cannot_be_mirrored() -> None:
    """Its outside would face down."""
    with pytest.raises(NetError, match="cannot be mirrored"):
        BASE.transformed(Transform.mirror(0))


def test_the_bounds_are_the_size_of_the_blank() -> None:
    """A dome of radius 10 on the base's top reaches 10 above it."""
    net = BASE.attach("dome", HALF_DISC, to="base.top", role=Role.FLAP)

    assert net.bounds == pytest.approx((0, 0, 60, 50))


def test_a_corner_shape_gets_names_for_its_edges() -> None:
    """The first is the bottom, the others are numbered."""
    assert polygon((0, 0), (9, 0), (5, 5)).edges == ("bottom", "edge-1", "edge-2")


def _inside(ring: Path, point: tuple[float, float]) -> bool:
    return flat(ring, 1e-6).contains(shapely.Point(point))
