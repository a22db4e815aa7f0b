"""Strokes that a drawing has as the areas which they cover. Expected places are the lines that were
made so; the areas are shapely's buffers of these, at ends and corners of every kind."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
import shapely

from cutlayers.bringing.lines import Drawing, DrawnLine, Hints, Scale
from cutlayers.bringing.stroke_outlines import middles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point

CUT, SCORE = Hints(colour="#FF0000"), Hints(colour="#0000FF")

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


def ring(width: float, **ends: str) -> shapely.Geometry:
    return shapely.LinearRing(SHEET).buffer(width / 2, **ends)


def stroke(points: Iterable[Point], width: float, **ends: str) -> shapely.Geometry:
    return shapely.LineString(list(points)).buffer(width / 2, **ends)


@pytest.mark.parametrize("width", [0.1, 0.35, 0.9])
@pytest.mark.parametrize("cap", ["flat", "square", "round"])
@pytest.mark.parametrize("join", ["mitre", "round", "bevel"])
def test_a_border_and_a_crease_come_back(width: float, cap: str, join: str) -> None:
    """A crease's ends within what its caps add, half of its width."""
    border = ring(width, join_style=join)
    crease = stroke([(30, 0), (30, 50)], width, cap_style=cap)
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
    united = shapely.union(
        ring(0.3, join_style="mitre"), stroke([(30, 0), (30, 50)], 0.3, cap_style="flat")
    )
    found, count = middles(drawing((united, CUT)))

    assert count == 3
    assert [each for each in paths(found) if each != set(SHEET)] in (
        [{(0, 0), (30, 0), (30, 50), (0, 50)}, {(30, 0), (90, 0), (90, 50), (30, 50)}],
        [{(30, 0), (90, 0), (90, 50), (30, 50)}, {(0, 0), (30, 0), (30, 50), (0, 50)}],
    )


def test_a_stroke_with_bends_comes_back() -> None:
    bent = [(20.0, 0.0), (20.0, 20.0), (30.0, 30.0), (20.0, 40.0)]
    crease = stroke(bent, 0.4, cap_style="flat", join_style="mitre")
    found, count = middles(drawing((ring(0.4, join_style="mitre"), CUT), (crease, SCORE)))

    assert count == 3
    assert corners(found.lines[1].path) == set(bent)


def test_slots_in_card_stay() -> None:
    """0.6 mm wide, in an outline that is a line."""
    slots = [(shapely.box(10, y, 70, y + 0.6), CUT) for y in range(5, 45, 2)]
    drawn = drawing((shapely.Polygon(SHEET), CUT), *slots)

    assert middles(drawn) == (drawn, 0)


def test_a_narrow_frame_of_card_stays() -> None:
    """3 mm wide: no stroke."""
    drawn = drawing((ring(3.0, join_style="mitre"), CUT))

    assert middles(drawn) == (drawn, 0)
