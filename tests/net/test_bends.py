"""A panel that bends from one layer to another without a crease."""

from __future__ import annotations

import pytest

from cutlayers.geometry.segments import Segment
from cutlayers.net import Net
from cutlayers.net.bends import Ramp, bent, ramp_length, ramp_reach
from cutlayers.net.folding import fold
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.telling.errors import NetError


def test_what_lies_beyond_a_ramp_is_moved_and_drawn_in() -> None:
    """Worked by hand: a ramp 5 mm long that rises 3 mm reaches 4 mm along (3, 4, 5)."""
    net = Net.start("strip", "strip", rectangle(50, 20))
    ramp = Ramp("strip", Segment((20, 0), (20, 20)), Segment((25, 0), (25, 20)), 3.0)

    folded = fold(bent(net, ramp))

    assert folded.place("strip end", (25, 10)) == pytest.approx((24, 10, -3))
    assert folded.place("strip end", (50, 10)) == pytest.approx((49, 10, -3))
    assert folded.normal("strip end") == pytest.approx((0, 0, 1))
    assert sum(panel.outline.area for panel in folded.net.panels) == pytest.approx(1000)


def test_a_ramp_need_not_go_all_across_where_the_outline_is_cut_in() -> None:
    shape = polygon((0, 0), (50, 0), (50, 10), (20, 10), (20, 20), (0, 20))
    net = Net.start("strip", "strip", shape)
    ramp = Ramp("strip", Segment((20, 0), (20, 10)), Segment((25, 0), (25, 10)), -3.0)

    panels = {panel.name: panel.outline.area for panel in bent(net, ramp).panels}

    assert panels == pytest.approx({"strip": 400, "strip bend": 50, "strip end": 250})


def test_a_ramp_is_as_long_as_30_degrees_need_it() -> None:
    """sin 30° = ½."""
    long = ramp_length(2, 1.5, 0.0)
    assert long == pytest.approx(6.0)
    assert ramp_reach(long, 3.0) == pytest.approx(6.0 * 3**0.5 / 2)


def test_a_ramp_shorter_than_it_rises_is_refused() -> None:
    net = Net.start("strip", "strip", rectangle(50, 20))
    ramp = Ramp("strip", Segment((20, 0), (20, 20)), Segment((22, 0), (22, 20)), 3.0)
    with pytest.raises(NetError, match="cannot rise 3 mm over 2 mm"):
        bent(net, ramp)


def test_a_ramp_that_ends_inside_of_its_panel_is_refused() -> None:
    net = Net.start("strip", "strip", rectangle(50, 20))
    ramp = Ramp("strip", Segment((20, 0), (20, 15)), Segment((25, 0), (25, 20)), 1.0)
    with pytest.raises(NetError, match="does not end on the border"):
        bent(net, ramp)
