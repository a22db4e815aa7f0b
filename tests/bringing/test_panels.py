"""Panels and hinges from cleaned lines. Expected areas are those of the rectangles drawn."""

from __future__ import annotations

import math

import pytest

from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.lines import DrawnText, Kind
from cutlayers.bringing.panels import FlatNet, flat_nets
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.net import linework
from cutlayers.net.features import Work
from cutlayers.telling.errors import NetError
from tests.bringing.drawn import box, cuts, meant, scores

Lines = list[tuple[Kind, Path]]

OUTLINE = box(0, 0, 100, 50)
CREASED = [*OUTLINE, *scores(((30, 0), (30, 50)))]


def nets(lines: Lines, *texts: DrawnText) -> tuple[FlatNet, ...]:
    """Cleaned, and every net one that lines can be derived of again."""
    found = flat_nets(clean(meant(lines)).edges, texts)
    for each in found:
        linework(each.net)
        assert len(each.given) == len(each.net.hinges)
    return found


def panels(net: FlatNet) -> dict[str, float]:
    """Areas by name."""
    return {panel.name: round(panel.outline.area, 6) for panel in net.net.panels}


def hinges(net: FlatNet) -> list[tuple[str, str, float]]:
    """Both panels and the length of each hinge."""
    return [(each.first, each.second, round(each.edge.length, 6)) for each in net.net.hinges]


def test_an_outline_is_a_panel() -> None:
    """One that nothing is hinged to."""
    (net,) = nets(OUTLINE)

    assert panels(net) == {"panel 1": 5000}
    assert net.net.panels[0].outline.vertices[0] in {(0, 0), (100, 0), (100, 50), (0, 50)}
    assert len(net.net.panels[0].edges) == 4


def test_nothing_encloses_nothing() -> None:
    """No lines, and lines without a face."""
    assert nets([]) == ()
    assert nets(cuts(((0, 0), (10, 0)))) == ()


def test_a_crease_between_two_panels_is_a_hinge() -> None:
    """It runs with the first panel on its left, and is flat."""
    (net,) = nets(CREASED)

    assert panels(net) == {"panel 1": 1500, "panel 2": 3500}
    assert hinges(net) == [("panel 1", "panel 2", 50)]
    hinge = net.net.hinges[0]
    assert (hinge.edge.start, hinge.edge.end) == ((30, 0), (30, 50))
    assert (hinge.fold_deg, hinge.operation) == (0, Operation.SCORE)
    assert net.given == (None,)


def test_a_perforated_crease_stays_perforated() -> None:
    """Its operation is what is done there."""
    (net,) = nets([*OUTLINE, (Kind.PERFORATE, Path.line((30, 0), (30, 50)))])

    assert [hinge.operation for hinge in net.net.hinges] == [Operation.PERFORATE]


def test_panels_cut_apart_are_two_nets() -> None:
    """Along one common line, each of two panels."""
    lines = [*CREASED, *cuts(((0, 25), (100, 25)))]
    upper, lower = nets(lines)

    assert upper.net.name == "net 1"
    assert panels(upper) == panels(lower) == {"panel 1": 750, "panel 2": 1750}
    assert upper.net.bounds == (0, 25, 100, 50)


def test_a_cut_between_panels_hinged_elsewhere_leaves_one_net() -> None:
    """Four panels, one of the four borders cut."""
    lines = [*CREASED, *cuts(((0, 25), (30, 25))), *scores(((30, 25), (100, 25)))]
    (net,) = nets(lines)

    assert len(net.net.panels) == 4
    assert len(net.net.hinges) == 3


def test_holes_and_windows() -> None:
    """Round ones are punched; a window may have a loose piece in it, which is a net."""
    circle = (Kind.CUT, Path.circle((70, 25), 5))
    lines = [*CREASED, circle, *box(5, 5, 25, 45), *box(10, 10, 20, 20)]
    net, piece = nets(lines)

    assert panels(net) == {"panel 1": 1500, "panel 2": 3500}
    (window,), (hole,) = (panel.features for panel in net.net.panels)
    assert (window.work, window.path.area) == (Work.WINDOW, 800)
    assert (hole.work, hole.path) == (Work.PUNCH, Path.circle((70, 25), 5))
    assert panels(piece) == {"panel 1": 100}


def test_two_holes_that_share_an_edge_are_one_opening() -> None:
    """What lies inside falls out either way."""
    (net,) = nets([*OUTLINE, *box(10, 10, 20, 20), *box(20, 10, 40, 20)])

    (window,) = net.net.panels[0].features
    assert window.path.area == pytest.approx(300)


def test_a_hole_that_touches_the_outline_in_a_point_is_a_hole() -> None:
    """The outline passes no point twice."""
    corners = [(50.0, 0.0), (60.0, 10.0), (50.0, 20.0), (40.0, 10.0)]
    (net,) = nets([*OUTLINE, (Kind.CUT, Path.polygon(corners))])

    assert panels(net) == {"panel 1": 5000}
    assert [each.path.area for each in net.net.panels[0].features] == [pytest.approx(200)]


