"""A header's hole lies clear of the bag that is stapled between its halves."""

from __future__ import annotations

import pytest

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named


@pytest.mark.parametrize("hole", ["round", "slot"])
@pytest.mark.parametrize("caliper", [0.2, 0.6, 1.0])
def test_the_hole_misses_the_bag(hole: str, caliper: float) -> None:
    """It goes through both halves at one place, and leaves 10 mm below it for the bag's top and its
    staples: common practice, no source. A bag 10 mm up between the halves lies below the hole."""
    style = style_named("header-card")
    box = build(style, style.dimensions(length=100, height=45, hole=hole), Card(caliper))
    lowest = [
        min(face.pose.place(at)[2] for each in face.panel.features for at in each.path.points(0.05))
        for face in box.assembly.faces
        if face.panel.features
    ]
    (_, _, floor), _ = box.assembly.boxes[0].bounds

    assert len(lowest) == 2
    assert lowest[0] == pytest.approx(lowest[1], abs=1e-6)
    assert lowest[0] - floor >= 10.0
