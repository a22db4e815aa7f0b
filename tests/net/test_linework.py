"""Linework on nets small enough to work out by hand, and properties of any net's lines."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.net import Feature, Linework, Net, Panel, Role, Work, linework
from cutlayers.net.linework import moved
from cutlayers.net.shapes import Shape, polygon, rectangle
from cutlayers.telling.errors import NetError
from tests.net.strategies import motions, nets

EDGES = ("bottom", "right", "top", "left")


def of(part: Part, lines: Linework) -> list[Stroke]:
    """The strokes of one part."""
    return [line for line in lines if line.part is part]


def tiles(*corners: Point, side: float = 10.0) -> Net:
    """Unhinged squares with their lower left corners at the given places, in squares."""
    return Net(
        "tiles",
        tuple(
            Panel(
                f"{x:g},{y:g}", Role.WALL, Path.rectangle(side, side, (x * side, y * side)), EDGES
            )
            for x, y in corners
        ),
    )


def outlines(*paths: Path) -> Net:
    """Unhinged panels of any outline."""
    return Net(
        "outlines",
        tuple(
            Panel(f"p{i}", Role.WALL, path, tuple(f"e{j}" for j in range(len(path.bulges))))
            for i, path in enumerate(paths)
        ),
    )


def test_two_hinged_panels_give_one_fold_and_one_outline() -> None:
    """A 60 × 20 wall on a 60 × 40 base: a score of 60 and an outline of 2(60 + 60)."""
    net = Net.start("n", "base", rectangle(60, 40)).attach(
        "wall", rectangle(60, 20), to="base.top", role=Role.WALL
    )

    fold, outline = linework(net)

    assert (fold.operation, fold.part, fold.fold) == (Operation.SCORE, Part.FOLD, Fold.MOUNTAIN)
    assert {fold.path.start, fold.path.end} == {(0.0, 40.0), (60.0, 40.0)}
    assert (outline.operation, outline.part, outline.fold) == (Operation.CUT, Part.OUTLINE, None)
    assert set(outline.path.vertices) == {(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0)}
    assert outline.path.area == 3600.0


def test_neighbours_without_a_hinge_are_parted_by_one_cut() -> None:
    """Two squares side by side: one slit between them, one outline round both."""
    slit, outline = linework(tiles((0, 0), (1, 0)))

    assert (slit.operation, slit.part) == (Operation.CUT, Part.SLIT)
    assert slit.path.length == 10.0
    assert outline.path.area == 200.0


def test_a_partial_hinge_leaves_the_rest_of_the_edge_cut() -> None:
    """A 20 wide flap in the middle of a 60 wide edge: 20 scored, 40 of the edge cut."""
    net = Net.start("n", "base", rectangle(60, 40)).attach(
        "flap", rectangle(20, 10), to="base.top", role=Role.FLAP
    )

    fold, outline = linework(net)

    assert sorted((fold.path.start, fold.path.end)) == [(20.0, 40.0), (40.0, 40.0)]
    assert outline.path.length == 2 * (60 + 40) + 2 * 10


def test_folds_in_one_line_are_scored_in_one_go() -> None:
    """Three flaps side by side on three panels side by side: one score of 90 along the flaps."""
    net = Net.start("n", "a", rectangle(30, 40))
    net = net.attach("b", rectangle(30, 40), to="a.right", own="left", role=Role.WALL)
    net = net.attach("c", rectangle(30, 40), to="b.right", own="left", role=Role.WALL)
    for panel in "abc":
        net = net.attach(f"{panel} flap", rectangle(30, 15), to=f"{panel}.top", role=Role.FLAP)

    lengths = sorted(line.path.length for line in of(Part.FOLD, linework(net)))

    assert lengths == pytest.approx([40, 40, 90])
    assert [line.path.length for line in of(Part.SLIT, linework(net))] == [15, 15]


@pytest.mark.parametrize(
    ("fold_deg", "operation"),
    [(-90.0, Operation.SCORE), (90.0, Operation.PERFORATE)],
    ids=["valley", "perforated"],
)
def test_folds_that_are_worked_otherwise_stay_apart(fold_deg: float, operation: Operation) -> None:
    """A mountain score ends where a valley or a perforation goes on."""
    net = Net.start("n", "a", rectangle(30, 40))
    net = net.attach("b", rectangle(30, 40), to="a.right", own="left", role=Role.WALL)
    net = net.attach("a flap", rectangle(30, 15), to="a.top", role=Role.FLAP)
    net = net.attach(
        "b flap",
        rectangle(30, 15),
        to="b.top",
        role=Role.FLAP,
        fold_deg=fold_deg,
        operation=operation,
    )

    folds = of(Part.FOLD, linework(net))

    assert sorted(line.path.length for line in folds) == [30, 30, 40]
    assert (operation, Fold.VALLEY if fold_deg < 0 else Fold.MOUNTAIN) in {
        (line.operation, line.fold) for line in folds
    }


def test_a_hinge_along_an_arc_is_scored_once_and_stays_an_arc() -> None:
    """A quarter circle of radius 50: one score, 25π long, about the circle's centre."""
    quarter = math.tan(math.pi / 8)
    sector = Shape(
        Path(((0.0, 0.0), (50.0, 0.0), (0.0, 50.0)), (0.0, quarter, 0.0), closed=True),
        ("bottom", "rim", "left"),
    )
    chord = 50 * math.sqrt(2)
    flap = Shape(
        Path(((0, 0), (chord, 0), (chord, 40), (0, 40)), (-quarter, 0, 0, 0), closed=True), EDGES
    )
    net = Net.start("n", "sector", sector).attach("flap", flap, to="sector.rim", role=Role.FLAP)

    (fold,) = of(Part.FOLD, linework(net))
    (arc,) = fold.path.segments

    assert arc.radius == pytest.approx(50, abs=1e-9)
    assert arc.centre == pytest.approx((0, 0), abs=1e-9)
    assert fold.path.length == pytest.approx(25 * math.pi)
    assert len(of(Part.SLIT, linework(net))) == 0


