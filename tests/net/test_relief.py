"""Relief on nets small enough to work out by hand, and of boxes of any size."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import Point
from cutlayers.net import Feature, Net, Role, Work, linework
from cutlayers.net.relief import Relieved
from cutlayers.net.shapes import Shape, polygon, rectangle
from tests.boxes import Spread, boxes, trying

CHORD = 0.001
"""mm that a chord may stray from its arc where areas are compared."""


def flapped(flap: Shape, *features: Feature) -> Net:
    """A 40 × 30 panel with a flap in the middle of its top edge."""
    return (
        Net.start("n", "base", rectangle(40, 30))
        .attach("flap", flap, to="base.top", role=Role.FLAP)
        .work("base", *features)
    )


def creases(found: Relieved) -> list[tuple[Point, Point]]:
    """The ends of each crease, in order."""
    paths = (stroke.path for stroke in found.lines if stroke.part is Part.FOLD)
    return sorted(tuple(sorted((path.start, path.end))) for path in paths)  # type: ignore[misc]


def close_to(*ends: tuple[Point, Point]) -> list[object]:
    """The same ends, up to rounding."""
    return [tuple(pytest.approx(end, abs=1e-6) for end in each) for each in ends]


def border(found: Relieved) -> Stroke:
    """The outline of a piece."""
    (line,) = (stroke for stroke in found.lines if stroke.part is Part.OUTLINE)
    return line


def circles(found: Relieved) -> list[tuple[float, float, float]]:
    """Middle and radius of each round opening."""
    arcs = [line.path.segments[0] for line in found.lines if line.part is Part.OPENING]
    return sorted((*arc.centre, arc.radius) for arc in arcs)


def test_a_crease_stops_short_of_the_inner_corners_of_a_cut() -> None:
    """A flap of 20 on an edge of 40: its crease runs from (10, 30) to (30, 30)."""
    net = flapped(rectangle(20, 15))
    found = Relieved(net, 1.5)

    assert creases(found) == close_to(((11.5, 30.0), (28.5, 30.0)))
    assert border(found) == border(Relieved(net))
    assert (found.stops, len(found.holes)) == (2, 0)


@pytest.mark.parametrize("wide", [40, 30])
def test_a_crease_runs_on_to_a_corner_that_is_none_or_hardly_one(wide: float) -> None:
    """A flap as wide as its panel; and one whose ends run in by 1 in 15, 3.8°, from the panel's
    own corners."""
    flap = polygon((0, 0), (40, 0), (wide / 2 + 20, 15), (20 - wide / 2, 15))
    found = Relieved(flapped(flap), 1.0)

    assert creases(found) == close_to(((0.0, 30.0), (40.0, 30.0)))
    assert (found.stops, len(found.holes)) == (0, 0)


def test_an_acute_inner_corner_gets_a_round_hole() -> None:
    """A flap whose ends lean out by 45° leaves two gaps of 45°; a disc about their points takes
    seven eighths of itself from the card."""
    net = flapped(polygon((0, 0), (20, 0), (30, 10), (-10, 10)))
    found = Relieved(net, 1.0)

    assert creases(found) == close_to(((11.0, 30.0), (29.0, 30.0)))
    taken = border(Relieved(net)).path.area - border(found).path.area
    assert taken == pytest.approx(2 * 7 / 8 * math.pi)
    arcs = [edge for edge in border(found).path.segments if edge.bulge]
    assert [edge.radius for edge in arcs] == [pytest.approx(1.0)] * 4
    assert (found.stops, len(found.holes)) == (0, 2)


def test_a_hole_that_would_come_near_another_cut_is_left_out() -> None:
    """A punch 1.4 mm from the one corner leaves 0.4 mm beside a hole of 1 mm."""
    punch = Feature(Work.PUNCH, Path.circle((10, 28), 0.6), "punch")
    found = Relieved(flapped(polygon((0, 0), (20, 0), (30, 10), (-10, 10)), punch), 1.0)

    assert creases(found) == close_to(((11.0, 30.0), (29.0, 30.0)))
    assert (found.stops, len(found.holes)) == (1, 1)


@pytest.mark.parametrize(("down_to", "holes"), [(21.0, 1), (17.0, 0)])
def test_a_hole_that_would_leave_an_ear_of_card_is_left_out(down_to: float, holes: int) -> None:
    """A gap of 54° ends at (20, 20), its short side at (18.6, 21). Where the border turns down
    there, the card between it and the hole's edge at 19 would be 0.4 wide."""
    corner = () if down_to == 21.0 else ((18.6, down_to),)
    top = ((40, 30), (20, 30), (20, 20), (18.6, 21), *corner, (0, down_to))
    found = Relieved(Net.start("n", "base", polygon((0, 0), (40, 0), *top)), 1.0)

    assert len(found.holes) == holes


@pytest.mark.parametrize(
    ("wide", "left"), [(4.0, ((19.0, 30.0), (21.0, 30.0))), (3.0, ((18.5, 30.0), (21.5, 30.0)))]
)
def test_a_crease_keeps_half_of_its_length_or_all(wide: float, left: tuple[Point, Point]) -> None:
    """Of 4 mm one is taken at each end, of 3 none."""
    assert creases(Relieved(flapped(rectangle(wide, 10)), 1.0)) == close_to(left)


