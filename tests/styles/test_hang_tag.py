"""Tags: corners that nobody asked for never stand in the way of a size."""

from __future__ import annotations

import pytest

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named


@pytest.mark.parametrize(
    ("length", "height", "corner"),
    [(45, 80, 11.25), (80, 40, 20), (100, 25, 12.5), (400, 20, 10)],
)
def test_corners_leave_half_of_the_sides(length: float, height: float, corner: float) -> None:
    """A quarter of the length each, so that half of it is left as top, and half of the height."""
    style = style_named("hang-tag")
    box = build(style, style.dimensions(length=length, height=height), Card(0.3))
    (panel,) = box.nets[0].panels

    top = [x for x, y in panel.outline.vertices if y == pytest.approx(height)]
    assert max(top) - min(top) == pytest.approx(length - 2 * corner)
