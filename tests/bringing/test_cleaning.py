"""Lines cleaned: each slip of the hand in its smallest case. Expected places are those of the
rectangle that was meant."""

from __future__ import annotations

import math

import pytest
import shapely

from cutlayers.bringing.cleaning import Cleaned, Counts, clean
from cutlayers.bringing.lines import Edge, Kind
from cutlayers.bringing.panels import flat_nets
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.telling.errors import NetError
from tests.bringing.drawn import box, cuts, meant, scores

WHOLE = box(0, 0, 100, 50)


def stretches(cleaned: Cleaned) -> set[tuple[str, frozenset[tuple[float, float]]]]:
    """Kind and rounded ends of each edge."""
    return {
        (edge.kind.value, frozenset((round(x, 6), round(y, 6)) for x, y in _ends(edge)))
        for edge in cleaned.edges
    }


def _ends(edge: Edge) -> tuple[tuple[float, float], tuple[float, float]]:
    return edge.segment.start, edge.segment.end


RECTANGLE = stretches(clean(meant(WHOLE)))


def test_a_drawing_without_a_slip_stays_as_it_is() -> None:
    """Nothing is counted."""
    cleaned = clean(meant(WHOLE))

    assert len(cleaned.edges) == 4
    assert cleaned.counts == Counts()
    assert not cleaned.dangling
    assert not cleaned.lost