def test_a_window_across_a_crease_lies_between_panels() -> None:
    """The crease ends at it on both sides, two hinges of 10 mm."""
    lines = [*OUTLINE, *scores(((30, 0), (30, 10)), ((30, 40), (30, 50))), *box(20, 10, 40, 40)]
    (net,) = nets(lines)

    assert panels(net) == {"panel 1": 1200, "panel 2": 3200}
    assert [length for *_, length in hinges(net)] == [10, 10]


def test_a_tag_amid_others_is_no_hole() -> None:
    """Nine tags cut from one sheet along common lines."""
    lines = box(0, 0, 30, 30)
    lines += cuts(*(((x, 0.0), (x, 30.0)) for x in (10.0, 20.0)))
    lines += cuts(*(((0.0, y), (30.0, y)) for y in (10.0, 20.0)))

    found = nets(lines)
    assert [panels(net) for net in found] == [{"panel 1": 100}] * 9
    assert [net.net.bounds[:2] for net in found[:4]] == [(0, 20), (10, 20), (20, 20), (0, 10)]


def test_a_frame_round_a_net_is_no_panel() -> None:
    """The edge of a sheet, drawn as a cut, with a box and a tag on it."""
    net, tag = nets([*box(-20, -20, 200, 80), *CREASED, *box(120, 0, 150, 50)])

    assert len(net.net.panels) == 2
    assert panels(tag) == {"panel 1": 1500}


def test_slits_tears_and_guides_lie_on_their_panels() -> None:
    """An open cut of two lines is one slit; a crease that divides nothing is told."""
    lines = [
        *CREASED,
        *cuts(((40, 20), (60, 20)), ((60, 20), (60, 30))),
        (Kind.PERFORATE, Path.line((70, 20), (90, 20))),
        (Kind.DRAW, Path.line((5, 10), (25, 10))),
        *scores(((10, 15), (20, 15))),
    ]
    (net,) = nets(lines)

    left, right = net.net.panels
    assert [(each.work, each.path.length) for each in left.features] == [(Work.GUIDE, 20)]
    assert [(each.work, each.path.length) for each in right.features] == [
        (Work.SLIT, 30),
        (Work.TEAR, 20),
    ]
    assert [edge.segment.start for edge in net.left] == [(10, 15)]


def test_a_slit_from_the_outline_divides_nothing() -> None:
    """It begins on the border and ends inside."""
    (net,) = nets([*OUTLINE, *cuts(((30, 0), (30, 20)))])

    assert panels(net) == {"panel 1": 5000}
    assert [each.work for each in net.net.panels[0].features] == [Work.SLIT]


def test_a_slit_between_two_holes_divides_nothing() -> None:
    """It is cut on both sides by one panel."""
    lines = [*OUTLINE, *box(10, 10, 20, 20), *box(40, 10, 50, 20), *cuts(((20, 15), (40, 15)))]
    (net,) = nets(lines)

    works = sorted(each.work.value for each in net.net.panels[0].features)
    assert works == ["slit", "window", "window"]


def test_a_curved_crease_is_one_hinge() -> None:
    """Its arc is that of both panels."""
    bulge = math.tan(math.pi / 8)
    crease = Path(((30.0, 0.0), (30.0, 50.0)), (bulge,), closed=False)
    (net,) = nets([*OUTLINE, (Kind.SCORE, crease)])

    slice_ = (50 / math.sqrt(2)) ** 2 * (math.pi / 2 - 1) / 2
    assert panels(net) == {
        "panel 1": pytest.approx(1500 + slice_),
        "panel 2": pytest.approx(3500 - slice_),
    }
    assert [abs(hinge.edge.bulge) for hinge in net.net.hinges] == [pytest.approx(bulge)]


def test_a_crease_that_others_end_on_is_one_hinge_for_each_pair() -> None:
    """The long panel on its right folds against two."""
    (net,) = nets([*CREASED, *scores(((0, 25), (30, 25)))])

    assert sorted(length for *_, length in hinges(net)) == [25, 25, 30]
    assert len(net.net.panel("panel 2").edges) == 4


def test_panels_are_named_in_reading_order() -> None:
    """The top row first, from left to right, whatever the order of lines."""
    crossed = [*CREASED, *scores(((0, 20), (100, 20)))]
    for lines in (crossed, crossed[::-1]):
        (net,) = nets(lines)
        assert panels(net) == {"panel 1": 900, "panel 2": 2100, "panel 3": 600, "panel 4": 1400}


def test_a_text_names_the_panel_it_stands_on() -> None:
    """If it is the only one there, and no number."""
    lid, deep = DrawnText("  the\nlid ", (15, 25)), DrawnText("90", (60, 25))
    (net,) = nets(CREASED, lid, deep)
    (other,) = nets(CREASED, lid, DrawnText("top", (20, 10)))

    assert list(panels(net)) == ["the lid", "panel 2"]
    assert list(panels(other)) == ["panel 1", "panel 2"]


def test_a_pattern_of_squares_is_refused() -> None:
    """72 × 72 squares of 71 lines and a border either way: 5184 areas."""
    grid = cuts(*(((at, 0), (at, 720)) for at in range(0, 721, 10)))
    grid += cuts(*(((0, at), (720, at)) for at in range(0, 721, 10)))
    with pytest.raises(NetError, match="enclose 5,184 areas"):
        nets(grid)