def test_a_hole_that_panels_enclose_is_an_opening() -> None:
    """Eight squares in a ring: outline 40 × 3, opening 40 round, clockwise, cut first."""
    ring = [(x, y) for x in range(3) for y in range(3) if (x, y) != (1, 1)]

    lines = linework(tiles(*ring))
    contours = [line for line in lines if line.part in (Part.OUTLINE, Part.OPENING)]

    assert [line.part for line in contours] == [Part.OPENING, Part.OUTLINE]
    assert [line.path.area for line in contours] == [-100.0, 900.0]
    assert sum(line.path.length for line in of(Part.SLIT, lines)) == 80.0


@pytest.mark.parametrize("turn", range(7))
def test_a_hole_that_touches_the_rim_is_an_opening_wherever_the_walk_begins(turn: int) -> None:
    """Seven squares round a hole whose corner is open: the two ends touch in one point."""
    ring = [(0, 0), (1, 0), (2, 0), (2, 1), (1, 2), (0, 2), (0, 1)]

    lines = linework(tiles(*ring[turn:], *ring[:turn]))

    assert [line.path.area for line in of(Part.OPENING, lines)] == [-100.0]
    assert [line.path.area for line in of(Part.OUTLINE, lines)] == [800.0]


def test_holes_that_touch_in_a_point_are_two_openings() -> None:
    """Squares round two holes that lie corner to corner."""
    holes = {(1, 1), (2, 2)}

    lines = linework(tiles(*((x, y) for x in range(4) for y in range(4) if (x, y) not in holes)))

    assert [line.path.area for line in of(Part.OPENING, lines)] == [-100.0, -100.0]
    assert [line.path.area for line in of(Part.OUTLINE, lines)] == [1600.0]


def test_parts_that_touch_in_a_point_have_an_outline_each() -> None:
    """Two squares corner to corner."""
    lines = linework(tiles((0, 0), (1, 1)))

    assert [(line.part, line.path.area) for line in lines] == [(Part.OUTLINE, 100.0)] * 2


@pytest.mark.parametrize("radii", [(10.0, 10.0), (10.0, 3.0), (3.0, 10.0)])
def test_discs_that_touch_have_an_outline_each(radii: tuple[float, float]) -> None:
    """Both arcs leave the point of touch in the same line; only their curve tells them apart."""
    first, second = radii
    left = Path.circle((-first, 0.0), first)
    right = Path.circle((second, 0.0), second)

    lines = linework(outlines(left, right))

    areas = sorted(line.path.area for line in lines)
    assert areas == pytest.approx(sorted(math.pi * radius**2 for radius in radii))


