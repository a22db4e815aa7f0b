"""Strokes that a drawing has as the areas which they cover. Expected places are the lines that were
made so; the areas are shapely's buffers of these, at ends and corners of every kind."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, get_args

import pytest
import shapely

from cutlayers.bringing.lines import Drawing, DrawnLine, Hints, Scale
from cutlayers.bringing.stroke_outlines import middles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point

CUT, SCORE = Hints(colour="#FF0000"), Hints(colour="#0000FF")

Cap = Literal["flat", "square", "round"]
Join = Literal["mitre", "round", "bevel"]

SHEET = ((0.0, 0.0), (90.0, 0.0), (90.0, 50.0), (0.0, 50.0))


def drawing(*shapes: tuple[shapely.Geometry, Hints]) -> Drawing:
    """All borders of some areas, each a closed line, in the order of a file."""
    lines: list[DrawnLine] = []
    for shape, hints in shapes:
        assert isinstance(shape, shapely.Polygon)
        for ring in (shape.exterior, *shape.interiors):
            lines.append(DrawnLine(Path.polygon(ring.coords[:-1]), hints, len(lines) + 1))
    return Drawing(tuple(lines), Scale(1.0, "said"))


def corners(path: Path) -> set[Point]:
    return {(round(x, 2) + 0.0, round(y, 2) + 0.0) for x, y in path.vertices}


def paths(found: Drawing) -> list[set[Point]]:
    return [corners(line.path) for line in found.lines]


def ring(width: float, join: Join = "mitre") -> shapely.Geometry:
    return shapely.LinearRing(SHEET).buffer(width / 2, join_style=join)


def stroke(points: Iterable[Point], width: float, cap: Cap = "flat") -> shapely.Geometry:
    return shapely.LineString(list(points)).buffer(width / 2, cap_style=cap, join_style="mitre")


@pytest.mark.parametrize("width", [0.1, 0.35, 0.9])
@pytest.mark.parametrize("cap", get_args(Cap))
@pytest.mark.parametrize("join", get_args(Join))
def test_a_border_and_a_crease_come_back(width: float, cap: Cap, join: Join) -> None:
    """A crease's ends within what its caps add, half of its width."""
    border = ring(width, join)
    crease = stroke([(30, 0), (30, 50)], width, cap)
    found, count = middles(drawing((border, CUT), (crease, SCORE)))

    assert count == 3
    outline, line = (each.path for each in found.lines)
    assert shapely.Polygon(outline.points(0.01)).symmetric_difference(
        shapely.Polygon(SHEET)
    ).area <= 0.01 + 4 * (0 if join == "mitre" else width**2)
    assert {round(x, 6) for x, _ in line.vertices} == {30.0}
    assert sorted(y for _, y in line.vertices) == pytest.approx([0, 50], abs=width / 2 + 1e-6)
    assert [each.number for each in found.lines] == [1, 3]


def test_strokes_made_one_area_come_back_as_the_borders_of_panels() -> None:
    """A program that unites all strokes leaves nothing but the areas between them."""
    united = shapely.union(ring(0.3), stroke([(30, 0), (30, 50)], 0.3))
    found, count = middles(drawing((united, CUT)))

    assert count == 3
    assert [each for each in paths(found) if each != set(SHEET)] in (
        [{(0, 0), (30, 0), (30, 50), (0, 50)}, {(30, 0), (90, 0), (90, 50), (30, 50)}],
        [{(30, 0), (90, 0), (90, 50), (30, 50)}, {(0, 0), (30, 0), (30, 50), (0, 50)}],
    )


def test_a_stroke_with_bends_comes_back() -> None:
    bent = [(20.0, 0.0), (20.0, 20.0), (30.0, 30.0), (20.0, 40.0)]
    crease = stroke(bent, 0.4)
    found, count = middles(drawing((ring(0.4), CUT), (crease, SCORE)))

    assert count == 3
    assert corners(found.lines[1].path) == set(bent)


def test_slots_in_card_stay() -> None:
    """0.6 mm wide, in an outline that is a line."""
    slots = [(shapely.box(10, y, 70, y + 0.6), CUT) for y in range(5, 45, 2)]
    drawn = drawing((shapely.Polygon(SHEET), CUT), *slots)

    assert middles(drawn) == (drawn, 0)


def test_a_narrow_frame_of_card_stays() -> None:
    """3 mm wide: no stroke."""
    drawn = drawing((ring(3.0), CUT))

    assert middles(drawn) == (drawn, 0)


def test_an_outline_that_is_there_twice_stays() -> None:
    """0.4 mm apart, with creases that are lines: what is not known is left as it is."""
    twice = drawing((ring(0.4), CUT))
    creases = [
        DrawnLine(Path.line((x, 0.0), (x, 50.0)), SCORE, number)
        for number, x in enumerate((20.0, 45.0, 70.0), start=3)
    ]
    drawn = Drawing((*twice.lines, *creases), twice.scale)

    assert middles(drawn) == (drawn, 0)


def test_rings_in_rings_take_no_time() -> None:
    """More closed lines than can be looked at."""
    point = shapely.Point(0, 0)
    drawn = drawing(*((point.buffer(r / 10, quad_segs=1), CUT) for r in range(1, 2102)))

    assert middles(drawn) == (drawn, 0)
