"""A header's hole lies clear of the bag that is stapled between its halves."""

from __future__ import annotations

import pytest

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.telling.errors import StyleError


@pytest.mark.parametrize("height", [45, 24])
@pytest.mark.parametrize("hole", ["round", "slot"])
@pytest.mark.parametrize("caliper", [0.2, 0.6, 1.0])
def test_the_hole_misses_the_bag(hole: str, caliper: float, height: float) -> None:
    """It goes through both halves at one place, and leaves 10 mm below it for the bag's top and its
    staples: common practice, no source. A bag 10 mm up between the halves lies below the hole."""
    style = style_named("header-card")
    box = build(style, style.dimensions(length=100, height=height, hole=hole), Card(caliper))
    lowest = [
        min(face.pose.place(at)[2] for each in face.panel.features for at in each.path.points(0.05))
        for face in box.assembly.faces
        if face.panel.features
    ]
    (_, _, floor), _ = box.assembly.boxes[0].bounds

    assert len(lowest) == 2
    assert lowest[0] == pytest.approx(lowest[1], abs=1e-6)
    assert lowest[0] - floor >= 10.0


@pytest.mark.parametrize("hole", ["round", "slot"])
def test_a_hole_that_would_go_through_the_bag_is_refused(hole: str) -> None:
    """Of 45 mm, a hole 7 mm high leaves 10 mm below it with its middle 45 − 10 − 3.5 mm from the
    fold, and no farther."""
    style = style_named("header-card")
    card = Card(0.3, "score")

    style.build(style.dimensions(height=45, hole=hole, punch=7, punch_inset=31.5), card)
    with pytest.raises(StyleError, match=r"goes through the bag; it must be at most 31\.5 mm"):
        style.build(style.dimensions(height=45, hole=hole, punch=7, punch_inset=31.6), card)