def test_a_disc_inside_a_round_hole_has_an_outline_of_its_own() -> None:
    """A square with a round hole, made of two halves, and a smaller disc touching the hole."""
    halves = [
        Path(
            ((-20, 0), (-10, 0), (10, 0), (20, 0), (20, side * 20), (-20, side * 20)),
            (0, -side, 0, 0, 0, 0),
            closed=True,
        )
        for side in (1, -1)
    ]
    halves[1] = halves[1].reversed()
    disc = Path.circle((4.0, 0.0), 6.0)

    lines = linework(outlines(*halves, disc))

    assert [line.path.area for line in of(Part.OPENING, lines)] == pytest.approx([-100 * math.pi])
    assert [line.path.area for line in of(Part.OUTLINE, lines)] == pytest.approx(
        [36 * math.pi, 1600]
    )


@pytest.mark.parametrize("turn", range(6))
def test_parts_that_touch_in_two_points_enclose_no_opening(turn: int) -> None:
    """Two L of three squares, tip to tip: between them lies a gap of one square, not a hole."""
    two = [(0, 0), (1, 0), (0, 1), (2, 1), (2, 2), (1, 2)]

    lines = linework(tiles(*two[turn:], *two[:turn]))

    assert of(Part.OPENING, lines) == []
    assert [line.path.area for line in of(Part.OUTLINE, lines)] == [300.0, 300.0]


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize("turn_deg", range(0, 360, 23))
def test_scallops_that_touch_an_edge_enclose_no_opening(order: int, turn_deg: int) -> None:
    """Two round scallops stand on an edge: at each, lines leave in one direction but for a hair.

    Turned about, so that the last bits of their directions fall either way.
    """
    turned = Transform.rotation(turn_deg)
    quarter = math.tan(math.pi / 8)
    scallops = Path(
        (
            (0.0, 10.0),
            (10.0, 0.0),
            (20.0, 10.0),
            (30.0, 0.0),
            (40.0, 10.0),
            (40.0, 30.0),
            (0.0, 30.0),
        ),
        (quarter, quarter, quarter, quarter, 0.0, 0.0, 0.0),
        closed=True,
    )
    slab = Path.rectangle(40, 10, (0, -10))

    pair = [path.transformed(turned) for path in (scallops, slab)]
    lines = linework(outlines(*pair[::order]))

    assert of(Part.OPENING, lines) == []
    assert [line.path.area for line in of(Part.OUTLINE, lines)] == pytest.approx(
        [400, 800 + 100 * math.pi]
    )


def test_an_arc_is_split_where_two_others_meet_on_it() -> None:
    """A half disc held by two hollow quarters: one slit of half a circle, still one arc."""
    quarter, radius = math.tan(math.pi / 8), 20.0
    disc = Path(((-radius, 0.0), (radius, 0.0)), (1.0, 0.0), closed=True)
    left = Path(
        ((-radius, 0.0), (-30.0, 0.0), (-30.0, -30.0), (0.0, -30.0), (0.0, -radius)),
        (0.0, 0.0, 0.0, 0.0, -quarter),
        closed=True,
    )
    right = Path(
        ((radius, 0.0), (0.0, -radius), (0.0, -30.0), (30.0, -30.0), (30.0, 0.0)),
        (-quarter, 0.0, 0.0, 0.0, 0.0),
        closed=True,
    )

    lines = linework(outlines(disc, left, right))

    half, upright = sorted(of(Part.SLIT, lines), key=lambda line: -line.path.length)
    assert half.path.length == pytest.approx(radius * math.pi)
    assert [segment.radius for segment in half.path.segments] == pytest.approx([radius])
    assert upright.path.length == pytest.approx(10)
    assert of(Part.OUTLINE, lines)[0].path.area == pytest.approx(60 * 30)


def test_only_the_hinged_edge_of_two_that_touch_is_scored() -> None:
    """An L that embraces a square, hinged along its foot: the other shared edge is a slit."""
    ell = polygon((0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30))
    net = Net.start("n", "ell", ell).attach(
        "square", rectangle(20, 20), to="ell.edge-2", role=Role.WALL
    )

    lines = linework(net)

    assert [line.path.length for line in of(Part.FOLD, lines)] == [20.0]
    (slit,) = of(Part.SLIT, lines)
    assert slit.path.length == 20.0
    assert {point[0] for point in slit.path.vertices} == {10.0}


