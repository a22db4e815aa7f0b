"""Nodes: which points are one."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.net.chains import Nodes

TOLERANCE = 1e-6


@settings(max_examples=300)
@given(
    st.floats(-2000, 2000),
    st.floats(-2000, 2000),
    st.floats(0, 2 * math.pi),
    st.floats(0.0, 0.99) | st.floats(1.01, 50),
)
def test_points_are_one_within_the_tolerance_and_only_there(
    x: float, y: float, angle: float, apart: float
) -> None:
    """Wherever the two lie, in whichever direction from each other."""
    other = (
        x + apart * TOLERANCE * math.cos(angle),
        y + apart * TOLERANCE * math.sin(angle),
    )
    nodes = Nodes(TOLERANCE)

    assert nodes.find((x, y)) == 0
    assert nodes.find(other) == (0 if math.dist((x, y), other) <= TOLERANCE else 1)


def test_neighbours_on_either_side_of_a_cell_s_rim_are_one() -> None:
    """Every hundredth of the tolerance over two cells' width, across and upwards."""
    for step in range(800):
        at = step * TOLERANCE / 100
        for here, there in (((at, 0.0), (at + 9e-7, 0.0)), ((0.0, at), (0.0, at + 9e-7))):
            nodes = Nodes(TOLERANCE)

            assert nodes.find(here) == nodes.find(there)


def test_nodes_are_numbered_as_they_are_met() -> None:
    """The first point of a node is the one that stands for it."""
    nodes = Nodes(TOLERANCE)

    numbers = [nodes.find(point) for point in ((1.0, 1.0), (2.0, 2.0), (1.0, 1.0 + 5e-7))]

    assert numbers == [0, 1, 0]
    assert nodes.points == [(1.0, 1.0), (2.0, 2.0)]