def test_a_slit_ends_in_round_holes_and_is_as_long_as_before() -> None:
    """From (10, 10) to (30, 10): the holes lie inside of its ends."""
    slit = Feature(Work.SLIT, Path.line((10, 10), (30, 10)), "slit")
    found = Relieved(Net.start("n", "base", rectangle(40, 30)).work("base", slit), 1.5)

    assert circles(found) == [
        pytest.approx((11.5, 10, 1.5)),
        pytest.approx((28.5, 10, 1.5)),
    ]
    (line,) = (stroke for stroke in found.lines if stroke.part is Part.SLIT)
    assert (*line.path.start, *line.path.end) == pytest.approx((13, 10, 27, 10))


def test_a_slit_that_runs_out_of_the_card_has_one_hole() -> None:
    """Its other end lies on the edge."""
    slit = Feature(Work.SLIT, Path.line((0, 10), (30, 10)), "slit")
    found = Relieved(Net.start("n", "base", rectangle(40, 30)).work("base", slit), 1.0)

    assert circles(found) == [pytest.approx((29, 10, 1))]


def test_slits_with_creases_at_their_ends_end_in_the_middle_of_holes() -> None:
    """A pop-up card of three boxes: four corners each, where a slit and a crease end."""
    style = style_named("pop-up-card")
    (net,) = style.build(style.dimensions(), Card(0.5))
    plain = linework(net)
    ends = {
        end
        for stroke in plain
        if stroke.part is Part.SLIT
        for end in (stroke.path.start, stroke.path.end)
    }
    found = Relieved(net, 0.5)

    assert circles(found) == [pytest.approx((x, y, 0.5)) for x, y in sorted(ends)]
    assert len(found.holes) == 12


def test_four_creases_that_meet_in_card_get_a_hole() -> None:
    """Four squares of 20 about (20, 20), all hinged: four creases of 19 are left."""
    net = (
        Net.start("n", "a", rectangle(20, 20))
        .attach("b", rectangle(20, 20), to="a.right", own="left", role=Role.WALL)
        .attach("c", rectangle(20, 20), to="a.top", role=Role.WALL)
        .attach("d", rectangle(20, 20), to="b.top", role=Role.WALL)
        .close("c.right", "d.left", fold_deg=0)
    )
    found = Relieved(net, 1.0)

    assert circles(found) == [pytest.approx((20, 20, 1))]
    assert creases(found) == close_to(
        ((0.0, 20.0), (19.0, 20.0)),
        ((20.0, 0.0), (20.0, 19.0)),
        ((20.0, 21.0), (20.0, 40.0)),
        ((21.0, 20.0), (40.0, 20.0)),
    )


def test_letters_and_windows_stay_as_they_are_drawn() -> None:
    """A notched window, whose points are acute."""
    star = Path.polygon(((10, 5), (30, 5), (20, 8), (30, 25), (20, 22), (10, 25), (13, 15)))
    net = Net.start("n", "base", rectangle(40, 30)).work("base", Feature(Work.WINDOW, star, "star"))

    assert Relieved(net, 1.0).lines == linework(net)


def test_square_ends_of_slots_stay_square() -> None:
    """Strips of 2 mm board that slot into each other: slots no wider than a caliper and its play
    have no room for rounds of a caliper. Common practice, no source: such slots are cut square."""
    style = style_named("partition")
    for net in style.build(style.dimensions(), Card(2.0)):
        assert Relieved(net, 2.0).lines == linework(net)


def test_without_relief_lines_are_the_same() -> None:
    """None are worked out anew."""
    plain = Relieved(flapped(rectangle(20, 15)))

    assert plain.lines is plain.borders


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@given(data=st.data())
@trying(3)
def test_relief_takes_discs_from_the_card_and_no_more(style: Style, data: st.DataObject) -> None:
    """By another library's areas: what is missing of the card lies within the relief of a point at
    which lines ended, and is as much as discs about so many points can take; the border stays
    one that crosses itself nowhere; every crease lies where one lay, and has half of it or more."""
    box = data.draw(boxes(style, Spread(calipers=(0.3, 2.0))))
    size = data.draw(st.sampled_from((box.card.caliper, 0.4, 2.5)))
    for net in box.nets:
        plain = linework(net)
        found = Relieved(net, size)
        before, after = card(plain), card(found.lines)
        assert after.is_valid
        gone = before.difference(after.buffer(2 * CHORD))
        corners = [point for line in plain for point in line.path.vertices]
        points = shapely.MultiPoint(corners)
        assert gone.difference(points.buffer(2 * size + CHORD)).area <= CHORD
        assert before.area - after.area <= len(found.holes) * (math.pi * size**2 + 0.1)
        assert after.difference(before.buffer(2 * CHORD)).is_empty
        old, new = folds(plain), folds(found.lines)
        assert new.difference(old.buffer(2 * CHORD)).is_empty
        assert new.length >= old.length / 2 - 1e-6
        assert not new.intersects(before.difference(after).buffer(-3 * CHORD))


def card(lines: tuple[Stroke, ...]) -> BaseGeometry:
    """What lies within the outline and in no opening."""
    rings = [
        (line.part, shapely.Polygon(line.path.points(CHORD)))
        for line in lines
        if line.operation is Operation.CUT and line.path.closed
    ]
    openings = shapely.union_all([ring for part, ring in rings if part is Part.OPENING])
    return shapely.union_all([r for part, r in rings if part is Part.OUTLINE]).difference(openings)


def folds(lines: tuple[Stroke, ...]) -> BaseGeometry:
    """All creases."""
    return shapely.MultiLineString(
        [line.path.points(CHORD) for line in lines if line.part is Part.FOLD]
    )