def test_slits_run_straight_on_where_three_meet() -> None:
    """Four squares and a slab of two: a slit of 20 and one that ends on it, in two strokes."""
    net = outlines(
        Path.rectangle(20, 10),
        Path.rectangle(10, 10, (0, 10)),
        Path.rectangle(10, 10, (10, 10)),
    )

    slits = of(Part.SLIT, linework(net))

    assert sorted(line.path.length for line in slits) == [10.0, 20.0]
    assert all(len(line.path.vertices) == 2 for line in slits)


def test_slits_run_on_round_a_corner_where_there_is_no_other_way() -> None:
    """An L that embraces a square: one slit with one corner."""
    net = outlines(
        Path.polygon([(0, 0), (30, 0), (30, 10), (10, 10), (10, 30), (0, 30)]),
        Path.rectangle(20, 20, (10, 10)),
    )

    (slit,) = of(Part.SLIT, linework(net))

    assert slit.path.length == 40.0
    assert len(slit.path.vertices) == 3


def test_a_panel_cut_out_of_its_neighbours_has_one_closed_slit() -> None:
    """A square that fills the hole in a ring: its border is cut once, as a closed path."""
    corner = [(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0)]
    inner = [(10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0)]
    frame = [
        Path.polygon([corner[i], corner[(i + 1) % 4], inner[(i + 1) % 4], inner[i]])
        for i in range(4)
    ]
    net = outlines(*frame, Path.polygon(inner))

    lines = linework(net)

    assert sum(line.path.length for line in of(Part.SLIT, lines)) == pytest.approx(
        40 + 4 * math.sqrt(200)
    )
    assert of(Part.OPENING, lines) == []


def beside_a_dome(turn_deg: float) -> tuple[Path, Path]:
    """A dome on a chord of 20 mm that leaves its corner at 100.5° to it, and a triangle with that
    corner, of which an edge leaves it at so many degrees."""
    dome = Path(((0.0, 20.0), (20.0, 20.0)), (0.0, math.tan(math.radians(100.5 / 2))), closed=True)
    x, y = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return dome, Path.polygon([(0, 20), (10 * x, 20 + 10 * y), (0, 0)])


OVERLAPS = {
    # The dome's radius is 10 / sin 100.5°, 10.17 mm; it lies in the triangle over a chord of
    # 2 · 10.17 · sin 0.3° = 0.107 mm, at most 10.17 · (1 − cos 0.3°) = 0.00014 mm deep.
    "an arc just inside an edge from their corner": beside_a_dome(100.2),
    "crossing corners": (Path.rectangle(10, 10), Path.rectangle(10, 10, (5, 5))),
    "a cross": (Path.rectangle(30, 10, (0, 10)), Path.rectangle(10, 30, (10, 0))),
    "one in the other": (Path.rectangle(30, 30), Path.rectangle(10, 10, (10, 10))),
    "the same place": (Path.rectangle(10, 10), Path.rectangle(10, 10)),
    "the same side of a line": (Path.rectangle(20, 10), Path.rectangle(10, 20)),
    "in from a shared edge": (Path.rectangle(30, 30), Path.rectangle(10, 10, (0, 10))),
    "a corner through an edge": (
        Path.rectangle(30, 30),
        Path.polygon([(10, -10), (20, -10), (15, 0.001)]),
    ),
    "an arc through an edge": (
        Path.rectangle(30, 30),
        Path(((5.0, -10.0), (25.0, -10.0)), (0.0, 1.0001), closed=True),
    ),
    "two discs": (Path.circle((0, 0), 10), Path.circle((19.99, 0), 10)),
    "a disc in a square": (Path.rectangle(20, 20), Path.circle((10, 10), 10)),
    "a half disc over its chord": (
        Path.rectangle(20, 20),
        Path(((0.0, 20.0), (20.0, 20.0)), (1.0, 0.0), closed=True),
    ),
}


@pytest.mark.parametrize("pair", OVERLAPS.values(), ids=OVERLAPS.keys())
@pytest.mark.parametrize("order", [1, -1])
def test_panels_that_overlap_are_refused(pair: tuple[Path, Path], order: int) -> None:
    """Both panels are named, in whichever order they come."""
    with pytest.raises(NetError, match=r"panels 'p0' and 'p1' overlap near \("):
        linework(outlines(*pair[::order]))


