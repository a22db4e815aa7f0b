"""Lines on glue tabs, where the glue goes."""

from __future__ import annotations

import pytest

from cutlayers.geometry.transforms import Transform
from cutlayers.net import Net, Role
from cutlayers.net.guides import with_glue_lines
from cutlayers.net.shapes import polygon, rectangle


@pytest.mark.parametrize("turn_deg", [0.0, 45.0, 200.0])
def test_a_glue_line_is_halfway_up_its_tab(turn_deg: float) -> None:
    """However the tab lies. On a right triangle of 40 by 30 mm whose longest edge, 50 mm, is its
    crease, the line is half of the 24 mm of height away, half as long, less 2 mm at each end."""
    turn = Transform.rotation(turn_deg)
    corners = tuple(map(turn.apply, ((0.0, 0.0), (40.0, 0.0), (40.0, 30.0))))
    net = Net.start("net", "tab", polygon(*corners), Role.GLUE_TAB)
    ((line,),) = (panel.features for panel in with_glue_lines(net).panels)
    start, end = line.path.transformed(turn.inverse()).vertices

    assert line.path.length == pytest.approx(25 - 4)
    # Distance from the line through the origin and (40, 30).
    assert [abs(40 * y - 30 * x) / 50 for x, y in (start, end)] == pytest.approx([12, 12])


def test_a_tab_that_is_too_small_has_none() -> None:
    net = Net.start("net", "tab", rectangle(6, 4), Role.GLUE_TAB)

    assert with_glue_lines(net) == net
