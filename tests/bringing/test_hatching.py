"""Lines that are no net at all, laid close: nothing breaks, whatever is made of them."""

from __future__ import annotations

import random

import pytest

from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.kinds import meant
from cutlayers.bringing.lines import Drawing, DrawnLine, Hints, Scale
from cutlayers.bringing.panels import flat_nets
from cutlayers.bringing.rules import Rules
from cutlayers.geometry.paths import Path


@pytest.mark.parametrize("seed", [3, 12, 22])
def test_a_hatch_of_lines_that_nearly_lie_on_each_other(seed: int) -> None:
    """Some of the faces between them have no area that a double can tell."""
    chance = random.Random(seed)
    lines = []
    for number in range(1, 401):
        x, y = round(chance.random() * 25.938, 3), round(chance.random() * 16.994, 3)
        lines.append(DrawnLine(Path.line((x, y), (x + 5, y + 3)), Hints(), number))

    found = meant(Drawing(tuple(lines), Scale(1.0, "said")), Rules())
    flat_nets(clean(found).edges)

    assert {each.line.number for each in found} == set(range(1, 401))