TOUCHES = {
    "an arc just outside an edge from their corner": beside_a_dome(100.8),
    "corner to corner": (Path.rectangle(10, 10), Path.rectangle(10, 10, (10, 10))),
    "corner to edge": (Path.rectangle(30, 30), Path.polygon([(10, -10), (20, -10), (15, 0)])),
    "discs": (Path.circle((0, 0), 10), Path.circle((20, 0), 10)),
    "a disc on an edge": (Path.rectangle(30, 30), Path.circle((15, -10), 10)),
    "side by side": (Path.rectangle(10, 10), Path.rectangle(10, 20, (10, -5))),
    "far apart": (Path.rectangle(10, 10), Path.rectangle(10, 10, (50, 50))),
    "in a hollow": (
        Path(((0, 0), (30, 0), (30, 30), (20, 30), (10, 30), (0, 30)), (0, 0, 0, -1, 0, 0), True),
        Path.circle((15, 30), 4),
    ),
}


@pytest.mark.parametrize("pair", TOUCHES.values(), ids=TOUCHES.keys())
@settings(max_examples=10, deadline=None)
@given(motion=motions())
def test_panels_that_touch_are_no_overlap(pair: tuple[Path, Path], motion: Transform) -> None:
    """Along a line, in a point, along an arc: wherever the net lies."""
    linework(outlines(*(path.transformed(motion) for path in pair)))


@settings(max_examples=40, deadline=None)
@given(net=nets(), data=st.data())
def test_a_second_panel_on_any_panel_is_refused(net: Net, data: st.DataObject) -> None:
    """A copy of any panel, pushed a little or not at all, overlaps what it was copied from. Every
    panel holds a circle of the radius area / perimeter: pushed by less than two of these, the
    circles still overlap, where a flat dome pushed by its height would only touch."""
    panel = data.draw(st.sampled_from(net.panels))
    push = data.draw(st.sampled_from((0.0, 0.001, 0.5)))
    push = min(push, panel.outline.area / panel.outline.length)
    copy = replace(
        panel,
        name="copy",
        outline=panel.outline.transformed(Transform.translation(push, push / 2)),
        features=(),
    )

    with pytest.raises(NetError, match="overlap"):
        linework(replace(net, panels=(*net.panels, copy)))


def test_an_outline_that_crosses_itself_is_refused() -> None:
    """A bow tie with one wing larger than the other."""
    bow = Path.polygon([(0, 0), (30, 0), (10, 20), (20, 20)])

    with pytest.raises(NetError, match=r"outline of panel 'p0' crosses itself near \(15.0, 15.0\)"):
        linework(outlines(bow))


@settings(max_examples=60, deadline=None)
@given(net=nets(), motion=motions())
def test_a_net_that_is_moved_has_its_lines_moved(net: Net, motion: Transform) -> None:
    """Same strokes in the same order, every point within a nanometre of where it should be."""
    there = linework(net.transformed(motion))
    here = moved(linework(net), motion)

    assert [(s.operation, s.part, s.name, s.fold) for s in there] == [
        (s.operation, s.part, s.name, s.fold) for s in here
    ]
    for one, other in zip(there, here, strict=True):
        assert len(one.path.vertices) == len(other.path.vertices)
        assert one.path.bulges == pytest.approx(other.path.bulges, abs=1e-9)
        for point, wanted in zip(one.path.vertices, other.path.vertices, strict=True):
            assert math.dist(point, wanted) < 1e-6


@settings(max_examples=60, deadline=None)
@given(nets())
def test_arcs_stay_arcs_of_their_radius(net: Net) -> None:
    """Every arc in the lines is a piece of, or all of, some panel's arc; none is chopped up."""
    given_arcs = [
        segment for panel in net.panels for segment in panel.outline.segments if segment.bulge
    ]
    found = [s for line in linework(net) for s in line.path.segments if s.bulge]

    assert bool(found) == bool(given_arcs)
    assert len(found) <= len(given_arcs)
    for arc in found:
        assert any(
            math.dist(arc.centre, wanted.centre) < 1e-6 and abs(arc.radius - wanted.radius) < 1e-6
            for wanted in given_arcs
        )