def test_a_line_drawn_twice_is_there_once() -> None:
    """Also the other way round, and by a hair beside itself."""
    again = cuts(((100, 0), (0, 0)), ((0, 0.004), (100, 0.004)))
    cleaned = clean(meant([*WHOLE, *again]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(doubled=2)
    assert cleaned.edges[0].sources == (1, 5, 6)


@pytest.mark.parametrize(
    "over",
    [((20, 0), (60, 0)), ((0, 0), (60, 0)), ((60, 0), (100, 0))],
    ids=["within", "from the start", "to the end"],
)
def test_a_partial_overlap_is_there_once(
    over: tuple[tuple[float, float], tuple[float, float]],
) -> None:
    """The line below it is one line again afterwards."""
    cleaned = clean(meant([*WHOLE, *cuts(over)]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts.doubled == 1


def test_lines_that_overlap_each_other_in_part_are_one() -> None:
    """Neither goes the whole way."""
    cleaned = clean(meant([*cuts(((0, 0), (70, 0)), ((100, 0), (30, 0))), *WHOLE[1:]]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts.doubled == 1


@pytest.mark.parametrize("kind", [Kind.SCORE, Kind.PERFORATE])
def test_a_cut_on_a_crease_wins(kind: Kind) -> None:
    """What is told is that something was outdone."""
    over = [(kind, Path.line((0, 0), (100, 0)))]
    cleaned = clean(meant([*over, *WHOLE]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(outdone=1)


def test_a_shared_edge_of_two_boxes_is_cut_once() -> None:
    """Two rectangles drawn side by side."""
    cleaned = clean(meant([*box(0, 0, 40, 50), *box(40, 0, 100, 50)]))

    assert len(cleaned.edges) == 7
    assert cleaned.counts == Counts(doubled=1)


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ((0.2, 0.0), (100.0, 0.0)),
        ((0.2, 0.0), (99.8, 0.0)),
        ((-0.2, 0.0), (100.2, 0.0)),
    ],
    ids=["one short", "both short", "both long"],
)
def test_an_end_goes_to_the_corner(start: tuple[float, float], end: tuple[float, float]) -> None:
    """A gap closes by the line going on, an overshoot by its being cut back."""
    cleaned = clean(meant([*cuts((start, end)), *WHOLE[1:]]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts.dangling == 0


def test_a_corner_that_no_line_reaches_stands_where_they_cross() -> None:
    """Both stop 0.2 mm short, so that their ends are 0.28 mm apart."""
    short = cuts(((0.2, 0), (100, 0)), ((0, 50), (0, 0.2)))
    cleaned = clean(meant([*short, *WHOLE[1:3]]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(gaps=1)


def test_a_gap_in_a_line_closes_and_leaves_one_line() -> None:
    """Two goes at one line."""
    cleaned = clean(meant([*cuts(((0, 0), (49.9, 0)), ((50.1, 0), (100, 0))), *WHOLE[1:]]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(gaps=1)


def test_a_short_line_at_a_gap_keeps_its_end() -> None:
    """A line of 0.1 mm ends at the corner; that its other end is nearer moves neither."""
    lines = [*cuts(((0.2, 0), (100, 0)), ((0, 0), (0, 0.1)), ((0, 0.1), (0, 50))), *WHOLE[1:3]]
    cleaned = clean(meant(lines))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(gaps=1)


def test_a_small_step_at_a_gap_stays() -> None:
    """A line that stops short of a step of 0.15 mm goes to the step's near corner, and the step
    is no end that runs past another line."""
    step = cuts(((100, 25), (99.85, 25)), ((99.85, 25), (99.85, 50)), ((99.85, 50), (0, 50)))
    short = cuts(((0, 0), (100, 0)), ((100, 0), (100, 24.8)))
    cleaned = clean(meant([*short, *step, *WHOLE[3:], *scores(((0, 25), (99.85, 25)))]))

    corners = {corner for _, ends in stretches(cleaned) for corner in ends}
    assert {(100, 25), (99.85, 25)} <= corners
    assert cleaned.counts == Counts(gaps=1, crossings=1)


def test_a_wider_gap_stays() -> None:
    """0.4 mm is more than `join`; a larger `join` closes it."""
    lines = meant([*cuts(((0, 0), (99.6, 0))), *WHOLE[1:]])

    assert clean(lines).counts == Counts(dangling=2)
    assert stretches(clean(lines, join=0.5)) == RECTANGLE


def test_a_step_smaller_than_a_gap_stays() -> None:
    """Corners that lines reach do not move: a crease steps by a caliper there."""
    outline = Path.polygon([(0, 0), (100, 0), (100, 20), (99.8, 20), (99.8, 50), (0, 50)])
    cleaned = clean(meant([(Kind.CUT, outline)]))

    assert len(cleaned.edges) == 6
    assert cleaned.counts == Counts()


def test_crossings_are_split() -> None:
    """An X and a T: two creases cross, and end on the outline."""
    lines = [*WHOLE, *scores(((0, 20), (100, 20)), ((30, 0), (30, 50)))]
    cleaned = clean(meant(lines))

    assert len(cleaned.edges) == 12
    assert cleaned.counts == Counts(crossings=5)


@pytest.mark.parametrize("bottom", [-2.0, 2.0], ids=["overshoots", "stops short"])
def test_a_crease_ends_on_the_outline(bottom: float) -> None:
    """By default; and it stays as it was drawn if asked."""
    lines = meant([*WHOLE, *scores(((30, bottom), (30, 50)))])
    exact = stretches(clean(meant([*WHOLE, *scores(((30, 0), (30, 50)))])))

    assert stretches(clean(lines)) == exact
    kept = clean(lines, ends="keep")
    assert kept.counts.trimmed == kept.counts.lengthened == 0
    assert kept.counts.dangling == 1
    assert any((30.0, bottom) in _ends(edge) for edge in kept.dangling)


def test_a_crease_that_runs_past_a_notch_cuts_nothing_off() -> None:
    """It crosses the notch between two flaps, 0.3 mm wide there, and ends in the next flap: of the
    1.2 mm that it runs past its corner nothing is left."""
    corners = [(0, 0), (60, 0), (60, 32), (41, 32), (40, 29), (40, 60), (0, 60)]
    drawn = [(Kind.CUT, Path.polygon(corners)), *scores(((40, 0), (40, 29)))]
    exact = clean(meant([*drawn, *scores(((0, 30), (40, 30)))]))
    over = clean(meant([*drawn, *scores(((0, 30), (41.2, 30)))]))

    assert stretches(over) == stretches(exact)
    assert over.counts.trimmed == 1


def test_a_crease_that_ends_far_inside_dangles() -> None:
    """It is reported, not mended."""
    cleaned = clean(meant([*WHOLE, *scores(((30, 10), (30, 50)))]))

    assert [edge.kind for edge in cleaned.dangling] == [Kind.SCORE]
    assert cleaned.counts == Counts(crossings=1, dangling=1)


def test_tiny_lines_are_left_out() -> None:
    """With a count, and told by their numbers."""
    cleaned = clean(meant([*WHOLE, *cuts(((20, 20), (20.02, 20)))]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.counts == Counts(tiny=1)
    assert [line.number for line in cleaned.lost] == [5]


def test_tiny_lines_that_make_a_circle_stay() -> None:
    """A hole 4 mm across in 360 lines of 0.035 mm, each by itself."""
    points = [
        (20 + 2 * math.cos(math.radians(at)), 20 + 2 * math.sin(math.radians(at)))
        for at in range(360)
    ]
    lines = cuts(*zip(points, [*points[1:], points[0]], strict=True))
    cleaned = clean(meant(lines))

    assert cleaned.counts == Counts(arcs=1, short_lines=360)
    assert [edge.segment.radius for edge in cleaned.edges] == [pytest.approx(2, abs=0.01)] * 2


@pytest.mark.parametrize("radius", [1.0, 3.0, 25.0, 200.0])
def test_a_circle_of_short_lines_is_a_circle_again(radius: float) -> None:
    """Its true radius to 0.01 mm, from chords within 0.02 mm."""
    chords = Path.polygon(Path.circle((7, 9), radius).points(0.019))
    cleaned = clean(meant([(Kind.CUT, chords)]))

    assert cleaned.counts == Counts(arcs=1, short_lines=len(chords.vertices))
    assert [abs(edge.segment.bulge) for edge in cleaned.edges] == [1.0, 1.0]
    for edge in cleaned.edges:
        assert edge.segment.radius == pytest.approx(radius, abs=0.01)
        assert math.dist(edge.segment.centre, (7, 9)) < 0.01


@pytest.mark.parametrize("chord", [0.002, 0.015])
def test_a_rounded_corner_of_short_lines_is_an_arc_again(chord: float) -> None:
    """Between two straight edges that stay straight; each line is drawn by itself."""
    bulge = math.tan(math.pi / 8)
    rounded = Path(
        ((0, 0), (95, 0), (100, 5), (100, 50), (0, 50)), (0, bulge, 0, 0, 0), closed=True
    )
    points = rounded.points(chord)
    lines = cuts(*zip(points, [*points[1:], points[0]], strict=True))
    cleaned = clean(meant(lines))

    bent = [edge.segment for edge in cleaned.edges if edge.segment.bulge]
    assert len(cleaned.edges) == 5
    assert [arc.radius for arc in bent] == [pytest.approx(5, abs=0.1)]
    off = [abs(math.dist(point, bent[0].centre) - bent[0].radius) for point in points[2:-3]]
    assert max(off) <= 0.03


def test_a_polygon_stays_a_polygon() -> None:
    """A hole with twelve sides 10 mm across is 0.17 mm off its circle: r(1 − cos 15°)."""
    corners = [(5 * math.cos(i * math.pi / 6), 5 * math.sin(i * math.pi / 6)) for i in range(12)]
    cleaned = clean(meant([(Kind.CUT, Path.polygon(corners))]))

    assert len(cleaned.edges) == 12
    assert cleaned.counts == Counts()


def test_an_arc_and_its_chords_are_one_arc() -> None:
    """Drawn twice, once in short lines."""
    arc = Segment((0, 0), (10, 0), 0.4)
    chords = Path.polyline([arc.start, *arc.flatten(0.01)])
    cleaned = clean(
        meant([(Kind.CUT, Path.from_segments([arc], closed=False)), (Kind.CUT, chords)])
    )

    assert len(cleaned.edges) == 1
    assert cleaned.edges[0].segment.radius == pytest.approx(arc.radius, abs=0.02)


def test_drawn_lines_take_no_part() -> None:
    """They are there once, and split nothing."""
    line = (Kind.DRAW, Path.line((0, 20), (100, 20)))
    cleaned = clean(meant([*WHOLE, line, line]))

    assert len(cleaned.edges) == 5
    assert cleaned.counts == Counts()


@pytest.mark.parametrize("kind", [Kind.REGISTER, Kind.IGNORE])
def test_what_is_no_line_of_the_box_is_left_out(kind: Kind) -> None:
    """Marks and frames."""
    cleaned = clean(meant([*WHOLE, (kind, Path.rectangle(300, 300))]))

    assert stretches(cleaned) == RECTANGLE
    assert cleaned.lost == ()


def test_a_hatch_is_refused() -> None:
    """150 lines across 150: each of 22,500 crossings would cost time and mean nothing."""
    across = cuts(*(((0.0, at), (150.0, at)) for at in map(float, range(1, 150))))
    up = cuts(*(((at, 0.0), (at, 150.0)) for at in map(float, range(1, 150))))

    with pytest.raises(NetError, match=r"cross in more than 20,000 places.*take hatches"):
        clean(meant([*across, *up]))


@pytest.mark.parametrize("off", [-0.02, -0.0101, -0.01, -0.005, 0.005, 0.01, 0.0101, 0.02])
def test_a_crease_that_ends_a_hair_beside_a_corner_folds_back_nowhere(off: float) -> None:
    """A tray of 90 × 20 with walls of 20, one crease a hair beside two corners of the base: by an
    independent library no panel's outline touches itself, and the areas are those worked by
    hand."""
    corners = [(20, 0), (110, 0), (110, -20), (130, -20), (130, -40), (110, -40)]
    corners += [(110, -60), (20, -60), (20, -40), (0, -40), (0, -20), (20, -20)]
    outline = cuts(*zip(corners, [*corners[1:], corners[0]], strict=True))
    base = [((20, -20), (110, -20)), ((110, -20), (110, -40)), ((110, -40), (20, -40))]

    found = clean(meant([*outline, *scores(*base, ((20 + off, -40), (20, -20 - abs(off))))]))

    panels = [panel for flat in flat_nets(found.edges) for panel in flat.net.panels]
    outlines = [shapely.Polygon(panel.outline.points(0.01)) for panel in panels]
    assert all(outline.is_valid for outline in outlines)
    assert sorted(round(outline.area, -1) for outline in outlines) == [400, 400, 1800, 1800, 1800]
