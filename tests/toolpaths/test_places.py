"""Where lines lie among the cuts."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutlayers.construction.card import Card
from cutlayers.construction.styles import styles
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part
from cutlayers.net import Role, linework
from cutlayers.toolpaths.places import Lines, Region
from tests.toolpaths.shapes import contours, line, polygon

U_SHAPE = Path.polygon([(0, 0), (30, 0), (30, 30), (20, 30), (20, 10), (10, 10), (10, 30), (0, 30)])


@pytest.mark.parametrize(
    ("point", "inside"),
    [((5, 20), True), ((15, 20), False), ((25, 20), True), ((15, 5), True), ((35, 5), False)],
)
def test_inside_a_u_shape(point: tuple[float, float], inside: bool) -> None:
    """Between its legs is outside."""
    assert Region(U_SHAPE).holds(point) is inside


@given(contours(), st.floats(35, 165), st.floats(35, 165))
@settings(max_examples=80, deadline=None)
def test_inside_agrees_with_shapely(path: Path, x: float, y: float) -> None:
    """Either way round, for points that are not on the line."""
    inside = polygon(path)
    assume(inside.exterior.distance(shapely.Point(x, y)) > 0.05)

    assert Region(path).holds((x, y)) == inside.contains(shapely.Point(x, y))
    assert Region(path.reversed()).holds((x, y)) == inside.contains(shapely.Point(x, y))


@given(contours(), st.floats(0.0, 1.0), st.floats(-0.01, 0.01))
@settings(max_examples=80, deadline=None)
def test_points_on_a_line_touch_it(path: Path, share: float, aside: float) -> None:
    """Within a thousandth of a millimetre, and not beyond."""
    at = share * path.length
    (x, y), (dx, dy) = path.point_at(at), path.direction_at(at)
    point = (x - aside * dy, y + aside * dx)
    gap = line(path, 1e-7).distance(shapely.Point(point)) if abs(aside) > 1e-4 else 0.0
    assume(abs(gap - 1e-3) > 1e-4)

    assert Lines([U_SHAPE, path]).touch(point) == (gap < 1e-3)


def test_the_borders_of_a_trays_tabs() -> None:
    """A tray 30 mm high, card 0.3 mm, tabs 12 mm deep and 15° tapered: each tab has two ends of
    12/cos 15° and a top of 30.15 − 2·0.5 − 2·12·tan 15°, since it keeps half a millimetre off both
    ends of its wall; its fold is not a border."""
    (style,) = (each for each in styles() if each.name == "tray")
    (net,) = style.build(style.dimensions(), Card(0.3))
    (outline,) = (each for each in linework(net) if each.part is Part.OUTLINE)
    border = 2 * 12 / math.cos(math.radians(15)) + 29.15 - 24 * math.tan(math.radians(15))

    assert [tab.length for tab in outline.glued] == pytest.approx([border] * 4)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_glued_borders_are_those_of_the_tabs(style: object) -> None:
    """What shapely finds common to the outline and the tabs' own borders, neither more nor less."""
    for net in style.build(style.dimensions(), Card(0.3)):  # type: ignore[attr-defined]
        for stroke in linework(net):
            tabs = [
                polygon(panel.outline).exterior
                for panel in net.panels
                if panel.role is Role.GLUE_TAB
            ]
            near = shapely.union_all(tabs).buffer(1e-4)
            wanted = (
                line(stroke.path).intersection(near).length
                if stroke.part in (Part.OUTLINE, Part.OPENING)
                else 0
            )

            assert sum(tab.length for tab in stroke.glued) == pytest.approx(wanted, abs=0.01)