def test_arcs_of_one_circle_are_joined_up_to_three_quarters() -> None:
    """Four petals on a square leave four arcs; four quarter sectors leave two."""
    quarter = math.tan(math.pi / 8)
    rim = [(10.0, 0.0), (0.0, 10.0), (-10.0, 0.0), (0.0, -10.0)]
    sectors = [
        Path(((0.0, 0.0), rim[i], rim[(i + 1) % 4]), (0.0, quarter, 0.0), closed=True)
        for i in range(4)
    ]

    (outline,) = of(Part.OUTLINE, linework(outlines(*sectors)))

    assert sorted(s.sweep for s in outline.path.segments) == pytest.approx(
        [math.pi / 2, 3 * math.pi / 2]
    )
    assert outline.path.area == pytest.approx(100 * math.pi)


def test_openings_inside_a_panel_run_clockwise() -> None:
    """A punch drawn either way round has its material outside."""
    for hole in (Path.circle((20, 20), 3), Path.circle((20, 20), 3).reversed()):
        net = Net.start("n", "base", rectangle(60, 40)).work(
            "base", Feature(Work.PUNCH, hole, "hole")
        )

        (opening,) = of(Part.OPENING, linework(net))

        assert opening.operation is Operation.CUT
        assert opening.path.area == pytest.approx(-9 * math.pi)
        assert opening.name == "base: hole"


def test_a_tear_line_across_panels_is_worked_in_one_go() -> None:
    """Three walls of 20 with a line each at one height: one perforation of 60, no fold."""
    net = Net.start("n", "a", rectangle(20, 40))
    net = net.attach("b", rectangle(20, 40), to="a.right", own="left", role=Role.WALL)
    net = net.attach("c", rectangle(20, 40), to="b.right", own="left", role=Role.WALL)
    for i, panel in enumerate("acb"):
        left = {"a": 0.0, "b": 20.0, "c": 40.0}[panel]
        line = Path.line((left, 15.0), (left + 20.0, 15.0))
        net = net.work(panel, Feature(Work.TEAR, line if i else line.reversed(), "tear"))

    (tear,) = [line for line in linework(net) if line.operation is Operation.PERFORATE]

    assert tear.part is Part.SLIT
    assert tear.path.length == 60.0
    assert len(tear.path.vertices) == 2


def test_guide_lines_are_drawn() -> None:
    """A guide is a mark, open or closed, whichever way round."""
    net = Net.start("n", "a", rectangle(20, 40)).work(
        "a",
        Feature(Work.GUIDE, Path.rectangle(5, 5, (2, 2)), "label"),
        Feature(Work.GUIDE, Path.line((1, 1), (9, 1)), "line"),
    )

    marks = of(Part.MARK, linework(net))

    assert [mark.operation for mark in marks] == [Operation.DRAW] * 2
    assert sum(mark.path.length for mark in marks) == 28.0


def test_the_order_of_strokes_does_not_hang_on_the_hash_seed() -> None:
    """Two processes with different hash seeds print the same strokes, to the last digit."""
    program = (
        "from cutlayers.net import linework\n"
        "from cutlayers.construction.card import Card\n"
        "from cutlayers.construction.styles import styles\n"
        "for style in styles():\n"
        "    for net in style.build(style.dimensions(), Card(0.3)):\n"
        "        print(*linework(net), sep='\\n')\n"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("0", "1", "2")
    }

    assert len(printed) == 1
    assert "Stroke(" in printed.pop()


def test_named_corners_of_a_polygon_make_no_joint_on_a_straight_edge() -> None:
    """A corner in the middle of a straight edge is left out of the outline."""
    shape = polygon((0, 0), (20, 0), (20, 20), (10, 20), (0, 20))

    (outline,) = linework(Net.start("n", "a", shape))

    assert len(outline.path.vertices) == 4


def test_an_outline_that_starts_in_the_middle_of_an_edge_has_no_joint_there() -> None:
    """The first and the last edge are joined too."""
    shape = polygon((10, 0), (20, 0), (20, 20), (0, 20), (0, 0))

    (outline,) = linework(Net.start("n", "a", shape))

    assert set(outline.path.vertices) == {(0, 0), (20, 0), (20, 20), (0, 20)}
